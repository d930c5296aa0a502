//! Sixty-foot time over launch speed.

use super::{Progress, StudyError, on_all_cores};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::SpeedRange;
use crate::launch::{Attempt, Rig, SEARCH_ACCURACY, sixty_foot};

/// Widest step of launch speed in a sweep, rad/s (25 rpm). The curve has kinks, second minima
/// and stall cliffs, so half of the 50 rpm that separate them in the cars looked at.
pub const SWEEP_STEP_RAD_S: f64 = 25.0 * RAD_S_PER_RPM;

/// One launch of a sweep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SweepPoint {
    /// Launch speed, rad/s.
    pub launch_speed_rad_s: f64,
    /// Sixty-foot time, s; `None` if the car did not get there.
    pub sixty_foot_s: Option<f64>,
}

/// Sixty-foot time over launch speed, speeds rising in even steps, both ends of the range included.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    points: Vec<SweepPoint>,
}

impl Sweep {
    /// The points.
    pub fn points(&self) -> &[SweepPoint] {
        &self.points
    }

    /// The quickest point, if any got there; of equals the slowest launch speed.
    pub fn quickest(&self) -> Option<(usize, f64)> {
        self.points
            .iter()
            .enumerate()
            .filter_map(|(index, point)| Some((index, point.sixty_foot_s?)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }
}

/// Evenly spaced launch speeds over a range, both ends included, no step wider than `step_rad_s`.
pub fn speeds(range: &SpeedRange, step_rad_s: f64) -> Vec<f64> {
    evenly(range.low_rad_s(), range.high_rad_s(), step_rad_s).collect()
}

/// Evenly spaced numbers from `low` to `high`, both included, no step wider than `step`.
pub(super) fn evenly(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let mut steps = 1_u32;
    while (high - low) / f64::from(steps) > step * (1.0 + f64::EPSILON) {
        steps += 1;
    }
    (0..=steps).map(move |i| low + (high - low) * f64::from(i) / f64::from(steps))
}

/// Sweeps the launch speed of several rigs over a range, all of them at once.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn sweep_all(
    rigs: &[Rig],
    range: &SpeedRange,
    progress: &dyn Progress,
) -> Result<Vec<Sweep>, StudyError> {
    let speeds = speeds(range, SWEEP_STEP_RAD_S);
    let jobs: Vec<(&Rig, f64)> = rigs
        .iter()
        .flat_map(|rig| speeds.iter().map(move |speed| (rig, *speed)))
        .collect();
    let points = on_all_cores(&jobs, progress, |(rig, speed)| {
        Ok(SweepPoint {
            launch_speed_rad_s: *speed,
            sixty_foot_s: sixty_foot(rig, &Attempt::from_speed(*speed), &SEARCH_ACCURACY)?,
        })
    })?;
    Ok(points
        .chunks(speeds.len())
        .map(|chunk| Sweep {
            points: chunk.to_vec(),
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_speeds_hold_both_ends_in_even_steps() {
        let range = SpeedRange::new(157.0, 600.0).unwrap();
        let speeds = speeds(&range, SWEEP_STEP_RAD_S);
        assert!((speeds[0] - 157.0).abs() < 1e-12);
        assert!((speeds[speeds.len() - 1] - 600.0).abs() < 1e-12);
        for pair in speeds.windows(2) {
            assert!(pair[1] - pair[0] <= SWEEP_STEP_RAD_S * 1.000_001);
            assert!(pair[1] - pair[0] > SWEEP_STEP_RAD_S * 0.9);
        }
    }
}
