//! What is declared of one key.

pub use crate::sheet::usual_doubt::UsualDoubt;
use crate::units::{Kind, System};
use std::fmt;

/// One key of the sheet: all that is known of it before a sheet is read.
#[derive(Debug, PartialEq)]
pub struct Key {
    /// Its name, as it stands before the `=`.
    pub name: &'static str,
    /// What it holds.
    pub form: Form,
    /// The least and the most that it may be, SI; beyond them no car is described, or none that
    /// can be computed. `None` where it holds no number.
    pub hard: Option<Bounds>,
    /// What is usual, SI; beyond it the sheet is used and the value is told as a warning.
    /// Common practice, no source, save where a key's file says otherwise.
    pub usual: Option<Bounds>,
    /// What stands for it where the sheet leaves it out.
    pub when_absent: WhenAbsent,
    /// What it is, in words for somebody who has never seen a sheet.
    pub words: &'static str,
    /// How to come by it.
    pub how: &'static str,
    /// A value as it would be written, for messages.
    pub example: &'static str,
    /// What else people call it: for hints alone, never read.
    pub also_called: &'static [&'static str],
    /// How far a value of it that is stated without doubt, or taken as a default, may be off.
    pub usual_doubt: Option<UsualDoubt>,
    /// Whether the sheet may say "unknown" of it.
    pub may_be_unknown: bool,
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

/// What a key holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// A number with its unit.
    Quantity(Kind),
    /// A bare number: a share, a ratio, a coefficient.
    Number,
    /// A whole number.
    Count,
    /// A text.
    Text,
    /// The name of a file that lies beside the sheet; a range is of what the file says.
    File(Option<Kind>),
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// True or false.
    Flag,
    /// A list of bare numbers.
    Numbers,
    /// A list of two quantities, the lower first.
    Between(Kind),
    /// A list of points, each a time and a share; a range is of the times.
    Points,
    /// A metal by name, or a table of its properties.
    Metal(&'static [&'static str]),
    /// A table in braces.
    Table,
    /// A list of tables in braces.
    Tables,
    /// A section with its header in brackets.
    Section,
    /// A section that may come again, with double brackets.
    Sections,
}

impl Form {
    /// What its numbers measure, where they have a unit.
    pub const fn kind(self) -> Option<Kind> {
        match self {
            Self::Quantity(kind) | Self::Between(kind) | Self::File(Some(kind)) => Some(kind),
            Self::Points => Some(Kind::Time),
            _ => None,
        }
    }
}

/// A least and a most, SI, both of them allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
}

impl Bounds {
    /// Whether a value lies within.
    pub fn hold(self, si: f64) -> bool {
        (self.low..=self.high).contains(&si)
    }

    /// The range in words, under a mark: `must be from 20 kg to 20000 kg`.
    pub(crate) fn must_be(self, kind: Option<Kind>) -> String {
        format!("must be from {}", self.shown(kind, System::Metric))
    }

    /// `20 kg to 20000 kg`, or `0 to 1` where there is no unit.
    pub fn shown(self, kind: Option<Kind>, system: System) -> String {
        let end = |si| match kind {
            Some(kind) => system.brief(si, kind),
            None => crate::units::plain(si),
        };
        format!("{} to {}", end(self.low), end(self.high))
    }
}

