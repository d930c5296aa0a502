//! How well a value is known where the sheet says nothing of it.
//!
//! Which key is doubted how far stands beside the key ([`super::keys`]). Common practice, no
//! source, for every figure, save where a measurement's own budget gives it.

use crate::car::doubt::{Doubt, DoubtOrigin};

/// How far a value that is stated without doubt, or taken as a default, may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UsualDoubt {
    /// To either side, as a share of the value; one would bet 19 to 1 on it.
    Share(f64),
    /// To either side, SI; one would bet 19 to 1 on it.
    Within(f64),
    /// Anything between two ends, SI, as likely at one place as at another.
    Between {
        /// Lower end, for a value that nobody stated.
        low: f64,
        /// Upper end.
        high: f64,
        /// The least that a value can be at all.
        least: f64,
        /// The most that it can be.
        most: f64,
    },
}

/// Inertia worked out from a drawing alone.
pub(super) const DRAWN: UsualDoubt = UsualDoubt::Within(0.015);
/// The same where the scales have spoken too.
pub(super) const DRAWN_AND_WEIGHED: UsualDoubt = UsualDoubt::Within(0.007);

impl UsualDoubt {
    /// The doubt of a value. A range of a value that was stated keeps its width and lies about
    /// the value, as far as what is possible allows.
    pub(super) fn about(self, nominal: f64, origin: DoubtOrigin) -> Doubt {
        match self {
            Self::Share(share) => Doubt::bet_on(share * nominal),
            Self::Within(half_width) => Doubt::bet_on(half_width),
            Self::Between {
                low,
                high,
                least,
                most,
            } => {
                let width = high - low;
                if origin == DoubtOrigin::Defaulted && (low..=high).contains(&nominal) {
                    return Doubt::Between { low, high };
                }
                // A value that was stated is possible.
                let (least, most) = (least.min(nominal), most.max(nominal));
                let low = (nominal - width / 2.0).min(most - width).max(least);
                Doubt::Between {
                    low,
                    high: low + width,
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::keys;

    fn ends(key: &str, nominal: f64, origin: DoubtOrigin) -> (f64, f64) {
        match keys::find(key)
            .unwrap()
            .usual_doubt
            .unwrap()
            .about(nominal, origin)
        {
            Doubt::Between { low, high } => (low, high),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn law_a_stated_value_lies_in_the_middle_of_its_range_where_it_can() {
        let near = |(a, b): (f64, f64), (c, d): (f64, f64)| {
            assert!((a - c).abs() < 1e-12 && (b - d).abs() < 1e-12, "{a} to {b}");
        };
        let stated = DoubtOrigin::Usual;
        near(ends("tyre.sliding_share", 0.80, stated), (0.70, 0.90));
        near(ends("tyre.sliding_share", 0.75, stated), (0.65, 0.85));
        near(ends("tyre.sliding_share", 0.95, stated), (0.79, 0.99));
        near(ends("driver.hold_exponent", 1.0, stated), (0.3, 1.0));
        near(ends("driver.hold_exponent", 0.0, stated), (0.0, 0.7));
        near(ends("driver.hold_exponent", 1.4, stated), (0.7, 1.4));
        let defaulted = DoubtOrigin::Defaulted;
        near(ends("driver.hold_exponent", 1.0, defaulted), (0.3, 1.0));
    }
}
