//! What a run's own log adds to its slip.

use super::learnt::Fit;
use crate::car::Car;
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

/// A log is read at these shares of the model's time to 60 ft: while the clutch bites. Later
/// readings follow chance along a path so bent, where tyres spin, that what is made of them is
/// surer than it may be (docs/slips.md).
const READ_AT: [f64; 3] = [0.05, 0.1, 0.17];

/// Adds to a slip what its log tells: the launch speed where the slip has none, and readings of
/// every channel while the clutch bites. The lowest engine speed and the lock-up that a rule finds
/// in a log are no readings of it: the lowest of many readings lies below the speed itself, and
/// speeds come together a little before they are the same. A log in which first bite cannot be
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
    slip.figures.extend(told);
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
    let until_s = sixty_foot_since_bite_s(&launch);
    Ok(readings(log, found.logged.first_bite_s.value, until_s))
}

/// Every channel as it was read while the clutch bites, where it has no gap.
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
