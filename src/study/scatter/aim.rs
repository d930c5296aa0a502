//! The aim: the launch speed with the lowest mean sixty-foot time under a driver's scatter.

use super::super::sweep::speeds;
use super::super::{Progress, StudyError, on_all_cores};
use super::draws::Draws;
use super::mean_curve::MeanCurve;
use super::scattered_rig::ScatteredRig;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::numerics::Interval;
use crate::numerics::summary::{mean, mean_interval, percentile, standard_deviation};
use crate::numerics::{Lowest, lowest_between};
use std::convert::Infallible;

/// Step in which aims are tried before the best is refined, rad/s (25 rpm).
const AIM_STEP_RAD_S: f64 = 25.0 * RAD_S_PER_RPM;
/// Aims are refined down to this, rad/s (1 rpm): nobody holds an engine steadier.
const NEAR_ENOUGH_RAD_S: f64 = RAD_S_PER_RPM;
/// Aims whose mean lies within this of the lowest are as good, s: a millisecond, the last
/// figure of a time slip.
pub const AS_GOOD_S: f64 = 0.001;

/// Where the mean curve is lowest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LowestMean {
    /// Launch speed aimed at, rad/s.
    pub aim_rad_s: f64,
    /// Mean sixty-foot time there, by the curve, s.
    pub mean_s: f64,
    /// Aims around it that are as good, rad/s.
    pub as_good_rad_s: Interval,
}

/// The lowest point of a mean curve over a range of aims, for a standard deviation of the
/// launch speed in rad/s. Every aim on an even grid is tried, so a second hump is not missed;
/// the best is refined by golden section between its neighbours.
pub fn lowest_mean(curve: &MeanCurve, range: &SpeedRange, sd_rad_s: f64) -> LowestMean {
    let mean_at = |aim: f64| curve.at(aim, sd_rad_s).mean_s;
    let tried: Vec<(f64, f64)> = speeds(range, AIM_STEP_RAD_S)
        .into_iter()
        .map(|aim| (aim, mean_at(aim)))
        .collect();
    let (index, best) = tried
        .iter()
        .copied()
        .enumerate()
        .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
        .unwrap_or((0, (range.low_rad_s(), f64::NAN)));
    let at = |i: Option<usize>| i.and_then(|i| tried.get(i)).map_or(best.0, |p| p.0);
    let refined = refine(
        mean_at,
        (at(index.checked_sub(1)), at(Some(index + 1))),
        best,
    );
    let limit_s = refined.1 + AS_GOOD_S;
    let walk = |points: &mut dyn Iterator<Item = &(f64, f64)>| {
        points
            .take_while(|point| point.1 <= limit_s)
            .last()
            .map_or(refined.0, |point| point.0)
    };
    let low = walk(&mut tried.iter().rev().filter(|p| p.0 <= refined.0));
    let high = walk(&mut tried.iter().filter(|p| p.0 >= refined.0));
    LowestMean {
        aim_rad_s: refined.0,
        mean_s: refined.1,
        as_good_rad_s: Interval {
            low: low.min(refined.0),
            high: high.max(refined.0),
        },
    }
}

fn refine(mean_at: impl Fn(f64) -> f64, bracket: (f64, f64), known: (f64, f64)) -> (f64, f64) {
    let (at, value) = known;
    let known = Lowest { at, value };
    let Ok(lowest) = lowest_between(bracket, NEAR_ENOUGH_RAD_S, Some(known), |aim| {
        Ok::<_, Infallible>(mean_at(aim))
    });
    (lowest.at, lowest.value)
}

/// What a flywheel does at its aim, from real launches.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// Launch speed aimed at, rad/s.
    pub launch_speed_rad_s: f64,
    /// Aims around it that are as good to a millisecond, rad/s.
    pub as_good_rad_s: Interval,
    /// Standard deviation of the launch speed with this flywheel, rad/s.
    pub launch_sd_rad_s: f64,
    /// Mean sixty-foot time, s; stalled launches at their cost.
    pub mean_s: f64,
    /// 95 % interval of that mean.
    pub mean_interval_s: Interval,
    /// Standard deviation of sixty-foot time, s.
    pub sd_s: f64,
    /// Tenth percentile, s.
    pub p10_s: f64,
    /// Ninetieth percentile, s.
    pub p90_s: f64,
    /// Share of launches within the tolerance of this flywheel's quickest.
    pub share_within_tolerance: f64,
    /// Share of launches that stalled or did not finish.
    pub share_stalled: f64,
    /// Mean of the launches less the mean curve's, s: the curve's error at the aim.
    pub curve_error_s: f64,
    /// Sixty-foot time of every draw, s; stalled launches at their cost.
    pub times_s: Vec<f64>,
}

/// Launches every draw of several rigs at an aim each.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn launch_draws(
    aimed: &[(&ScatteredRig, f64)],
    draws: &Draws,
    progress: &dyn Progress,
) -> Result<Vec<Vec<Option<f64>>>, StudyError> {
    let jobs: Vec<_> = aimed
        .iter()
        .flat_map(|(rig, aim)| {
            draws
                .chances()
                .iter()
                .map(move |chance| (*rig, *aim, chance))
        })
        .collect();
    let times = on_all_cores(&jobs, progress, |(rig, aim, chance)| {
        Ok(rig.try_once(&rig.attempt(*aim, chance))?)
    })?;
    Ok(times
        .chunks(draws.chances().len())
        .map(<[_]>::to_vec)
        .collect())
}

/// Sums up the launches at an aim.
pub fn summarise(
    rig: &ScatteredRig,
    lowest: &LowestMean,
    times: &[Option<f64>],
    draws: &Draws,
    within_s: f64,
) -> Aim {
    let times_s: Vec<f64> = times
        .iter()
        .map(|time| time.unwrap_or(rig.stall_cost_s()))
        .collect();
    let share = |keep: &dyn Fn(&Option<f64>) -> bool| {
        let kept: Vec<f64> = times
            .iter()
            .map(|time| f64::from(u8::from(keep(time))))
            .collect();
        mean(&kept)
    };
    let mean_s = mean(&times_s);
    Aim {
        launch_speed_rad_s: lowest.aim_rad_s,
        as_good_rad_s: lowest.as_good_rad_s,
        launch_sd_rad_s: rig.launch_sd_rad_s,
        mean_s,
        mean_interval_s: mean_interval(&draws.block_means(&times_s)),
        sd_s: standard_deviation(&times_s),
        p10_s: percentile(&times_s, 0.1),
        p90_s: percentile(&times_s, 0.9),
        share_within_tolerance: share(&|time| time.is_some_and(|time| time <= within_s)),
        share_stalled: share(&|time| time.is_none()),
        curve_error_s: mean_s - lowest.mean_s,
        times_s,
    }
}
