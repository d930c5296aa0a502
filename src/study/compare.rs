//! One flywheel after another, without scatter: sweep, quickest launch, window.

use super::quickest::{Quickest, quickest};
use super::release::{best_stretch, stretches};
use super::sweep::{SWEEP_STEP_RAD_S, Sweep, sweep_all};
use super::window::{Window, window};
use super::{Progress, StudyError, on_all_cores};
use crate::car::track::Mark;
use crate::car::{Car, Flywheel};
use crate::launch::{Launch, Rig, run};

/// What one flywheel does in a car.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelStudy<'c> {
    /// The flywheel.
    pub wheel: &'c Flywheel,
    /// The car with it.
    pub rig: Rig<'c>,
    /// Sixty-foot time over launch speed.
    pub sweep: Sweep,
    /// Its quickest launch; `None` if no launch speed of the range gets it to 60 ft.
    pub best: Option<Best>,
}

/// The quickest launch of a flywheel, and around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Best {
    /// Launch speed and time.
    pub quickest: Quickest,
    /// How far off that is still fine.
    pub window: Window,
    /// The launch in full, to the last mark.
    pub launch: Launch,
}

/// Studies every flywheel of a car: sweep, quickest, window, the quickest launch in full.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn study_wheels<'c>(
    car: &'c Car,
    wheels: &[&'c Flywheel],
    progress: &dyn Progress,
) -> Result<Vec<WheelStudy<'c>>, StudyError> {
    let rigs: Vec<Rig> = wheels.iter().map(|wheel| Rig::new(car, wheel)).collect();
    let releases = releases(car, &rigs, progress)?;
    let swept: Vec<(&Rig, f64)> = rigs.iter().zip(releases).collect();
    let sweeps = sweep_all(&swept, &car.driver.launch_range, SWEEP_STEP_RAD_S, progress)?;
    let jobs: Vec<(&&Flywheel, Rig, Sweep)> = wheels
        .iter()
        .zip(rigs)
        .zip(sweeps)
        .map(|((wheel, rig), sweep)| (wheel, rig, sweep))
        .collect();
    on_all_cores(&jobs, progress, |(wheel, rig, sweep)| {
        study_one(car, wheel, rig, sweep)
    })
}

/// Step of launch speed by which a release is chosen, rad/s (50 rpm).
const RELEASE_STEP_RAD_S: f64 = 2.0 * SWEEP_STEP_RAD_S;

/// For each rig the release, over the sheet's own, with which its quickest launch is quickest.
fn releases(car: &Car, rigs: &[Rig], progress: &dyn Progress) -> Result<Vec<f64>, StudyError> {
    let stretches = stretches(car);
    if stretches.len() < 2 {
        return Ok(vec![1.0; rigs.len()]);
    }
    let tried: Vec<(&Rig, f64)> = rigs
        .iter()
        .flat_map(|rig| stretches.iter().map(move |stretch| (rig, *stretch)))
        .collect();
    let sweeps = sweep_all(
        &tried,
        &car.driver.launch_range,
        RELEASE_STEP_RAD_S,
        progress,
    )?;
    Ok(sweeps
        .chunks(stretches.len())
        .map(|sweeps| {
            let quickest = |sweep: &Sweep| {
                let time_s = sweep.quickest().map_or(f64::INFINITY, |(_, time_s)| time_s);
                (sweep.release_stretch(), time_s)
            };
            let times: Vec<(f64, f64)> = sweeps.iter().map(quickest).collect();
            best_stretch(&times).unwrap_or(1.0)
        })
        .collect())
}

fn study_one<'c>(
    car: &'c Car,
    wheel: &'c Flywheel,
    rig: &Rig<'c>,
    sweep: &Sweep,
) -> Result<WheelStudy<'c>, StudyError> {
    let best = match quickest(rig, sweep)? {
        None => None,
        Some(quickest) => {
            let attempt = quickest.attempt();
            Some(Best {
                quickest,
                window: window(rig, sweep, &quickest, car.track.tolerance_s.get())?,
                launch: run(rig, &attempt, Mark::Ft1320)?,
            })
        }
    };
    Ok(WheelStudy {
        wheel,
        rig: rig.clone(),
        sweep: sweep.clone(),
        best,
    })
}
