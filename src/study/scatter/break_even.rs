//! Break-even scatter: how steady a driver must be for the lighter flywheel to pay.

use super::table::{LaunchTable, Replicated};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::numerics::{Interval, crossing};
use rayon::prelude::*;

/// Largest launch-speed deviation looked at, rad/s (600 rpm, with the flywheel it was measured with).
pub const MOST_SD_RAD_S: f64 = 600.0 * RAD_S_PER_RPM;
/// Steps in which deviations are tried before a change of sign is narrowed (10 rpm).
const STEPS: u32 = 60;

/// Lowest mean sixty-foot time at every deviation tried, for one flywheel.
#[derive(Debug, Clone)]
pub struct BestMeans<'t> {
    table: &'t LaunchTable,
    range: SpeedRange,
    /// This flywheel's deviation over the measured one's.
    launch_sd_factor: f64,
    means_s: Vec<Replicated>,
}

/// The deviations tried, rad/s.
fn deviations() -> impl Iterator<Item = f64> {
    (0..=STEPS).map(|step| MOST_SD_RAD_S * f64::from(step) / f64::from(STEPS))
}

impl<'t> BestMeans<'t> {
    /// The lowest means of one flywheel over all deviations.
    pub fn new(table: &'t LaunchTable, range: SpeedRange, launch_sd_factor: f64) -> Self {
        let mut best = Self {
            table,
            range,
            launch_sd_factor,
            means_s: Vec::new(),
        };
        let tried: Vec<f64> = deviations().collect();
        best.means_s = tried.par_iter().map(|sd| best.replicated(*sd)).collect();
        best
    }

    /// Lowest mean at a deviation (of the flywheel it was measured with), s.
    pub fn at(&self, measured_sd_rad_s: f64) -> f64 {
        let sd = measured_sd_rad_s * self.launch_sd_factor;
        self.table.lowest(&self.range, sd).mean_s
    }

    /// The same with and without each block of points, all at the same aim.
    fn replicated(&self, measured_sd_rad_s: f64) -> Replicated {
        let sd = measured_sd_rad_s * self.launch_sd_factor;
        let lowest = self.table.lowest(&self.range, sd);
        self.table.mean(lowest.aim_rad_s, sd)
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

    const fn of(difference_s: f64) -> Self {
        if difference_s < 0.0 {
            Self::Lighter
        } else {
            Self::Heavier
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
        /// 95 % interval, rad/s, within the range looked at: deviations around it at which the
        /// difference lies within its own 95 % interval.
        interval_rad_s: Interval,
        /// Who is quicker below it.
        below: Winner,
    },
    /// It does not change from 0 to the largest deviation looked at.
    Never(Winner),
}

/// One deviation tried: rad/s, the difference of the lowest means, s, and half its interval, s.
struct Tried {
    sd_rad_s: f64,
    difference_s: f64,
    half_s: f64,
}

/// Break-even of a pair.
pub fn break_even(lighter: &BestMeans, heavier: &BestMeans) -> BreakEven {
    let tried: Vec<Tried> = deviations()
        .zip(lighter.means_s.iter().zip(&heavier.means_s))
        .map(|(sd_rad_s, (light, heavy))| {
            let difference = light.less(heavy);
            Tried {
                sd_rad_s,
                difference_s: difference.value,
                half_s: difference.half_width(),
            }
        })
        .collect();
    let change = tried.windows(2).enumerate().find_map(|(index, pair)| {
        let [low, high] = pair else { return None };
        (Winner::of(low.difference_s) != Winner::of(high.difference_s))
            .then_some((index, low, high))
    });
    let Some((index, low, high)) = change else {
        return BreakEven::Never(winner(&tried));
    };
    let sd_rad_s = crossing(low.sd_rad_s, high.sd_rad_s, |sd| {
        lighter.at(sd) - heavier.at(sd)
    });
    let (below, above) = tried.split_at(index + 1);
    BreakEven::At {
        sd_rad_s,
        interval_rad_s: Interval {
            low: open_until(sd_rad_s, low.half_s, below.iter().rev()).unwrap_or(0.0),
            high: open_until(sd_rad_s, high.half_s, above.iter()).unwrap_or(MOST_SD_RAD_S),
        },
        below: Winner::of(low.difference_s),
    }
}

/// From a crossing outward: the deviation at which the difference leaves its interval; `None` if
/// it does not.
fn open_until<'a>(
    crossing_rad_s: f64,
    half_s: f64,
    outward: impl Iterator<Item = &'a Tried>,
) -> Option<f64> {
    let mut inside = (crossing_rad_s, -half_s);
    for tried in outward {
        let beyond_s = tried.difference_s.abs() - tried.half_s;
        if beyond_s > 0.0 {
            let share = inside.1 / (inside.1 - beyond_s);
            return Some(inside.0 + share * (tried.sd_rad_s - inside.0));
        }
        inside = (tried.sd_rad_s, beyond_s);
    }
    None
}

/// Who wins throughout: undecided where no difference is beyond its interval.
fn winner(tried: &[Tried]) -> Winner {
    if tried.iter().all(|t| t.difference_s.abs() <= t.half_s) {
        return Winner::Undecided;
    }
    tried
        .first()
        .map_or(Winner::Undecided, |first| Winner::of(first.difference_s))
}
