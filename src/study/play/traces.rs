//! Engine and input-shaft speed over time, on a coarser grid: each is a launch of its own, and a
//! reader is shown the nearest. Lines weighed from launches around were tried, and were off by
//! hundreds of rpm: where the clutch locks and how deep the engine falls move too fast between.
//! Time runs from first bite to lock-up and from there to the end, each in even parts, so that the
//! corner at lock-up stays a corner.

use super::lines::to_u16;
use super::{Play, attempt};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::track::Mark;
use crate::launch::drive::drive;
use crate::launch::mode::Mode;
use crate::launch::observer::{DrivenLeg, Event, Observer};
use crate::launch::trace::{Trace, TracePoint};
use crate::launch::{Attempt, Rig, SCATTER_ACCURACY};
use crate::study::{Progress, StudyError, on_all_cores};

/// Samples to lock-up, and from there to the end, both ends included.
pub const SAMPLES: (usize, usize) = (18, 22);
/// Launch speeds of the traces.
const SPEEDS: usize = 27;
/// Every so many of the lines' grips and releases has traces.
const EVERY: (usize, usize) = (3, 2);
/// Points of the trace that the samples are taken from, s.
const EVERY_S: f64 = 0.004;

/// One launch over time.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceNode {
    /// Lock-up, or the end where the clutch still slips there, s from first bite.
    pub lock_s: f64,
    /// 60 ft, the stall or the first shift, s from first bite.
    pub end_s: f64,
    /// Lowest engine speed, rpm; it may lie between samples.
    pub lowest_rpm: f64,
    /// Engine speed at the samples, rpm.
    pub engine_rpm: Vec<f64>,
    /// Input-shaft speed at the samples to lock-up, rpm; from there on it is the engine's.
    pub input_rpm: Vec<f64>,
}

/// Launches over time for every launch speed, grip and release of a grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Traces {
    /// Launch speeds, rpm.
    pub speeds_rpm: Vec<u16>,
    /// Grips.
    pub grips: Vec<f64>,
    /// Release times over the sheet's own.
    pub releases: Vec<f64>,
    /// The launches: all launch speeds of the first grip and release, then the next grip.
    pub nodes: Vec<TraceNode>,
}

/// So many values from one to another, both included.
fn even(from: f64, to: f64, count: usize) -> impl Iterator<Item = f64> {
    let parts = u32::try_from(count.saturating_sub(1)).unwrap_or(1);
    (0..=parts).map(move |part| from + (to - from) * f64::from(part) / f64::from(parts))
}

/// The launches over time of one flywheel.
pub(super) fn traces(
    rig: &Rig,
    play: &Play,
    progress: &dyn Progress,
) -> Result<Traces, StudyError> {
    let grips: Vec<f64> = play.grips.iter().copied().step_by(EVERY.0).collect();
    let releases: Vec<f64> = play.releases.iter().copied().step_by(EVERY.1).collect();
    let speeds_rpm = speeds(play.range_rpm);
    let jobs: Vec<(u16, f64, f64)> = releases
        .iter()
        .flat_map(|release| grips.iter().map(move |grip| (*grip, *release)))
        .flat_map(|(grip, release)| speeds_rpm.iter().map(move |rpm| (*rpm, grip, release)))
        .collect();
    let nodes = on_all_cores(&jobs, progress, |(rpm, grip, release)| {
        node(rig, f64::from(*rpm), *grip, *release)
    })?;
    Ok(Traces {
        speeds_rpm,
        grips,
        releases,
        nodes,
    })
}

/// Launch speeds for the traces, even over the range. The knots of a line of times would not do:
/// they stand close on a cliff and leave thousands of rpm between where times change little.
fn speeds((low, high): (u16, u16)) -> Vec<u16> {
    let mut speeds: Vec<u16> = even(f64::from(low), f64::from(high), SPEEDS)
        .map(to_u16)
        .collect();
    speeds.dedup();
    speeds
}

fn node(rig: &Rig, rpm: f64, grip: f64, release: f64) -> Result<TraceNode, StudyError> {
    let first_gear = FirstGear::of(rig, &attempt(rpm, grip, release))?;
    let end_s = first_gear.points.last().map_or(0.0, |point| point.time_s);
    let lock_s = first_gear.lock_s.unwrap_or(end_s).min(end_s);
    let at = |time_s: f64| sample(&first_gear.points, time_s);
    let lowest = first_gear.points.iter().map(|point| point.now.engine_rad_s);
    let to_lock = || even(0.0, lock_s, SAMPLES.0);
    let all = to_lock().chain(even(lock_s, end_s, SAMPLES.1));
    Ok(TraceNode {
        lock_s,
        end_s,
        lowest_rpm: lowest.fold(f64::INFINITY, f64::min) / RAD_S_PER_RPM,
        engine_rpm: all.map(|time_s| at(time_s).0).collect(),
        input_rpm: to_lock().map(|time_s| at(time_s).1).collect(),
    })
}

/// A launch over time until 60 ft, a stall or the first shift: a gear change is a corner whose
/// place moves with the launch, and lines weighed across it would be off by thousands of rpm.
struct FirstGear {
    trace: Trace,
    points: Vec<TracePoint>,
    lock_s: Option<f64>,
    shifted: bool,
}

impl FirstGear {
    fn of(rig: &Rig, attempt: &Attempt) -> Result<Self, StudyError> {
        let mut first_gear = Self {
            trace: Trace::every(EVERY_S),
            points: Vec::new(),
            lock_s: None,
            shifted: false,
        };
        drive(rig, attempt, Mark::Ft60, &SCATTER_ACCURACY, &mut first_gear)?;
        let trace = std::mem::replace(&mut first_gear.trace, Trace::every(EVERY_S));
        first_gear.points = trace.into_points();
        Ok(first_gear)
    }
}

impl Observer for FirstGear {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        if !self.shifted {
            self.trace.leg(rig, mode, leg);
        }
    }

    fn event(&mut self, event: Event, time_s: f64) {
        match event {
            Event::LockedUp => self.lock_s = self.lock_s.or(Some(time_s)),
            Event::ShiftBegun => self.shifted = true,
            Event::FootLifts | Event::NextGear { .. } => {}
        }
    }
}

/// Engine and input-shaft speed at a time, rpm, straight between points.
fn sample(points: &[TracePoint], time_s: f64) -> (f64, f64) {
    let above = points.partition_point(|point| point.time_s < time_s);
    let high = points.get(above).or(points.last());
    let low = points.get(above.saturating_sub(1)).or(high);
    let (Some(low), Some(high)) = (low, high) else {
        return (0.0, 0.0);
    };
    let span = high.time_s - low.time_s;
    let share = if span > 0.0 {
        ((time_s - low.time_s) / span).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let between = |low: f64, high: f64| (low + (high - low) * share) / RAD_S_PER_RPM;
    (
        between(low.now.engine_rad_s, high.now.engine_rad_s),
        between(low.input_rad_s, high.input_rad_s),
    )
}
