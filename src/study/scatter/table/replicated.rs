//! A figure with all points and without each block of them, and how sure that makes it.

use crate::numerics::{Estimate, Interval, jackknife_half_width};

/// A figure with all points, and without each block of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Replicated {
    /// With all.
    pub value: f64,
    /// Without each block.
    pub without: Vec<f64>,
    /// With all, but of the lines without every second launch.
    pub thinned: f64,
}

/// How much wider than the jackknife's an interval is made: over many seeds of cars in closed form
/// and of real ones the error of the worst figures is a third more than the jackknife alone makes
/// it, for blocks are few and skewed (`docs/steadiness.md`).
const WIDENED: f64 = 1.3;

/// Share of what leaving out every second launch does to a figure that may still be wrong with
/// it: between launches a curve errs as the square of their distance, or as the square round a
/// kink, so half of them err four times as much and lie three times the error away.
const STILL_WRONG: f64 = 1.0 / 3.0;

/// Half the width of a 95 % interval, from the figures without each block: the luck of the points.
pub fn half_width(without: &[f64]) -> f64 {
    WIDENED * jackknife_half_width(without)
}

impl Replicated {
    /// Half the width of its 95 % interval: the luck of the points, and what is missed between
    /// launches.
    pub fn half_width(&self) -> f64 {
        half_width(&self.without) + STILL_WRONG * (self.value - self.thinned).abs()
    }

    /// The difference of two under the same points.
    #[must_use]
    pub fn less(&self, other: &Self) -> Self {
        Self {
            value: self.value - other.value,
            thinned: self.thinned - other.thinned,
            without: self
                .without
                .iter()
                .zip(&other.without)
                .map(|(own, others)| own - others)
                .collect(),
        }
    }

    /// With its 95 % interval.
    pub fn estimate(&self) -> Estimate {
        Estimate {
            value: self.value,
            interval: Interval::about(self.value, self.half_width()),
        }
    }

    /// With its 95 % interval, kept within what it can be.
    pub fn estimate_within(&self, low: f64, high: f64) -> Estimate {
        let mut estimate = self.estimate();
        estimate.value = estimate.value.clamp(low, high);
        estimate.interval.low = estimate.interval.low.clamp(low, high);
        estimate.interval.high = estimate.interval.high.clamp(low, high);
        estimate
    }
}
