//! What a run's own log adds to its slip.

use super::learnt::Fit;
use super::model::LOCK_ERROR_S;
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::logged_run::LoggedRun;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Attempt, LaunchError, Rig, run, trace};
use crate::study::logged_run::{Overlay, launch_speed_rad_s, overlay};

/// The model's run is looked at this often, s: finer than any log.
const EVERY_S: f64 = 0.01;
/// The lowest speed found by a log's rule in the model's run and the one that it reports are the
/// same within this, rad/s: what readings every 0.01 s leave open.
const SAME_LOWEST_RAD_S: f64 = 100.0 * RAD_S_PER_RPM;

/// Adds to a slip what its log tells and the slip does not: launch speed, lowest engine speed,
/// lock-up. A log in which first bite cannot be found adds nothing.
///
/// # Errors
/// When the launch beside it cannot be computed.
pub fn with_log(car: &Car, slip: &Slip) -> Result<Slip, LaunchError> {
    let mut slip = slip.clone();
    let car = car.at_meeting(slip.meeting);
    let (Some(log), Some(wheel)) = (&slip.log, car.flywheels.all().get(slip.wheel)) else {
        return Ok(slip);
    };
    let rig = Rig::new(&car, wheel);
    slip.launch_speed_rad_s = slip
        .launch_speed_rad_s
        .or_else(|| launch_speed_rad_s(log, &rig));
    let Some(speed) = slip.launch_speed_rad_s else {
        return Ok(slip);
    };
    let attempt = Attempt::from_speed(speed);
    let launch = run(&rig, &attempt, Mark::Ft60)?;
    let points = trace(&rig, &attempt, Mark::Ft60, EVERY_S)?;
    let Some(found) = overlay(log, &rig, &launch, &points) else {
        return Ok(slip);
    };
    let mut add = |shown: Shown, value: Option<f64>, step: f64| {
        if let Some(value) = value.filter(|_| slip.figure(shown).is_none()) {
            slip.figures.push(SlipFigure { shown, value, step });
        }
    };
    let logged = found.logged;
    // After a shift before 60 ft the lowest speed of a log is not the one that a launch reports.
    let same = found.model.lowest.is_some_and(|lowest| {
        (lowest.speed.value - launch.slowest_rad_s).abs() < SAME_LOWEST_RAD_S
    });
    add(
        Shown::LowestEngineSpeed,
        logged
            .lowest
            .filter(|_| same)
            .map(|lowest| lowest.speed.value),
        0.0,
    );
    add(
        Shown::LockUp,
        logged.lock_at_s.map(|lock| lock.value),
        LOCK_ERROR_S,
    );
    Ok(slip)
}

/// A run's log over what the model makes of the same run with the values that fit best.
#[derive(Debug, Clone, PartialEq)]
pub struct LogOverModel {
    /// Row of the slip.
    pub row: usize,
    /// The log.
    pub log: LoggedRun,
    /// What is found in either.
    pub overlay: Overlay,
    /// The model's run to 60 ft.
    pub points: Vec<TracePoint>,
}

/// Every log of a fit in which first bite can be found, over the model's run.
///
/// # Errors
/// When a launch beside one cannot be computed.
pub fn logs_over_model(fit: &Fit) -> Result<Vec<LogOverModel>, LaunchError> {
    let mut all = Vec::new();
    for fitted in &fit.runs {
        let slip = &fitted.slip;
        let car = fit.car.at_meeting(slip.meeting);
        let (Some(log), Some(wheel)) = (&slip.log, car.flywheels.all().get(slip.wheel)) else {
            continue;
        };
        let rig = Rig::new(&car, wheel);
        let attempt = Attempt::from_speed(fitted.launch_speed_rad_s);
        let launch = run(&rig, &attempt, Mark::Ft60)?;
        let points = trace(&rig, &attempt, Mark::Ft60, EVERY_S)?;
        let overlay = overlay(log, &rig, &launch, &points);
        all.extend(overlay.map(|overlay| LogOverModel {
            row: slip.row,
            log: log.clone(),
            overlay,
            points,
        }));
    }
    Ok(all)
}
