//! Mean and spread of sixty-foot time over the aim: the band around a flywheel's curve.

use super::super::sweep::{SWEEP_STEP_RAD_S, speeds};
use super::mean_curve::MeanCurve;
use super::scattered_rig::ScatteredRig;
use crate::car::driver::SpeedRange;

/// Mean and spread at one aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BandPoint {
    /// Launch speed aimed at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time, s.
    pub mean_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
}

/// The band over a range of aims.
pub fn band(curve: &MeanCurve, rig: &ScatteredRig, range: &SpeedRange) -> Vec<BandPoint> {
    speeds(range, SWEEP_STEP_RAD_S)
        .into_iter()
        .map(|aim_rad_s| {
            let there = curve.at(aim_rad_s, rig.launch_sd_rad_s);
            BandPoint {
                aim_rad_s,
                mean_s: there.mean_s,
                sd_s: there.sd_s,
            }
        })
        .collect()
}
