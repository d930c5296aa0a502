//! Mean and spread of sixty-foot time over the aim: the band around a flywheel's curve.

use super::super::sweep::{SWEEP_STEP_RAD_S, speeds};
use super::table::LaunchTable;
use crate::car::driver::SpeedRange;
use rayon::prelude::*;

/// Mean and spread at one aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BandPoint {
    /// Launch speed aimed at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time, s.
    pub mean_s: f64,
    /// Standard deviation of the launches that got away, s.
    pub sd_s: f64,
    /// Share that stalls or does not finish.
    pub stalled: f64,
}

/// The band over a range of aims.
pub fn band(table: &LaunchTable, range: &SpeedRange) -> Vec<BandPoint> {
    let sd = table.law().launch_sd_rad_s;
    speeds(range, SWEEP_STEP_RAD_S)
        .into_par_iter()
        .map(|aim_rad_s| {
            let there = table.at(aim_rad_s, sd);
            BandPoint {
                aim_rad_s,
                mean_s: there.mean_s,
                sd_s: table.sd_at_s(aim_rad_s, sd),
                stalled: there.stalled,
            }
        })
        .collect()
}