/// What stands for a key where the sheet leaves it out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WhenAbsent {
    /// Nothing: the key is asked for.
    Needed,
    /// Nothing: it or another key that says the same thing is asked for; the words say which.
    ThisOr(&'static str),
    /// Nothing, and none is missed, or another key stands in; the words say which.
    None(&'static str),
    /// A value, SI, and its reason.
    Value(f64, &'static str),
    /// A word, and its reason.
    Word(&'static str, &'static str),
    /// Worked out from other keys; how, and its reason.
    WorkedOut(&'static str, &'static str),
}

impl Key {
    /// A key that is asked for, with nothing else said of it yet.
    const fn new(name: &'static str, form: Form) -> Self {
        Self {
            name,
            form,
            hard: None,
            usual: None,
            when_absent: WhenAbsent::Needed,
            words: "",
            how: "",
            example: "",
            also_called: &[],
            usual_doubt: None,
            may_be_unknown: false,
        }
    }

    pub(super) const fn hard(mut self, low: f64, high: f64) -> Self {
        self.hard = Some(Bounds { low, high });
        self
    }

    pub(super) const fn usual(mut self, low: f64, high: f64) -> Self {
        self.usual = Some(Bounds { low, high });
        self
    }

    pub(super) const fn or(mut self, si: f64, reason: &'static str) -> Self {
        self.when_absent = WhenAbsent::Value(si, reason);
        self
    }

    pub(super) const fn or_word(mut self, word: &'static str, reason: &'static str) -> Self {
        self.when_absent = WhenAbsent::Word(word, reason);
        self
    }

    pub(super) const fn or_worked_out(mut self, how: &'static str, reason: &'static str) -> Self {
        self.when_absent = WhenAbsent::WorkedOut(how, reason);
        self
    }

    pub(super) const fn or_none(mut self, words: &'static str) -> Self {
        self.when_absent = WhenAbsent::None(words);
        self
    }

    pub(super) const fn this_or(mut self, words: &'static str) -> Self {
        self.when_absent = WhenAbsent::ThisOr(words);
        self
    }

    pub(super) const fn words(mut self, words: &'static str) -> Self {
        self.words = words;
        self
    }

    pub(super) const fn how(mut self, how: &'static str) -> Self {
        self.how = how;
        self
    }

    pub(super) const fn such_as(mut self, example: &'static str) -> Self {
        self.example = example;
        self
    }

    pub(super) const fn also_called(mut self, names: &'static [&'static str]) -> Self {
        self.also_called = names;
        self
    }

    pub(super) const fn doubted(mut self, doubt: UsualDoubt) -> Self {
        self.usual_doubt = Some(doubt);
        self
    }

    pub(super) const fn or_unknown(mut self) -> Self {
        self.may_be_unknown = true;
        self
    }

    /// What is taken where the key is left out, in words; `None` where it is asked for, or
    /// where nothing is taken.
    pub fn default_in_words(&self) -> Option<String> {
        let value = |si: f64| match self.form.kind() {
            Some(kind) => System::Metric.brief(si, kind),
            None => crate::units::plain(si),
        };
        let with = |value: String, reason: &str| match reason {
            "" => value,
            reason => format!("{value} ({reason})"),
        };
        match self.when_absent {
            WhenAbsent::Needed | WhenAbsent::ThisOr(_) | WhenAbsent::None(_) => None,
            WhenAbsent::Value(si, reason) => Some(with(value(si), reason)),
            WhenAbsent::Word(word, reason) => Some(with(word.to_owned(), reason)),
            WhenAbsent::WorkedOut(how, _) => Some(how.to_owned()),
        }
    }

    /// A value (SI) if the key takes it.
    ///
    /// # Errors
    /// With the range in words, where it does not.
    pub fn held(&self, si: f64) -> Result<f64, String> {
        match self.hard {
            Some(hard) if !hard.hold(si) => Err(format!(
                "{}: {}",
                hard.must_be(self.form.kind()),
                self.words
            )),
            _ => Ok(si),
        }
    }

    /// Whether a sheet without it, and without what stands for it, is refused.
    pub const fn is_asked_for(&self) -> bool {
        matches!(self.when_absent, WhenAbsent::Needed | WhenAbsent::ThisOr(_))
    }

    /// What else would do, in words behind an example: ` (or release: …)`.
    pub(crate) fn or_else(&self) -> String {
        match self.when_absent {
            WhenAbsent::ThisOr(words) => format!(" ({})", words.replace('`', "")),
            _ => String::new(),
        }
    }

    /// What it takes, in words behind "takes".
    pub(crate) fn takes(&self) -> String {
        let example = self.example;
        match self.form {
            Form::Text => "a text in quotes".into(),
            Form::File(_) => "the name of a file in quotes".into(),
            Form::Numbers => format!("a list of bare numbers: {example}"),
            Form::Between(kind) => {
                let kind = kind.with_article();
                format!("a list of two, each {kind}, the lower first: {example}")
            }
            Form::Points => format!("a list of points, each a time and a share: {example}"),
            Form::Table | Form::Section => format!("a table in braces: {example}"),
            Form::Tables | Form::Sections => format!("a list of tables in braces: {example}"),
            Form::Metal(names) => {
                let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
                format!(
                    "{}, or a table in braces: {{ density = \"7850 kg/m³\", yield = …, tensile = …, poisson = …, modulus = … }}",
                    names.join(", ")
                )
            }
            Form::Flag => "true or false, without quotes".into(),
            Form::Quantity(_) | Form::Number | Form::Count | Form::Choice(_) => example.into(),
        }
    }

    /// Why the default is what it is; empty where there is none to explain.
    pub const fn reason(&self) -> &'static str {
        match self.when_absent {
            WhenAbsent::Needed | WhenAbsent::ThisOr(_) | WhenAbsent::None(_) => "",
            WhenAbsent::Value(_, reason)
            | WhenAbsent::Word(_, reason)
            | WhenAbsent::WorkedOut(_, reason) => reason,
        }
    }
}

pub(super) const fn quantity(name: &'static str, kind: Kind) -> Key {
    Key::new(name, Form::Quantity(kind))
}

pub(super) const fn number(name: &'static str) -> Key {
    Key::new(name, Form::Number)
}

/// Parts of one sort on a wheel, at most.
const MOST_COUNT: f64 = 1000.0;

pub(super) const fn count(name: &'static str) -> Key {
    Key::new(name, Form::Count).hard(1.0, MOST_COUNT)
}

pub(super) const fn of(name: &'static str, form: Form) -> Key {
    Key::new(name, form)
}

/// Declares the keys of one table: a constant for each, and `KEYS` with all of them in order.
macro_rules! keys {
    ($($name:ident = $key:expr;)*) => {
        $(pub(crate) const $name: &crate::sheet::keys::Key = &$key;)*
        /// Every key of this table, in the order of the page.
        pub(crate) const KEYS: &[&crate::sheet::keys::Key] = &[$($name),*];
    };
}
pub(super) use keys;
