//! Numbers that have been checked once and need no checking again.

use serde::Serialize;

macro_rules! checked_number {
    ($(#[$doc:meta])* $name:ident, $rule:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize)]
        pub struct $name(f64);

        impl $name {
            /// The number, if it keeps the rule of this type.
            pub fn new(value: f64) -> Option<Self> {
                let keeps: fn(f64) -> bool = $rule;
                (value.is_finite() && keeps(value)).then_some(Self(value))
            }

            /// The plain number.
            pub const fn get(self) -> f64 {
                self.0
            }
        }

        impl From<$name> for f64 {
            fn from(checked: $name) -> Self {
                checked.0
            }
        }
    };
}

checked_number!(
    /// A finite number above zero.
    Positive,
    |value| value > 0.0
);
checked_number!(
    /// A finite number, zero or above.
    NonNegative,
    |value| value >= 0.0
);
checked_number!(
    /// A share: zero to one, both ends allowed.
    Share,
    |value| (0.0..=1.0).contains(&value)
);
checked_number!(
    /// A share strictly between zero and one.
    InnerShare,
    |value| value > 0.0 && value < 1.0
);
checked_number!(
    /// An efficiency: above zero, at most one.
    Efficiency,
    |value| value > 0.0 && value <= 1.0
);
checked_number!(
    /// A ratio that is one or more.
    AtLeastOne,
    |value| value >= 1.0
);

impl Positive {
    /// The same number where zero would be allowed too.
    pub const fn as_non_negative(self) -> NonNegative {
        NonNegative(self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_no_checked_number_holds_nan_or_infinity() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(Positive::new(value).is_none());
            assert!(NonNegative::new(value).is_none());
            assert!(Share::new(value).is_none());
            assert!(AtLeastOne::new(value).is_none());
        }
    }

    #[test]
    fn law_ends_of_the_ranges_are_where_they_are_said_to_be() {
        assert!(Positive::new(0.0).is_none());
        assert!(NonNegative::new(0.0).is_some());
        assert!(Share::new(1.0).is_some());
        assert!(InnerShare::new(1.0).is_none());
        assert!(Efficiency::new(1.0).is_some());
        assert!(AtLeastOne::new(0.999).is_none());
    }
}
