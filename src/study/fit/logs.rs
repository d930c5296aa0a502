//! What a run's own log adds to its slip.

use super::learnt::Fit;
use super::model::LOCK_ERROR_S;
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::logged_run::{Channel, LoggedRun};
use crate::car::slip::{Shown, SinceBite, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Attempt, LaunchError, Rig, run, trace};
use crate::study::logged_run::{
    Overlay, launch_speed_rad_s, overlay, reading_about, sixty_foot_since_bite_s,
};

/// The model's run is looked at this often, s: finer than any log.
const EVERY_S: f64 = 0.01;
/// The lowest speed found by a log's rule in the model's run and the one that it reports are the
/// same within this, rad/s: what readings every 0.01 s leave open.
const SAME_LOWEST_RAD_S: f64 = 100.0 * RAD_S_PER_RPM;

/// A log is read at these shares of the model's time to 60 ft: closest where the clutch bites, and
/// not to the end, which a quicker run than the model's has passed.
const READ_AT: [f64; 6] = [0.05, 0.1, 0.17, 0.26, 0.4, 0.6];

/// Adds to a slip what its log tells and the slip does not: launch speed, lowest engine speed,
/// lock-up, and readings of every channel over the launch. A log in which first bite cannot be
/// found adds nothing.
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
    let told = told_by(log, &rig, speed)?;
    let new = told.into_iter();
    let new: Vec<_> = new
        .filter(|told| slip.figure(told.shown).is_none())
        .collect();
    slip.figures.extend(new);
    Ok(slip)
}

/// What a log tells of a run, by what the model makes of it; nothing where first bite cannot be
/// found.
fn told_by(log: &LoggedRun, rig: &Rig, speed: f64) -> Result<Vec<SlipFigure>, LaunchError> {
    let attempt = Attempt::from_speed(speed);
    let launch = run(rig, &attempt, Mark::Ft60)?;
    let points = trace(rig, &attempt, Mark::Ft60, EVERY_S)?;
    let Some(found) = overlay(log, rig, &launch, &points) else {
        return Ok(Vec::new());
    };
    let logged = found.logged;
    // After a shift before 60 ft the lowest speed of a log is not the one that a launch reports.
    let same = found.model.lowest.is_some_and(|lowest| {
        (lowest.speed.value - launch.slowest_rad_s).abs() < SAME_LOWEST_RAD_S
    });
    let lowest = logged.lowest.filter(|_| same);
    let lowest = lowest.map(|lowest| SlipFigure {
        shown: Shown::LowestEngineSpeed,
        value: lowest.speed.value,
        step: 0.0,
    });
    let lock_up = logged.lock_at_s.map(|lock| SlipFigure {
        shown: Shown::LockUp,
        value: lock.value,
        step: LOCK_ERROR_S,
    });
    let until_s = sixty_foot_since_bite_s(&launch);
    let readings = readings(log, logged.first_bite_s.value, until_s);
    Ok(lowest.into_iter().chain(lock_up).chain(readings).collect())
}

/// Every channel as it was read over a launch, where it has no gap.
fn readings(log: &LoggedRun, bite_s: f64, until_s: f64) -> Vec<SlipFigure> {
    let reading = |channel: Channel, share: f64| {
        let (at_s, value) = reading_about(log, channel, bite_s + share * until_s)?;
        Some(SlipFigure {
            shown: Shown::Logged(channel, SinceBite::new(at_s - bite_s)?),
            value,
            step: 0.0,
        })
    };
    let channels = log.channels.iter().map(|logged| logged.channel);
    channels
        .flat_map(|channel| READ_AT.map(|share| reading(channel, share)))
        .flatten()
        .collect()
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
