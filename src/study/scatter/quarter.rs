//! Down to 1,320 ft: what the light flywheel earns in each gear of what it loses at the line.
//!
//! A whole run costs ten times a launch to 60 ft, and after 60 ft the driver's scatter adds
//! nothing new. So only some of the draws are driven to the end; how their times follow the
//! sixty-foot time is carried over to all of them (a control variate: Owen, *Monte Carlo theory,
//! methods and examples*, sec. 8.9, from memory).

use super::super::{Progress, StudyError, on_all_cores};
use super::aim::Aim;
use super::draws::Draws;
use super::scattered_rig::ScatteredRig;
use crate::car::track::Mark;
use crate::launch::drive::drive;
use crate::launch::marks::Clock;
use crate::launch::{Outcome, SCATTER_ACCURACY};
use crate::numerics::Interval;
use crate::numerics::summary::{mean, mean_interval, standard_deviation};

/// Draws driven to the end, spread evenly over all.
const WHOLE_RUNS: usize = 64;

/// Times to 1,320 ft under the same draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Quarter {
    /// Mean time, s; a launch that stalls counts its cost more than the others' mean.
    pub mean_s: f64,
    /// Standard deviation, s.
    pub sd_s: f64,
    /// Times as the sixty-foot times of all draws predict them, s.
    predicted_s: Vec<f64>,
    /// What the whole runs differ by from what was predicted, s, in the order of the draws driven;
    /// `None` for a run that did not get there.
    residuals_s: Vec<Option<f64>>,
}

/// Mean difference of two flywheels over 1,320 ft, the first less the second, with its interval.
pub fn difference(one: &Quarter, other: &Quarter, draws: &Draws) -> (f64, Interval) {
    let predicted: Vec<f64> = one
        .predicted_s
        .iter()
        .zip(&other.predicted_s)
        .map(|(one_s, other_s)| one_s - other_s)
        .collect();
    let residuals: Vec<f64> = one
        .residuals_s
        .iter()
        .zip(&other.residuals_s)
        .filter_map(|(one_s, other_s)| Some((*one_s)? - (*other_s)?))
        .collect();
    let residual = mean_interval(&residuals);
    let sampled = mean_interval(&draws.block_means(&predicted));
    let centre = mean(&predicted);
    let half = (residual.high - residual.low).hypot(sampled.high - sampled.low) / 2.0;
    (
        centre,
        Interval {
            low: centre - half,
            high: centre + half,
        },
    )
}

/// Times to 1,320 ft of several rigs at their aims.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn quarters(
    aimed: &[(&ScatteredRig, &Aim)],
    draws: &Draws,
    progress: &dyn Progress,
) -> Result<Vec<Quarter>, StudyError> {
    let chosen = chosen(draws);
    let jobs: Vec<_> = aimed
        .iter()
        .flat_map(|(rig, aim)| chosen.iter().map(move |index| (*rig, *aim, *index)))
        .collect();
    let times_s = on_all_cores(&jobs, progress, |(rig, aim, index)| {
        let Some(chance) = draws.chances().get(*index) else {
            return Ok(None);
        };
        let attempt = rig.attempt(aim.launch_speed_rad_s, chance);
        let mut clock = Clock::new(Mark::Ft1320);
        let ending = drive(
            &rig.rig,
            &attempt,
            Mark::Ft1320,
            &SCATTER_ACCURACY,
            &mut clock,
        )?;
        let finished = ending.outcome == Outcome::Finished;
        Ok(finished.then(|| clock.time_s(Mark::Ft1320)).flatten())
    })?;
    Ok(aimed
        .iter()
        .zip(times_s.chunks(chosen.len()))
        .map(|((_, aim), times_s)| quarter(aim, &chosen, times_s))
        .collect())
}

/// Indices of the draws that are driven to the end, spread evenly over the blocks.
fn chosen(draws: &Draws) -> Vec<usize> {
    let total = draws.chances().len();
    let step = total.div_ceil(WHOLE_RUNS).max(1);
    (0..total).step_by(step).collect()
}

/// A straight line of whole-run time over sixty-foot time, and what it leaves.
fn quarter(aim: &Aim, chosen: &[usize], times_s: &[Option<f64>]) -> Quarter {
    let known: Vec<(f64, f64)> = chosen
        .iter()
        .zip(times_s)
        .filter_map(|(index, time_s)| Some((*aim.times_s.get(*index)?, (*time_s)?)))
        .collect();
    let (sixties, wholes): (Vec<f64>, Vec<f64>) = known.iter().copied().unzip();
    let (centre, level) = (mean(&sixties), mean(&wholes));
    let (mut together, mut apart) = (0.0, 0.0);
    for (sixty, whole) in &known {
        together += (sixty - centre) * (whole - level);
        apart += (sixty - centre).powi(2);
    }
    let slope = if apart > 0.0 { together / apart } else { 1.0 };
    let predict = |sixty: f64| level + slope * (sixty - centre);
    let predicted_s: Vec<f64> = aim.times_s.iter().map(|sixty| predict(*sixty)).collect();
    let residuals_s: Vec<Option<f64>> = chosen
        .iter()
        .zip(times_s)
        .map(|(index, time_s)| {
            let sixty = aim.times_s.get(*index).copied()?;
            Some((*time_s)? - predict(sixty))
        })
        .collect();
    let left = standard_deviation(&residuals_s.iter().copied().flatten().collect::<Vec<_>>());
    Quarter {
        mean_s: mean(&predicted_s),
        sd_s: standard_deviation(&predicted_s).hypot(left),
        predicted_s,
        residuals_s,
    }
}
