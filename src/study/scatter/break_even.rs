//! Break-even scatter: how steady a driver must be for the lighter flywheel to pay.

use super::aim::lowest_mean;
use super::mean_curve::MeanCurve;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::integrate::crossing;
use crate::numerics::Interval;
use rayon::prelude::*;

/// Largest launch-speed deviation looked at, rad/s (600 rpm, with the flywheel it was measured with).
pub const MOST_SD_RAD_S: f64 = 600.0 * RAD_S_PER_RPM;
/// Step in which deviations are tried before a change of sign is narrowed (20 rpm).
const STEPS: u32 = 30;

/// Lowest mean sixty-foot time at every deviation tried, for one flywheel.
#[derive(Debug, Clone)]
pub struct BestMeans<'m> {
    curve: &'m MeanCurve,
    range: SpeedRange,
    /// This flywheel's deviation over the measured one's.
    launch_sd_factor: f64,
    /// What real launches said beyond the curve at the sheet's own deviation, s.
    correction_s: f64,
    means_s: Vec<f64>,
}

/// The deviations tried, rad/s.
fn deviations() -> impl Iterator<Item = f64> {
    (0..=STEPS).map(|step| MOST_SD_RAD_S * f64::from(step) / f64::from(STEPS))
}

impl<'m> BestMeans<'m> {
    /// The lowest means of one flywheel over all deviations.
    pub fn new(
        curve: &'m MeanCurve,
        range: SpeedRange,
        launch_sd_factor: f64,
        correction_s: f64,
    ) -> Self {
        let mut best = Self {
            curve,
            range,
            launch_sd_factor,
            correction_s,
            means_s: Vec::new(),
        };
        let tried: Vec<f64> = deviations().collect();
        best.means_s = tried.par_iter().map(|sd| best.at(*sd)).collect();
        best
    }

    /// Lowest mean at a deviation (of the flywheel it was measured with), s.
    pub fn at(&self, measured_sd_rad_s: f64) -> f64 {
        let sd = measured_sd_rad_s * self.launch_sd_factor;
        lowest_mean(self.curve, &self.range, sd).mean_s + self.correction_s
    }

    /// (deviation rad/s, lowest mean s) at every deviation tried.
    pub fn tried(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        deviations().zip(self.means_s.iter().copied())
    }
}

/// Which of two flywheels is quicker on average.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Winner {
    /// The lighter.
    Lighter,
    /// The heavier.
    Heavier,
    /// The difference is smaller than its error throughout.
    Undecided,
}

impl Winner {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Lighter => "lighter",
            Self::Heavier => "heavier",
            Self::Undecided => "undecided",
        }
    }
}

/// The lowest deviation at which the better of two flywheels changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BreakEven {
    /// It changes here.
    At {
        /// Deviation of the launch speed, with the flywheel it was measured with, rad/s.
        sd_rad_s: f64,
        /// 95 % interval, rad/s, within the range looked at.
        interval_rad_s: Interval,
        /// Who is quicker below it.
        below: Winner,
    },
    /// It does not change from 0 to the largest deviation looked at.
    Never(Winner),
}

/// Break-even of a pair. `error_s` is the half-width of the 95 % interval of their difference.
pub fn break_even(lighter: &BestMeans, heavier: &BestMeans, error_s: f64) -> BreakEven {
    let difference = |sd: f64| lighter.at(sd) - heavier.at(sd);
    let tried: Vec<(f64, f64)> = lighter
        .tried()
        .zip(heavier.tried())
        .map(|((sd, light_s), (_, heavy_s))| (sd, light_s - heavy_s))
        .collect();
    let change = tried.windows(2).find_map(|pair| match pair {
        [(low, at_low), (high, at_high)] if (*at_low < 0.0) != (*at_high < 0.0) => {
            Some((*low, *high, *at_low))
        }
        _ => None,
    });
    let Some((low, high, at_low)) = change else {
        return BreakEven::Never(winner(&tried, error_s));
    };
    let sd_rad_s = crossing(low, high, difference);
    let slope = (difference(high) - at_low) / (high - low);
    let half = (error_s / slope).abs();
    BreakEven::At {
        sd_rad_s,
        interval_rad_s: Interval {
            low: (sd_rad_s - half).max(0.0),
            high: (sd_rad_s + half).min(MOST_SD_RAD_S),
        },
        below: if at_low < 0.0 {
            Winner::Lighter
        } else {
            Winner::Heavier
        },
    }
}

fn winner(differences: &[(f64, f64)], error_s: f64) -> Winner {
    if differences.iter().all(|(_, d)| d.abs() <= error_s) {
        return Winner::Undecided;
    }
    if differences.iter().all(|(_, d)| *d < 0.0) {
        Winner::Lighter
    } else {
        Winner::Heavier
    }
}
