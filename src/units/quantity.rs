//! A quantity read from text.

use super::echo::quote;
use super::{Kind, UNITS, Unit};
use thiserror::Error;

/// Why a text is no quantity of the kind wanted. The message says what is wrong with what was
/// read; [`QuantityError::hint`] says what would be right.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum QuantityError {
    /// Nothing there.
    #[error("this is empty")]
    Empty,
    /// No number at the start.
    #[error("\"{read}\" does not begin with a number")]
    NoNumber {
        /// What was read.
        read: String,
    },
    /// A comma inside the number.
    #[error("\"{read}\" has a comma in its number")]
    Comma {
        /// What was read.
        read: String,
        /// The same with a point.
        with_point: String,
        /// The same without the comma, where it may mark thousands.
        without: Option<String>,
    },
    /// A fraction, a blank inside the number, two points.
    #[error("\"{read}\" has something between its number and its unit")]
    BrokenNumber {
        /// What was read.
        read: String,
    },
    /// Not a finite number.
    #[error("\"{read}\" is not a finite number")]
    NotFinite {
        /// What was read.
        read: String,
    },
    /// No unit.
    #[error("\"{read}\" has no unit")]
    NoUnit {
        /// What was read.
        read: String,
    },
    /// A unit that nobody knows.
    #[error("\"{unit}\" is no unit that is known here")]
    UnknownUnit {
        /// The unit read.
        unit: String,
        /// The nearest known one of the kind wanted.
        nearest: Option<&'static str>,
    },
    /// A unit of another kind.
    #[error("\"{read}\" is {}, and {} is wanted here", found.with_article(), wanted.with_article())]
    OtherKind {
        /// What was read.
        read: String,
        /// What it is.
        found: Kind,
        /// What is wanted.
        wanted: Kind,
    },
    /// A unit behind a bare number.
    #[error("\"{read}\" has \"{unit}\" behind its number, and a bare number is wanted here")]
    NoUnitWanted {
        /// What was read.
        read: String,
        /// What stands behind the number.
        unit: String,
    },
    /// A share where a quantity is wanted.
    #[error("\"{read}\" is a share")]
    ShareNotWanted {
        /// What was read.
        read: String,
    },
    /// Nothing behind a ±.
    #[error("nothing stands behind the ±")]
    NoHalfWidth,
    /// A ± that is below zero.
    #[error("\"{read}\" has less than nothing behind its ±")]
    HalfWidthBelowZero {
        /// What was read.
        read: String,
    },
    /// Value and ± in measures that do not go together.
    #[error("\"{read}\": value and ± do not go together")]
    MixedDoubt {
        /// What was read.
        read: String,
    },
    /// `a to b` with `a` not below `b`.
    #[error("\"{read}\": the first end is not below the second")]
    EndsNotRising {
        /// What was read.
        read: String,
    },
}

impl QuantityError {
    /// What would be right, for a bare number.
    pub fn number_hint(&self) -> String {
        match self {
            Self::NoHalfWidth
            | Self::HalfWidthBelowZero { .. }
            | Self::MixedDoubt { .. }
            | Self::EndsNotRising { .. } => doubt_hint(""),
            Self::Comma {
                with_point,
                without: Some(without),
                ..
            } => format!("the decimal mark is a point and thousands take no mark: \"{with_point}\" or \"{without}\""),
            _ => "write a bare number such as 0.80; in quotes also a share \"80 %\", a ratio \"3.9:1\" or a doubt \"0.80 ± 0.05\"".to_owned(),
        }
    }

    /// What would be right, for a quantity of this kind.
    pub fn hint(&self, wanted: Kind) -> String {
        let units = wanted.units_in_words();
        match self {
            Self::Comma {
                with_point,
                without,
                ..
            } => match without {
                Some(without) => format!(
                    "the decimal mark is a point and thousands take no mark: \"{with_point}\" or \"{without}\""
                ),
                None => format!("the decimal mark is a point: \"{with_point}\""),
            },
            Self::BrokenNumber { .. } => format!(
                "write one number and its unit, without a blank or a mark for thousands in the number: \"1200 {0}\", \"10.25 {0}\", or a fraction such as \"10 1/4 in\"",
                first_symbol(wanted)
            ),
            Self::NoHalfWidth
            | Self::HalfWidthBelowZero { .. }
            | Self::MixedDoubt { .. }
            | Self::EndsNotRising { .. } => doubt_hint(first_symbol(wanted)),
            Self::UnknownUnit {
                nearest: Some(nearest),
                ..
            } => format!("did you mean {nearest}? {} takes {units}", named(wanted)),
            Self::NotFinite { .. } => {
                format!("write an ordinary number and its unit: {units}")
            }
            _ => format!("{} takes a number and its unit: {units}", named(wanted)),
        }
    }
}

fn doubt_hint(unit: &str) -> String {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    format!(
        "a doubt is written \"20{unit} ± 1{unit}\" (what you would bet 19 to 1 on), \"20{unit} ± 5 %\", \"19 to 21{unit}\" or \"20{unit} exactly\""
    )
}

fn named(kind: Kind) -> &'static str {
    kind.with_article()
}

fn first_symbol(kind: Kind) -> &'static str {
    super::System::Metric.unit(kind).symbol
}

/// The unit's letters and digits, joined as the table of spellings joins them.
fn joined(unit: &str) -> String {
    let mut out = String::new();
    for c in unit.chars() {
        match c {
            '·' | '⋅' | '∙' | '•' | '*' | '×' | '.' | '^' | '_' | '-' | '‑' | '–' | '−' | '⁻'
            | '(' | ')' => {}
            '²' => out.push('2'),
            '³' => out.push('3'),
            '¹' => out.push('1'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°C"),
            '℉' => out.push_str("°F"),
            c if c.is_whitespace() => {}
            c => out.push(c),
        }
    }
    out
}

fn spells(unit: &Unit, text: &str, same: fn(&str, &str) -> bool) -> bool {
    same(&joined(unit.symbol), text) || unit.spellings.iter().any(|s| same(s, text))
}

pub(super) fn find_unit(text: &str, wanted: Kind) -> Option<&'static Unit> {
    let text = joined(text);
    let exact = |a: &str, b: &str| a == b;
    let loose = |a: &str, b: &str| a.to_lowercase() == b.to_lowercase();
    wanted
        .units()
        .find(|unit| spells(unit, &text, exact))
        .or_else(|| {
            let mut close = wanted.units().filter(|unit| spells(unit, &text, loose));
            close.next().filter(|_| close.next().is_none())
        })
}

/// Letters that may differ between a slip and what was meant.
const SLIPS: usize = 2;

pub(super) fn unknown_unit(read: &str, unit: &str, wanted: Kind) -> QuantityError {
    let text = joined(unit);
    if let Some(other) = UNITS.iter().find(|u| spells(u, &text, |a, b| a == b)) {
        return QuantityError::OtherKind {
            read: quote(read),
            found: other.kind,
            wanted,
        };
    }
    let nearest = wanted
        .units()
        .map(|u| (strsim::damerau_levenshtein(&joined(u.symbol), &text), u))
        .filter(|(slips, u)| *slips <= SLIPS && *slips < joined(u.symbol).chars().count())
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, u)| u.symbol);
    QuantityError::UnknownUnit {
        unit: quote(unit),
        nearest,
    }
}
