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
///
/// It is worked out by a polynomial that is made with the shape: sine and arctangent in the
/// place would take a fifth of a launch's time. With `φ = atan(B κ)` and `v = cos φ =
/// 1/√(1 + (B κ)²)`, `sin(C φ)/sin φ` is a smooth function of `v` (a Chebyshev function of the
/// second kind, of fractional degree) whose nearest singularity is at `v = −1`; over `v` from 0
/// to 1 its Chebyshev series falls by `3 + √8` with each term (Trefethen, *Approximation Theory
/// and Approximation Practice*, ch. 8, from memory). Sixteen terms are within 1e-12 of the
/// Magic Formula for every shape there is: tested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionShape {
    peak_slip: f64,
    sliding_share: f64,
    shape_factor: f64,
    stiffness_factor: f64,
    series: Series,
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
            series: series(shape_factor),
        })
    }

    /// Friction at a slip, as a share of its peak; odd in the slip.
    #[inline]
    pub fn at(&self, slip: f64) -> f64 {
        let tangent = self.stiffness_factor * slip;
        let cosine = 1.0 / (1.0 + tangent * tangent).sqrt();
        tangent * cosine * sum(&self.series, 2.0 * cosine - 1.0)
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

/// Terms of the series.
const TERMS: usize = 16;
/// Factors of the powers of `2v − 1`, lowest first.
type Series = [f64; TERMS];

/// The series by powers, summed in pairs of pairs: a sum term by term would keep the processor
/// waiting for each of its sixteen links.
#[inline]
fn sum(series: &Series, u: f64) -> f64 {
    let [
        a0,
        a1,
        a2,
        a3,
        a4,
        a5,
        a6,
        a7,
        b0,
        b1,
        b2,
        b3,
        b4,
        b5,
        b6,
        b7,
    ] = *series;
    let u2 = u * u;
    let u4 = u2 * u2;
    let low = (a0 + a1 * u) + (a2 + a3 * u) * u2 + ((a4 + a5 * u) + (a6 + a7 * u) * u2) * u4;
    let high = (b0 + b1 * u) + (b2 + b3 * u) * u2 + ((b4 + b5 * u) + (b6 + b7 * u) * u2) * u4;
    low + high * (u4 * u4)
}

/// `sin(C φ)/sin φ` over `u = 2 cos φ − 1`: interpolated at the Chebyshev points and turned from
/// Chebyshev polynomials to powers, whose factors stay below 1.
fn series(shape_factor: f64) -> Series {
    let node = |k: f64| PI * (k + 0.5) / count(TERMS);
    let values: [f64; TERMS] = std::array::from_fn(|k| {
        let angle = f64::midpoint(node(count(k)).cos(), 1.0).acos();
        (shape_factor * angle).sin() / angle.sin()
    });
    let factor = |degree: usize| -> f64 {
        let terms = values.iter().enumerate();
        let sum: f64 = terms
            .map(|(k, value)| value * (count(degree) * node(count(k))).cos())
            .sum();
        sum * if degree == 0 { 1.0 } else { 2.0 } / count(TERMS)
    };
    // T0 = 1, T1 = u, and each further one is 2u times the last less the one before.
    let mut powers = [0.0; TERMS];
    let (mut before, mut polynomial) = ([0.0; TERMS], [0.0; TERMS]);
    polynomial[0] = 1.0;
    for degree in 0..TERMS {
        let weight = factor(degree);
        for (power, part) in powers.iter_mut().zip(&polynomial) {
            *power += weight * part;
        }
        let rise = if degree == 0 { 1.0 } else { 2.0 };
        let mut next = before.map(|part| -part);
        for (next, part) in next.iter_mut().skip(1).zip(&polynomial) {
            *next += rise * part;
        }
        (before, polynomial) = (polynomial, next);
    }
    powers
}

/// A small number to reckon with.
#[expect(clippy::cast_precision_loss, reason = "at most some dozen")]
const fn count(number: usize) -> f64 {
    number as f64
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

    /// Friction by the formula itself.
    fn by_the_formula(shape: &FrictionShape, slip: f64) -> f64 {
        (shape.shape_factor * (shape.stiffness_factor * slip).atan()).sin()
    }

    /// The whole range of shapes, the sliding share from as good as 1 to the lowest there is, and
    /// slips from nothing to a thousand: within 1e-12, where 1e-11 is promised.
    #[test]
    fn reference_the_series_is_the_magic_formula() {
        let mut worst = 0.0_f64;
        for peak in [1e-3, 0.02, 0.06, 0.12, 0.25, 0.5, 0.8, 0.99] {
            let lowest = (2.0 * f64::atan(1.0 / peak)).sin();
            for part in 0..=40 {
                let share = lowest + (1.0 - 1e-9 - lowest) * f64::from(part) / 40.0;
                let shape = shape(peak, share.max(lowest * (1.0 + 1e-15))).unwrap();
                for place in -400..=300 {
                    let slip = 10.0_f64.powf(f64::from(place) / 100.0);
                    let want = by_the_formula(&shape, slip);
                    worst = worst.max((shape.at(slip) - want).abs());
                    worst = worst.max((shape.at(-slip) + want).abs());
                }
            }
        }
        assert!(worst < 1e-12, "{worst:e}");
        assert!(worst > 0.0, "nothing was compared");
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
