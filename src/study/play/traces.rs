//! Engine and input-shaft speed over time, on a coarser grid, kept so that lines between can be
//! drawn: time runs from first bite to lock-up and from there to the end, each in even parts, so
//! that the corner at lock-up stays a corner.

use super::{Knot, Play, attempt};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Attempt, Rig, run, trace};
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

/// What the grid draws of a launch between its own: times, s, and engine speeds, rpm.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawn {
    /// Time and engine speed at the samples.
    pub(super) points: Vec<(f64, f64)>,
}

impl Drawn {
    /// The lowest engine speed, rpm.
    pub(super) fn lowest_rpm(&self) -> f64 {
        let speeds = self.points.iter().map(|(_, rpm)| *rpm);
        speeds.fold(f64::INFINITY, f64::min)
    }
}

impl Traces {
    /// A launch weighed from the eight around it, or fewer on the grid's own values; `None` for a
    /// grid without launches.
    pub(super) fn at(&self, speed_rpm: f64, grip: f64, release: f64) -> Option<Drawn> {
        let speeds: Vec<f64> = self.speeds_rpm.iter().map(|rpm| f64::from(*rpm)).collect();
        let (mut lock_s, mut end_s) = (0.0, 0.0);
        let mut engine_rpm = vec![0.0; SAMPLES.0 + SAMPLES.1];
        for (r, release_weight) in neighbours(&self.releases, release) {
            for (g, grip_weight) in neighbours(&self.grips, grip) {
                for (s, speed_weight) in neighbours(&speeds, speed_rpm) {
                    let weight = release_weight * grip_weight * speed_weight;
                    let at = (r * self.grips.len() + g) * speeds.len() + s;
                    let node = self.nodes.get(at)?;
                    lock_s += weight * node.lock_s;
                    end_s += weight * node.end_s;
                    for (sum, (engine, _)) in engine_rpm.iter_mut().zip(&node.rpm) {
                        *sum += weight * engine;
                    }
                }
            }
        }
        let times = even(0.0, lock_s, SAMPLES.0).chain(even(lock_s, end_s, SAMPLES.1));
        Some(Drawn {
            points: times.zip(engine_rpm).collect(),
        })
    }
}

/// The places on an axis to either side of a value, with their weights.
fn neighbours(axis: &[f64], value: f64) -> Vec<(usize, f64)> {
    let last = axis.len().saturating_sub(1);
    let above = axis.iter().position(|node| *node >= value).unwrap_or(last);
    let (Some(low), Some(high)) = (axis.get(above.saturating_sub(1)), axis.get(above)) else {
        return Vec::new();
    };
    if above == 0 {
        return vec![(0, 1.0)];
    }
    let share = ((value - low) / (high - low)).min(1.0);
    vec![(above - 1, 1.0 - share), (above, share)]
}

/// So many values from one to another, both included.
fn even(from: f64, to: f64, count: usize) -> impl Iterator<Item = f64> {
    let parts = u32::try_from(count.saturating_sub(1)).unwrap_or(1);
    (0..=parts).map(move |part| from + (to - from) * f64::from(part) / f64::from(parts))
}

/// How far the drawn engine speed lies from that of a launch of its own, rpm.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawnError {
    /// Of the lowest speed.
    pub(super) lowest_rpm: f64,
    /// At every sample, at the same time.
    pub(super) points_rpm: Vec<f64>,
}

/// Holds a drawn launch against one of its own.
pub(super) fn held_against(
    drawn: &Drawn,
    rig: &Rig,
    attempt: &Attempt,
) -> Result<DrawnError, StudyError> {
    let points = trace(rig, attempt, Mark::Ft60, EVERY_S)?;
    let lowest = points.iter().map(|point| point.now.engine_rad_s);
    let lowest_rpm = lowest.fold(f64::INFINITY, f64::min) / RAD_S_PER_RPM;
    Ok(DrawnError {
        lowest_rpm: (drawn.lowest_rpm() - lowest_rpm).abs(),
        points_rpm: drawn
            .points
            .iter()
            .map(|(time_s, rpm)| (rpm - sample(&points, *time_s).0).abs())
            .collect(),
    })
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
