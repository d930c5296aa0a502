//! An even grid of launch speeds, and a line read off at it.

use super::line::Run;
use crate::car::constants::RAD_S_PER_RPM;

/// Points of a grid of launch speeds no further apart than this, rad/s (2.5 rpm): lines are read off
/// there before they are averaged.
const GRID_STEP_RAD_S: f64 = 2.5 * RAD_S_PER_RPM;

/// An even grid of launch speeds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grid {
    pub(super) low_rad_s: f64,
    pub(super) step_rad_s: f64,
    pub(super) len: usize,
}

impl Grid {
    pub(super) fn new(low: f64, high: f64) -> Self {
        let mut steps = 1_u32;
        while (high - low) / f64::from(steps) > GRID_STEP_RAD_S {
            steps += 1;
        }
        Self {
            low_rad_s: low,
            step_rad_s: (high - low) / f64::from(steps),
            len: steps as usize + 1,
        }
    }

    pub(super) fn speeds(&self) -> impl Iterator<Item = f64> + use<> {
        let (low, step) = (self.low_rad_s, self.step_rad_s);
        (0_u32..)
            .map(move |i| low + step * f64::from(i))
            .take(self.len)
    }
}

/// A line read off at the grid.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GridLine {
    /// Share of launch speeds within half a step that get away.
    pub(super) away: Vec<f64>,
    /// Sixty-foot time of those, s; of the nearest that gets away where none does.
    pub(super) time_s: Vec<f64>,
}

impl GridLine {
    pub(super) fn of(runs: &[Run], grid: &Grid) -> Self {
        let half = grid.step_rad_s / 2.0;
        let (away, time_s) = grid
            .speeds()
            .map(|speed| {
                // Beyond what was tried a line goes on as it ends.
                let share = |run: &Run| {
                    let from = run.start_rad_s().max(speed - half);
                    (run.to_rad_s().min(speed + half) - from).max(0.0) / grid.step_rad_s
                };
                let nearest = |run: &Run| {
                    let inside = speed.clamp(run.low_rad_s, run.high_rad_s);
                    ((inside - speed).abs(), run.time_s(inside))
                };
                let away: f64 = runs.iter().map(share).sum();
                let time_s = runs
                    .iter()
                    .map(nearest)
                    .min_by(|a, b| a.0.total_cmp(&b.0))
                    .map_or(0.0, |(_, time_s)| time_s);
                (away.min(1.0), time_s)
            })
            .unzip();
        Self { away, time_s }
    }
}
