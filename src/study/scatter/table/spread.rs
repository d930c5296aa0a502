//! How the launches that got away are spread at one aim: deviation, percentiles, shares.

use super::{GridLine, LaunchTable, Smoothing};
use crate::numerics::{Estimate, Interval, jackknife_half_width};

/// The launches at one aim: how likely each is, and its time.
#[derive(Debug, Clone)]
pub struct Spread<'t> {
    table: &'t LaunchTable,
    /// Time s, point, and probability at that point, by rising time.
    launches: Vec<(f64, usize, f64)>,
    /// The same of the lines without every second launch.
    thinned: Vec<(f64, usize, f64)>,
}

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

impl LaunchTable {
    /// The launches that got away at an aim, with a standard deviation of the launch speed
    /// (both rad/s).
    pub fn spread(&self, aim_rad_s: f64, sd_rad_s: f64) -> Spread<'_> {
        let smoothing: Smoothing = self.smoothing(aim_rad_s, sd_rad_s);
        let counts: Vec<(usize, f64)> = smoothing.counts().collect();
        let sorted = |lines: &[GridLine]| {
            let mut launches: Vec<(f64, usize, f64)> = lines
                .iter()
                .enumerate()
                .flat_map(|(point, line)| {
                    counts.iter().filter_map(move |(at, weight)| {
                        let probability = weight * line.away.get(*at)?;
                        (probability > 0.0).then_some((*line.time_s.get(*at)?, point, probability))
                    })
                })
                .collect();
            launches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            launches
        };
        Spread {
            table: self,
            launches: sorted(&self.lines),
            thinned: sorted(&self.thinned),
        }
    }
}

/// Launches, and what the points they belong to count for.
struct Counted<'a> {
    launches: &'a [(f64, usize, f64)],
    weights: &'a [f64],
}

impl Counted<'_> {
    /// Time of each launch, s, and what it counts for.
    fn iter(&self) -> impl Iterator<Item = (f64, f64)> {
        self.launches
            .iter()
            .filter_map(|(time_s, point, probability)| {
                Some((*time_s, probability * self.weights.get(*point)?))
            })
    }
}

impl Spread<'_> {
    fn replicated(&self, figure: impl Fn(&Counted) -> f64) -> Replicated {
        let weights = &self.table.weights;
        let of = |launches, weights| figure(&Counted { launches, weights });
        Replicated {
            value: of(&self.launches, &weights.all),
            without: weights
                .without
                .iter()
                .map(|w| of(&self.launches, w))
                .collect(),
            thinned: of(&self.thinned, &weights.all),
        }
    }

    /// Standard deviation of the launches that got away, s.
    pub fn sd_s(&self) -> Replicated {
        let middle = self.launches.get(self.launches.len() / 2);
        let about_s = middle.map_or(0.0, |launch| launch.0);
        self.replicated(|counted| {
            let (mut count, mut sum, mut squares) = (0.0, 0.0, 0.0);
            for (time_s, weight) in counted.iter() {
                let off = time_s - about_s;
                count += weight;
                sum += weight * off;
                squares += weight * off * off;
            }
            (squares / count - (sum / count).powi(2)).max(0.0).sqrt()
        })
    }

    /// Time that a share of the launches that got away stays below, s.
    pub fn percentile_s(&self, share: f64) -> Replicated {
        self.replicated(|counted| {
            let all: f64 = counted.iter().map(|(_, weight)| weight).sum();
            let wanted = share * all;
            let mut below = 0.0;
            let mut before: Option<(f64, f64)> = None;
            for (time_s, weight) in counted.iter() {
                // Half of a launch's own weight lies below its time.
                let here = below + weight / 2.0;
                if here >= wanted {
                    return before.map_or(time_s, |(time_before, here_before)| {
                        let part = (wanted - here_before) / (here - here_before);
                        time_before + part.clamp(0.0, 1.0) * (time_s - time_before)
                    });
                }
                below += weight;
                before = Some((time_s, here));
            }
            before.map_or(f64::NAN, |(time_s, _)| time_s)
        })
    }

    /// Share of the launches that got away in no more than a time, s.
    pub fn share_within(&self, limit_s: f64) -> Replicated {
        self.replicated(|counted| {
            let (mut all, mut within) = (0.0, 0.0);
            for (time_s, weight) in counted.iter() {
                all += weight;
                if time_s <= limit_s {
                    within += weight;
                }
            }
            within / all
        })
    }
}
