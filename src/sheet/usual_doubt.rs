//! How well a value is known where the sheet says nothing of it.
//!
//! Common practice, no source, for every figure here, save where a measurement's own budget
//! gives it.

use crate::car::doubt::{Doubt, DoubtOrigin};

/// How far a value that is stated without doubt, or taken as a default, may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum UsualDoubt {
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

/// A key's usual doubt, by its table and name; most keys have none.
pub(super) fn of(table: &str, key: &str) -> Option<UsualDoubt> {
    Some(match (table, key) {
        ("engine", "torque_scale") => UsualDoubt::Within(0.03),
        // The lining's friction is the least known of what makes a clutch's capacity.
        ("clutch", "capacity" | "friction") | ("car", "drag_area") => UsualDoubt::Share(0.10),
        ("clutch", "release_time") => UsualDoubt::Share(0.20),
        ("gearbox", "efficiency") | ("tyre", "peak_slip") => UsualDoubt::Within(0.03),
        ("car", "mass") => UsualDoubt::Share(0.01),
        ("car", "cg_height") => UsualDoubt::Share(0.05),
        ("car", "front_share") => UsualDoubt::Within(0.01),
        ("car", "pitch_time") | ("driver", "throttle_time") => UsualDoubt::Share(0.40),
        ("tyre", "grip") => UsualDoubt::Share(0.08),
        ("tyre", "sliding_share") => UsualDoubt::Between {
            low: 0.70,
            high: 0.90,
            least: 0.40,
            most: 0.99,
        },
        ("tyre", "relaxation") | ("driver", "launch_sd") => UsualDoubt::Share(0.30),
        // 1 is the theory's own end: a driver is no steadier against inertia than that.
        ("driver", "hold_exponent") => UsualDoubt::Between {
            low: 0.3,
            high: 1.0,
            least: 0.0,
            most: 1.0,
        },
        _ => return None,
    })
}

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

    fn ends(table: &str, key: &str, nominal: f64, origin: DoubtOrigin) -> (f64, f64) {
        match of(table, key).unwrap().about(nominal, origin) {
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
        near(ends("tyre", "sliding_share", 0.80, stated), (0.70, 0.90));
        near(ends("tyre", "sliding_share", 0.75, stated), (0.65, 0.85));
        near(ends("tyre", "sliding_share", 0.95, stated), (0.79, 0.99));
        near(ends("driver", "hold_exponent", 1.0, stated), (0.3, 1.0));
        near(ends("driver", "hold_exponent", 0.0, stated), (0.0, 0.7));
        near(ends("driver", "hold_exponent", 1.4, stated), (0.7, 1.4));
        let defaulted = DoubtOrigin::Defaulted;
        near(ends("driver", "hold_exponent", 1.0, defaulted), (0.3, 1.0));
    }
}
