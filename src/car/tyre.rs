//! The driven tyres: grip over slip, load sensitivity, relaxation.

use super::checked::{NonNegative, Positive};
use std::f64::consts::PI;
use thiserror::Error;

/// Slip of peak grip where the sheet is silent (common practice, no source).
pub const DEFAULT_PEAK_SLIP: f64 = 0.12;
/// Share of the peak grip left to a spinning wheel where the sheet is silent. It is the input
/// known worst, and decides how dear a launch from too high a speed is (common practice, no source).
pub const DEFAULT_SLIDING_SHARE: f64 = 0.80;
/// Relaxation length, m, where the sheet is silent (typical 0.1 to 0.5 m, from memory).
pub const DEFAULT_RELAXATION_M: f64 = 0.25;
/// Carcass damping time, s, where the sheet is silent (common practice, no source).
pub const DEFAULT_DAMPING_TIME_S: f64 = 0.004;
/// Share of grip lost per unit of overload where the sheet is silent (common practice, no source).
pub const DEFAULT_LOAD_SENSITIVITY: f64 = 0.10;
/// Least share of grip that load sensitivity leaves (common practice, no source).
pub const LOAD_SENSITIVITY_FLOOR: f64 = 0.3;

/// Friction over transient slip, peak 1 at the peak slip: `mf(κ) = sin(C atan(B κ))`.
///
/// The three-parameter Magic Formula with zero curvature factor
/// (Pacejka, *Tire and Vehicle Dynamics*, ch. 4): `B = tan(π/(2C))/κp` puts the peak at `κp`,
/// and `C` is chosen so that a wheel spinning under a standing car, `κ = 1`, keeps a given
/// share of the peak.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionShape {
    peak_slip: f64,
    sliding_share: f64,
    shape_factor: f64,
    stiffness_factor: f64,
}

/// No shape gives the wanted sliding share.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error(
    "a sliding share of {asked} cannot be had with peak slip {peak_slip}: it must be at least {lowest:.3} and below 1"
)]
pub struct SlidingShareError {
    /// Share asked for.
    pub asked: f64,
    /// Peak slip it was asked with.
    pub peak_slip: f64,
    /// Lowest share there is.
    pub lowest: f64,
}

impl FrictionShape {
    /// A shape with its peak at `peak_slip` and `sliding_share` of it left at a slip of 1.
    ///
    /// # Errors
    /// When the share is below `sin(2 atan(1/κp))` or not below 1.
    pub fn new(peak_slip: Positive, sliding_share: Positive) -> Result<Self, SlidingShareError> {
        let (peak_slip, share) = (peak_slip.get(), sliding_share.get());
        let lowest = (2.0 * (1.0 / peak_slip).atan()).sin();
        let refused = SlidingShareError {
            asked: share,
            peak_slip,
            lowest,
        };
        if share >= 1.0 || share < lowest || peak_slip >= 1.0 {
            return Err(refused);
        }
        let shape_factor = shape_factor(peak_slip, share);
        Ok(Self {
            peak_slip,
            sliding_share: share,
            shape_factor,
            stiffness_factor: stiffness_factor(peak_slip, shape_factor),
        })
    }

    /// Friction at a slip, as a share of its peak; odd in the slip.
    #[inline]
    pub fn at(&self, slip: f64) -> f64 {
        (self.shape_factor * (self.stiffness_factor * slip).atan()).sin()
    }

    /// Slip of peak friction.
    pub fn peak_slip(&self) -> f64 {
        self.peak_slip
    }

    /// Share of the peak left at a slip of 1.
    pub fn sliding_share(&self) -> f64 {
        self.sliding_share
    }

    /// The Magic Formula's `C`.
    pub fn shape_factor(&self) -> f64 {
        self.shape_factor
    }
}

fn stiffness_factor(peak_slip: f64, shape_factor: f64) -> f64 {
    (PI / (2.0 * shape_factor)).tan() / peak_slip
}

/// `C` in (1, 2] with `sin(C atan(B(C))) = share`; the left side falls steadily as `C` grows.
fn shape_factor(peak_slip: f64, share: f64) -> f64 {
    /// Halvings that bring an interval of length one below round-off.
    const HALVINGS: usize = 60;
    let at_one = |c: f64| (c * stiffness_factor(peak_slip, c).atan()).sin();
    let (mut low, mut high) = (1.0, 2.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if at_one(middle) > share {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The driven pair of tyres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tyre {
    /// Rolling radius, m.
    pub radius_m: Positive,
    /// Peak friction coefficient at the static load.
    pub grip: Positive,
    /// Friction over slip.
    pub shape: FrictionShape,
    /// Relaxation length, m.
    pub relaxation_m: Positive,
    /// Carcass damping time, s.
    pub damping_time_s: NonNegative,
    /// Share of grip lost per unit of overload.
    pub load_sensitivity: NonNegative,
}

impl Tyre {
    /// Peak friction coefficient at a load over the static one:
    /// `μ0 · max(0.3, 1 − kN (Nd/Ns − 1))`.
    #[inline]
    pub fn peak_grip(&self, load_over_static: f64) -> f64 {
        self.grip.get()
            * (1.0 - self.load_sensitivity.get() * (load_over_static - 1.0))
                .max(LOAD_SENSITIVITY_FLOOR)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_cases::same_every_time;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn shape(peak_slip: f64, share: f64) -> Result<FrictionShape, SlidingShareError> {
        FrictionShape::new(
            Positive::new(peak_slip).unwrap(),
            Positive::new(share).unwrap(),
        )
    }

    /// C = 1.4715 for a peak slip of 0.12 and a sliding share of 0.80: the closed form solved
    /// independently, four decimals.
    #[test]
    fn reference_shape_factor_of_the_defaults() {
        let c = shape(DEFAULT_PEAK_SLIP, DEFAULT_SLIDING_SHARE)
            .unwrap()
            .shape_factor();
        assert!((c - 1.4715).abs() < 5e-5, "{c}");
    }

    #[test]
    fn law_shares_that_no_shape_gives_are_refused() {
        assert!(shape(0.12, 1.0).is_err());
        assert!(shape(0.12, 0.2).is_err());
        assert!(shape(0.12, 0.24).is_ok());
    }

    proptest! {
        #![proptest_config(same_every_time(256))]

        /// Peak 1 at the peak slip, the sliding share at a slip of one, odd in the slip.
        #[test]
        fn law_peak_and_sliding_share_are_where_they_were_asked(peak in 0.04..0.3f64, share in 0.6..0.98f64) {
            let shape = shape(peak, share).unwrap();
            assert_relative_eq!(shape.at(peak), 1.0, max_relative = 1e-12);
            assert_relative_eq!(shape.at(1.0), share, max_relative = 1e-9);
            assert_relative_eq!(shape.at(-0.3), -shape.at(0.3), max_relative = 1e-12);
            prop_assert!(shape.at(peak * 0.9) < 1.0 && shape.at(peak * 1.1) < 1.0);
        }
    }
}
