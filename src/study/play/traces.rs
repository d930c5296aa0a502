//! Engine and input-shaft speed over time, on a coarser grid, kept so that lines between can be
//! drawn: time runs from first bite to lock-up and from there to the end, each in even parts, so
//! that the corner at lock-up stays a corner.

use super::{Knot, Play, attempt};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Rig, run, trace};
use crate::study::{Progress, StudyError, on_all_cores};

/// Samples to lock-up, and from there to the end, both ends included.
pub const SAMPLES: (usize, usize) = (18, 22);
/// Launch speeds of the traces at most.
const MOST_SPEEDS: usize = 14;
/// Every so many of the lines' grips and releases has traces.
const EVERY: (usize, usize) = (3, 2);
/// Points of the trace that the samples are taken from, s.
const EVERY_S: f64 = 0.004;

/// One launch over time.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceNode {
    /// Lock-up, or the end where the clutch still slips there, s from first bite.
    pub lock_s: f64,
    /// 60 ft or the stall, s from first bite.
    pub end_s: f64,
    /// Engine and input-shaft speed, rpm, at the samples.
    pub rpm: Vec<(f64, f64)>,
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

/// The launches over time of one flywheel.
pub(super) fn traces(
    rig: &Rig,
    play: &Play,
    lines: &[Vec<Knot>],
    progress: &dyn Progress,
) -> Result<Traces, StudyError> {
    let grips: Vec<f64> = play.grips.iter().copied().step_by(EVERY.0).collect();
    let releases: Vec<f64> = play.releases.iter().copied().step_by(EVERY.1).collect();
    let speeds_rpm = speeds(lines.get(lines.len() / 2).map_or(&[], Vec::as_slice));
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

/// Launch speeds for the traces: the knots of the middle line, thinned: they stand close where
/// launches change fast.
fn speeds(line: &[Knot]) -> Vec<u16> {
    let last = line.len().saturating_sub(1);
    let parts = MOST_SPEEDS.min(line.len()).saturating_sub(1).max(1);
    let mut speeds: Vec<u16> = (0..=parts)
        .filter_map(|part| line.get(part * last / parts))
        .map(|knot| knot.rpm)
        .collect();
    speeds.dedup();
    speeds
}

fn node(rig: &Rig, rpm: f64, grip: f64, release: f64) -> Result<TraceNode, StudyError> {
    let attempt = attempt(rpm, grip, release);
    let launch = run(rig, &attempt, Mark::Ft60)?;
    let points = trace(rig, &attempt, Mark::Ft60, EVERY_S)?;
    let end_s = points.last().map_or(0.0, |point| point.time_s);
    let lock_s = launch.lock_at_s.unwrap_or(end_s).min(end_s);
    let even = |from: f64, to: f64, count: usize| {
        let parts = u32::try_from(count.saturating_sub(1)).unwrap_or(1);
        (0..=parts).map(move |part| from + (to - from) * f64::from(part) / f64::from(parts))
    };
    let rpm = even(0.0, lock_s, SAMPLES.0)
        .chain(even(lock_s, end_s, SAMPLES.1))
        .map(|time_s| sample(&points, time_s))
        .collect();
    Ok(TraceNode { lock_s, end_s, rpm })
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
