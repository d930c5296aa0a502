//! The time of one swing, from a stopwatch.

use crate::car::checked::Positive;
use crate::numerics::uncertainty::{Freedom, Measured};
use std::num::NonZeroU32;
use thiserror::Error;

/// Scatter of one press of a hand-held stopwatch at a swing seen coming, standard deviation in
/// s. Common practice, no source; measure your own by timing one swing many times.
pub const REACTION_SD_S: f64 = 0.1;

/// Splits that a straight line needs to have a scatter.
pub const LEAST_SPLITS: usize = 3;

/// A step between two splits that is off by more than this share of a swing looks miscounted.
pub const MISCOUNT_SHARE: f64 = 0.5;

/// A split of the stopwatch: the time at the end of a swing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// Which swing ends, counted from the first press.
    pub swing: u32,
    /// Reading, s.
    pub time_s: f64,
}

/// How the swings were timed. One swing is there and back again.
#[derive(Debug, Clone, PartialEq)]
pub enum Timing {
    /// Swings counted between two presses.
    Counted {
        /// How many.
        swings: NonZeroU32,
        /// Time between the presses, s.
        total_s: Positive,
        /// Scatter of one press, standard deviation in s, its mean delay being the same at both.
        reaction_sd_s: Positive,
    },
    /// Many splits of one run.
    Splits {
        /// The splits.
        splits: Vec<Split>,
        /// Scatter of one press, standard deviation in s, where known beforehand.
        reaction_sd_s: Option<Positive>,
    },
}

/// The time of one swing, and how well the readings lie on a line.
#[derive(Debug, Clone, PartialEq)]
pub struct PeriodFit {
    /// Time of one swing, s, with its uncertainty.
    pub period_s: Measured,
    /// Scatter of the splits about the line, standard deviation in s; `None` if swings were only
    /// counted.
    pub residual_sd_s: Option<f64>,
    /// Each split less the line, s.
    pub residuals_s: Vec<f64>,
    /// The swing numbers after a step that looks like more or fewer swings than were counted.
    pub miscounted_at: Vec<u32>,
}

/// What can be wrong with a timing.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TimingError {
    /// Too few splits for a line and its scatter.
    #[error("{0} splits are too few: a line with its scatter needs three or more")]
    TooFewSplits(usize),
    /// A split does not come after the one before.
    #[error("the split at swing {swing} does not come after the one before it")]
    OutOfOrder {
        /// Its swing number.
        swing: u32,
        /// Its reading, s.
        time_s: f64,
    },
}

impl Timing {
    /// The time of one swing.
    ///
    /// Counted: `T = t/N`, `u = √2 s/N`, `s` the scatter of a press. Splits: the slope of the
    /// least-squares line of time over swing number, `u = s/√Σ(n − n̄)²`; `s` is the scatter
    /// about the line with two degrees of freedom fewer than splits, unless a larger scatter of
    /// a press is known beforehand. A delay of every press alike moves the line, not its slope.
    /// Source: any statistics text, straight-line regression; GUM H.3 has an example (from memory).
    ///
    /// # Errors
    /// When there are too few splits or they are out of order.
    pub fn period(&self) -> Result<PeriodFit, TimingError> {
        match self {
            Self::Counted {
                swings,
                total_s,
                reaction_sd_s,
            } => {
                let count = f64::from(swings.get());
                Ok(PeriodFit {
                    period_s: Measured::standard(
                        total_s.get() / count,
                        std::f64::consts::SQRT_2 * reaction_sd_s.get() / count,
                    ),
                    residual_sd_s: None,
                    residuals_s: Vec::new(),
                    miscounted_at: Vec::new(),
                })
            }
            Self::Splits {
                splits,
                reaction_sd_s,
            } => fit(splits, *reaction_sd_s),
        }
    }
}

fn fit(splits: &[Split], reaction_sd_s: Option<Positive>) -> Result<PeriodFit, TimingError> {
    if splits.len() < LEAST_SPLITS {
        return Err(TimingError::TooFewSplits(splits.len()));
    }
    let unordered = splits.windows(2).find_map(|pair| match pair {
        [one, next] if next.swing > one.swing && next.time_s > one.time_s => None,
        [_, next] => Some(*next),
        _ => None,
    });
    let not_finite = splits.iter().find(|split| !split.time_s.is_finite());
    if let Some(split) = unordered.or(not_finite.copied()) {
        return Err(TimingError::OutOfOrder {
            swing: split.swing,
            time_s: split.time_s,
        });
    }
    // Thousands of splits at most: the count is exact as a float.
    let count = splits.iter().map(|_| 1.0).sum::<f64>();
    let mean_swing = splits.iter().map(|s| f64::from(s.swing)).sum::<f64>() / count;
    let mean_time = splits.iter().map(|s| s.time_s).sum::<f64>() / count;
    let off = |split: &Split| {
        (
            f64::from(split.swing) - mean_swing,
            split.time_s - mean_time,
        )
    };
    let spread: f64 = splits.iter().map(|s| off(s).0.powi(2)).sum();
    let period: f64 = splits
        .iter()
        .map(|s| {
            let (swing, time) = off(s);
            swing * time
        })
        .sum::<f64>()
        / spread;
    let residuals_s: Vec<f64> = splits
        .iter()
        .map(|s| {
            let (swing, time) = off(s);
            time - period * swing
        })
        .collect();
    let freedom = count - 2.0;
    let squares: f64 = residuals_s.iter().map(|r| r * r).sum();
    let residual_sd = (squares / freedom).sqrt();
    let known = reaction_sd_s.filter(|known| known.get() >= residual_sd);
    Ok(PeriodFit {
        period_s: Measured {
            value: period,
            uncertainty: known.map_or(residual_sd, Positive::get) / spread.sqrt(),
            freedom: known.map_or(Freedom::Of(freedom), |_| Freedom::Endless),
        },
        residual_sd_s: Some(residual_sd),
        miscounted_at: miscounts(splits),
        residuals_s,
    })
}

/// Steps that are off by more than half a swing. The swing's time is taken from the middle one of
/// all steps, which a miscount or two do not move.
fn miscounts(splits: &[Split]) -> Vec<u32> {
    let steps: Vec<(u32, f64, f64)> = splits
        .windows(2)
        .filter_map(|pair| match pair {
            [one, next] => Some((
                next.swing,
                f64::from(next.swing - one.swing),
                next.time_s - one.time_s,
            )),
            _ => None,
        })
        .collect();
    let mut each: Vec<f64> = steps
        .iter()
        .map(|(_, swings, time)| time / swings)
        .collect();
    each.sort_by(f64::total_cmp);
    let Some(middle) = each.get(each.len() / 2) else {
        return Vec::new();
    };
    steps
        .iter()
        .filter(|(_, swings, time)| (time / middle - swings).abs() > MISCOUNT_SHARE)
        .map(|(swing, _, _)| *swing)
        .collect()
}
