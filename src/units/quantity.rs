//! A quantity read from text.

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
}

impl QuantityError {
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
                "write one decimal number and its unit, no fraction and no blank within the number, such as \"10.25 {}\"",
                first_symbol(wanted)
            ),
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

fn named(kind: Kind) -> &'static str {
    kind.with_article()
}

fn first_symbol(kind: Kind) -> &'static str {
    kind.units().next().map_or("", |unit| unit.symbol)
}

/// A quantity such as `7.4 kg`, in SI.
///
/// Blanks count for nothing between number and unit or within the unit; `·`, `*` and `-` may
/// join units, `²` may be written `2` or `^2`; capitals matter only where they tell two units
/// of one kind apart.
///
/// # Errors
/// See [`QuantityError`].
pub fn parse(text: &str, wanted: Kind) -> Result<f64, QuantityError> {
    let read = text.trim();
    if read.is_empty() {
        return Err(QuantityError::Empty);
    }
    let quoted = || quote(read);
    let length = number_length(read);
    let (number, rest) = read.split_at(length);
    let rest = rest.trim_start();
    let Ok(value) = number.replace('−', "-").parse::<f64>() else {
        return Err(no_number(read));
    };
    if !value.is_finite() {
        return Err(QuantityError::NotFinite { read: quoted() });
    }
    if let Some(error) = broken_number(read, rest) {
        return Err(error);
    }
    if rest.is_empty() {
        return Err(QuantityError::NoUnit { read: quoted() });
    }
    let unit = find_unit(rest, wanted).ok_or_else(|| unknown_unit(read, rest, wanted))?;
    let si = unit.to_si(value);
    if si.is_finite() {
        Ok(si)
    } else {
        Err(QuantityError::NotFinite { read: quoted() })
    }
}

fn no_number(read: &str) -> QuantityError {
    let word = read.trim_start_matches(['+', '-']).to_ascii_lowercase();
    let read = quote(read);
    if word.starts_with("nan") || word.starts_with("inf") {
        QuantityError::NotFinite { read }
    } else {
        QuantityError::NoNumber { read }
    }
}

fn broken_number(read: &str, rest: &str) -> Option<QuantityError> {
    let mut after = rest.chars();
    let first = after.next()?;
    let second = after.next();
    if first == ',' && second.is_some_and(|c| c.is_ascii_digit()) {
        let decimals = rest
            .chars()
            .skip(1)
            .take_while(char::is_ascii_digit)
            .count();
        return Some(QuantityError::Comma {
            read: quote(read),
            with_point: quote(&read.replacen(',', ".", 1)),
            without: (decimals == 3).then(|| quote(&read.replacen(',', "", 1))),
        });
    }
    (first.is_ascii_digit()
        || matches!(first, '.' | ',' | '/' | '-' | '+' | '\'' | '½' | '¼' | '¾'))
    .then(|| QuantityError::BrokenNumber { read: quote(read) })
}

/// Bytes of the number that a text begins with.
fn number_length(text: &str) -> usize {
    let mut length = 0;
    let digits = |from: &str| -> usize { from.chars().take_while(char::is_ascii_digit).count() };
    let after = |length: usize| text.get(length..).unwrap_or_default();
    if let Some(sign) = text.chars().next().filter(|c| matches!(c, '+' | '-' | '−')) {
        length += sign.len_utf8();
    }
    length += digits(after(length));
    if after(length).starts_with('.') {
        length += 1 + digits(after(length + 1));
    }
    if after(length).starts_with(['e', 'E']) {
        let sign = usize::from(after(length + 1).starts_with(['+', '-']));
        let exponent = digits(after(length + 1 + sign));
        if exponent > 0 {
            length += 1 + sign + exponent;
        }
    }
    length
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

fn find_unit(text: &str, wanted: Kind) -> Option<&'static Unit> {
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

fn unknown_unit(read: &str, unit: &str, wanted: Kind) -> QuantityError {
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

/// What was read, cut where it would fill the screen.
pub(crate) fn quote(read: &str) -> String {
    /// Characters that an error repeats at most.
    const MOST: usize = 40;
    let clean: String = read
        .chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .take(MOST)
        .collect();
    if read.chars().nth(MOST).is_some() {
        format!("{clean}…")
    } else {
        clean
    }
}
