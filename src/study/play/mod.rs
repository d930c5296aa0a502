//! Launches computed beforehand for a reader to play with: over launch speed, grip and release.
//!
//! For every grip and release of an even grid there is a line of sixty-foot times over launch
//! speed, its knots set where the curve bends; between knots a line is straight. A reader moves
//! from one grip or release of the grid to the next and nowhere between: the curves have kinks
//! and cliffs whose place moves with both, and a weighing of neighbours was off by as much as
//! 16 ms beside them. Beside a launch that did not get to 60 ft, and on a cliff, no time is given.

mod lines;
mod traces;

pub use lines::{Knot, NARROWEST_RPM, NOT_REACHED, STEEP_S, TIME_STEP_S};
pub use traces::{SAMPLES, TraceNode, Traces};

use super::comparison::{Comparison, Contender};
use super::scatter::sobol::unit_point;
use super::{Progress, StudyError, on_all_cores};
use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::{Attempt, Rig, SCATTER_ACCURACY, sixty_foot};

/// Grips of the grid, over the day's own: 12 % either side in steps of 2 %.
const GRIP_STEPS: u32 = 12;
const GRIP_LOW: f64 = 0.88;
const GRIP_HIGH: f64 = 1.12;
/// Release times of the grid, over the sheet's own, in steps of a tenth.
const RELEASE_STEPS: u32 = 10;
const RELEASE_LOW: f64 = 0.6;
const RELEASE_HIGH: f64 = 1.6;
/// Flywheels to play with at most: a page stays under a megabyte.
pub const MOST_WHEELS: usize = 8;
/// Launches that the grid is checked with, a flywheel.
const CHECKS: usize = 256;

/// One flywheel's launches.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayWheel {
    /// Its index among the flywheels studied.
    pub index: usize,
    /// A line for every release and grip: all grips of the first release, then the next release.
    pub lines: Vec<Vec<Knot>>,
    /// Engine and input-shaft speed over time on a coarser grid.
    pub traces: Traces,
    /// How far off the times are.
    pub check: Check,
}

/// How far the times read off the grid lie from launches of their own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// Largest difference, s.
    pub worst_s: f64,
    /// Launches held against the grid.
    pub launches: usize,
    /// Launches for which the grid gives no time.
    pub unsaid: usize,
}

/// Launches of several flywheels over the same grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Play {
    /// Lowest and highest launch speed, whole rpm.
    pub range_rpm: (u16, u16),
    /// Grips, over the day's own.
    pub grips: Vec<f64>,
    /// Release times, over the sheet's own.
    pub releases: Vec<f64>,
    /// The flywheels.
    pub wheels: Vec<PlayWheel>,
}

/// What the grid says of a launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Said {
    /// Sixty-foot time, s.
    Time(f64),
    /// Somewhere between these, s: a few rpm decide.
    Between(f64, f64),
    /// A launch within a few rpm does not get to 60 ft.
    MayStall,
}

impl Play {
    /// What the grid says of a launch with a flywheel of it: launch speed in rpm, and the places
    /// of grip and release on their axes.
    pub fn read(&self, wheel: &PlayWheel, speed_rpm: f64, grip: usize, release: usize) -> Said {
        wheel
            .lines
            .get(release * self.grips.len() + grip)
            .and_then(|line| lines::at(line, speed_rpm))
            .unwrap_or(Said::MayStall)
    }
}

fn axis(low: f64, high: f64, steps: u32) -> Vec<f64> {
    (0..=steps)
        .map(|step| low + (high - low) * f64::from(step) / f64::from(steps))
        .collect()
}

/// Computes the launches to play with, for the flywheels that are quickest on average.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn study_play(comparison: &Comparison, progress: &dyn Progress) -> Result<Play, StudyError> {
    let range = &comparison.car.driver.launch_range;
    let mut play = Play {
        range_rpm: lines::whole_rpm(range.low_rad_s(), range.high_rad_s()),
        grips: axis(GRIP_LOW, GRIP_HIGH, GRIP_STEPS),
        releases: axis(RELEASE_LOW, RELEASE_HIGH, RELEASE_STEPS),
        wheels: Vec::new(),
    };
    for played in quickest_in_order(comparison) {
        let rig = &played.study.rig;
        let mut wheel = wheel(&play, played.index(), rig, progress)?;
        wheel.check = check(&play, &wheel, rig, progress)?;
        play.wheels.push(wheel);
    }
    Ok(play)
}

/// The flywheels that are quickest on average, as many as there is room for, in the order of the
/// sheet.
fn quickest_in_order<'s, 'c>(comparison: &'s Comparison<'c>) -> Vec<Contender<'s, 'c>> {
    let mut wheels: Vec<Contender> = comparison.contenders().collect();
    wheels.sort_by(|a, b| a.scatter.aim.mean_s.total_cmp(&b.scatter.aim.mean_s));
    wheels.truncate(MOST_WHEELS);
    wheels.sort_by_key(Contender::index);
    wheels
}

fn wheel(
    play: &Play,
    index: usize,
    rig: &Rig,
    progress: &dyn Progress,
) -> Result<PlayWheel, StudyError> {
    let rows = on_all_cores(&play.releases, progress, |release| {
        lines::lines(rig, &play.grips, *release, play.range_rpm)
    })?;
    let lines = rows.into_iter().flatten().collect();
    let traces = traces::traces(rig, play, progress)?;
    Ok(PlayWheel {
        index,
        lines,
        traces,
        check: Check {
            worst_s: 0.0,
            launches: 0,
            unsaid: 0,
        },
    })
}

/// Holds the grid against launches at points that fill it evenly.
fn check(
    play: &Play,
    wheel: &PlayWheel,
    rig: &Rig,
    progress: &dyn Progress,
) -> Result<Check, StudyError> {
    let (low, high) = (f64::from(play.range_rpm.0), f64::from(play.range_rpm.1));
    let points: Vec<(f64, usize, usize)> = (0..CHECKS)
        .map(|index| {
            let at = |dimension| unit_point(index, dimension, 1);
            (
                low + (high - low) * at(0),
                place(play.grips.len(), at(1)),
                place(play.releases.len(), at(2)),
            )
        })
        .collect();
    let differences = on_all_cores(&points, progress, |(speed_rpm, column, row)| {
        let (Some(grip), Some(release)) = (play.grips.get(*column), play.releases.get(*row)) else {
            return Ok(None);
        };
        let time_s = sixty_foot(
            rig,
            &attempt(*speed_rpm, *grip, *release),
            &SCATTER_ACCURACY,
        )?;
        Ok(match play.read(wheel, *speed_rpm, *column, *row) {
            Said::Time(said_s) => {
                Some(time_s.map_or(f64::INFINITY, |time_s| (said_s - time_s).abs()))
            }
            Said::Between(..) | Said::MayStall => None,
        })
    })?;
    Ok(Check {
        worst_s: differences
            .iter()
            .flatten()
            .fold(0.0, |a, b| f64::max(a, *b)),
        launches: differences.len(),
        unsaid: differences.iter().filter(|d| d.is_none()).count(),
    })
}

/// A place among so many, from a share between 0 and 1.
fn place(count: usize, share: f64) -> usize {
    let count = u32::try_from(count).unwrap_or(1);
    (0..count)
        .take_while(|place| f64::from(*place) <= share * f64::from(count))
        .count()
        .saturating_sub(1)
}

fn attempt(speed_rpm: f64, grip_factor: f64, release_stretch: f64) -> Attempt {
    Attempt {
        launch_speed_rad_s: speed_rpm * RAD_S_PER_RPM,
        release_stretch,
        grip_factor,
    }
}
