//! The aim: the launch speed with the lowest mean sixty-foot time under a driver's scatter.

use super::table::{AS_GOOD_S, BAND_S, LaunchTable, Lowest, Replicated};
use crate::car::driver::SpeedRange;
use crate::numerics::Interval;

/// What a flywheel does at its aim. A launch that stalls or does not finish stands apart: spread,
/// percentiles and the share within tolerance are of the launches that got away.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// Launch speed aimed at, rad/s.
    pub launch_speed_rad_s: f64,
    /// Aims around it that are as good to a millisecond, rad/s.
    pub as_good_rad_s: Interval,
    /// Aims around it that lose no more than a hundredth of a second, rad/s.
    pub band_rad_s: Interval,
    /// Standard deviation of the launch speed with this flywheel, rad/s.
    pub launch_sd_rad_s: f64,
    /// Mean sixty-foot time, s: `(1 − p) · mean_away_s + p · stall_cost`.
    pub mean_s: f64,
    /// 95 % interval of that mean, s.
    pub mean_interval_s: Interval,
    /// Mean of the launches that got away, s.
    pub mean_away_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
    /// Tenth percentile, s.
    pub p10_s: f64,
    /// Ninetieth percentile, s.
    pub p90_s: f64,
    /// Share within the tolerance of this flywheel's quickest.
    pub share_within_tolerance: f64,
    /// Share of launches that stall or do not finish.
    pub share_stalled: f64,
    /// 95 % interval of that share; it also covers what no launch has shown.
    pub share_stalled_interval: Interval,
    /// 95 % intervals of the rest.
    pub intervals: AimIntervals,
    /// Standard deviation, with all that its error is told from, s.
    pub(super) replicated_sd_s: Replicated,
}

/// 95 % intervals of what is told of the launches that got away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AimIntervals {
    /// Of their mean, s.
    pub mean_away_s: Interval,
    /// Of the standard deviation, s.
    pub sd_s: Interval,
    /// Of the tenth percentile, s.
    pub p10_s: Interval,
    /// Of the ninetieth, s.
    pub p90_s: Interval,
    /// Of the share within tolerance.
    pub share_within_tolerance: Interval,
}

/// Sums up a table at its lowest mean; launches in up to `within_s` are within tolerance.
pub fn summarise(table: &LaunchTable, range: &SpeedRange, lowest: &Lowest, within_s: f64) -> Aim {
    let sd = table.law().launch_sd_rad_s;
    let aim = lowest.aim_rad_s;
    let spread = table.spread(aim, sd);
    let sd_s = spread.sd_s();
    let p10_s = spread.percentile_s(0.1).estimate();
    let p90_s = spread.percentile_s(0.9).estimate();
    let within = spread.share_within(within_s).estimate_within(0.0, 1.0);
    let stalled = table.stalled(aim, sd);
    let away = table.away(aim, sd).estimate();
    Aim {
        launch_speed_rad_s: aim,
        as_good_rad_s: table.band(range, sd, lowest, AS_GOOD_S),
        band_rad_s: table.band(range, sd, lowest, BAND_S),
        launch_sd_rad_s: sd,
        mean_s: lowest.mean_s,
        mean_interval_s: table.mean(aim, sd).estimate().interval,
        mean_away_s: away.value,
        sd_s: sd_s.value,
        p10_s: p10_s.value,
        p90_s: p90_s.value,
        share_within_tolerance: within.value,
        share_stalled: stalled.value,
        share_stalled_interval: stalled.interval,
        intervals: AimIntervals {
            mean_away_s: away.interval,
            sd_s: sd_s.estimate().interval,
            p10_s: p10_s.interval,
            p90_s: p90_s.interval,
            share_within_tolerance: within.interval,
        },
        replicated_sd_s: sd_s,
    }
}
