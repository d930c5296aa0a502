//! Values as they stand in a sheet: checked when read, shown when told.

use super::problem::Place;
use crate::car::checked::{AtLeastOne, Efficiency, InnerShare, NonNegative, Positive, Share};
use crate::units::{Kind, System};

/// Where a default comes from that every shop knows and no book is cited for.
pub(super) const COMMON_PRACTICE: &str = "common practice, no source";
/// What stands for a driver of whom nothing is said.
pub(super) const NEVER_LIFTS: &str = "never lifts";

/// A value to tell about, in SI where it has a unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A quantity.
    Quantity {
        /// Its value in SI.
        si: f64,
        /// What it measures.
        kind: Kind,
    },
    /// A bare number: a share, a ratio, a coefficient.
    Number(f64),
    /// A word.
    Word(String),
}

impl Amount {
    /// Its text, in the units of a system.
    pub fn shown(&self, system: System) -> String {
        match self {
            Self::Quantity { si, kind } => system.brief(*si, *kind),
            Self::Number(number) => crate::units::plain(*number),
            Self::Word(word) => word.clone(),
        }
    }

    pub(super) const fn of(value: f64, kind: Option<Kind>) -> Self {
        match kind {
            Some(kind) => Self::Quantity { si: value, kind },
            None => Self::Number(value),
        }
    }
}

/// A value found in the sheet (or the default that stands for it) and where.
#[derive(Debug, Clone)]
pub(super) struct Found<T> {
    pub(super) value: T,
    pub(super) place: Place,
    /// The text read.
    pub(super) read: String,
}

impl<T> Found<T> {
    pub(super) fn map<U>(self, change: impl FnOnce(T) -> U) -> Found<U> {
        Found {
            value: change(self.value),
            place: self.place,
            read: self.read,
        }
    }
}

/// A type that takes only some numbers.
pub(super) trait Checked: Sized {
    /// The range in words, after "must be".
    const RANGE: &'static str;
    fn checked(value: f64) -> Option<Self>;
}

macro_rules! checked {
    ($($name:ty: $range:literal;)*) => {
        $(impl Checked for $name {
            const RANGE: &'static str = $range;
            fn checked(value: f64) -> Option<Self> {
                Self::new(value)
            }
        })*
    };
}

checked! {
    Positive: "above zero";
    NonNegative: "zero or above";
    Share: "a share from 0 to 1";
    InnerShare: "a share between 0 and 1, neither end included";
    Efficiency: "above 0 and at most 1";
    AtLeastOne: "1 or more";
}

/// A number that may be anything finite (a temperature, a height).
impl Checked for f64 {
    const RANGE: &'static str = "a finite number";
    fn checked(value: f64) -> Option<Self> {
        value.is_finite().then_some(value)
    }
}
