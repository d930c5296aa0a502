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
    release_stretch: f64,
}

impl Sweep {
    /// The points.
    pub fn points(&self) -> &[SweepPoint] {
        &self.points
    }

    /// Release time of its launches over the sheet's own.
    pub fn release_stretch(&self) -> f64 {
        self.release_stretch
    }

    /// A launch of it from a launch speed, rad/s.
    pub fn attempt(&self, launch_speed_rad_s: f64) -> Attempt {
        Attempt {
            release_stretch: self.release_stretch,
            ..Attempt::from_speed(launch_speed_rad_s)
        }
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

/// Sweeps the launch speed of several rigs over a range, each with a release stretched to so much
/// of the sheet's own, all of them at once.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn sweep_all(
    rigs: &[(&Rig, f64)],
    range: &SpeedRange,
    step_rad_s: f64,
    progress: &dyn Progress,
) -> Result<Vec<Sweep>, StudyError> {
    let speeds = speeds(range, step_rad_s);
    let jobs: Vec<(&Rig, Attempt)> = rigs
        .iter()
        .flat_map(|(rig, release_stretch)| {
            speeds.iter().map(move |speed| {
                let attempt = Attempt {
                    release_stretch: *release_stretch,
                    ..Attempt::from_speed(*speed)
                };
                (*rig, attempt)
            })
        })
        .collect();
    let points = on_all_cores(&jobs, progress, |(rig, attempt)| {
        Ok(SweepPoint {
            launch_speed_rad_s: attempt.launch_speed_rad_s,
            sixty_foot_s: sixty_foot(rig, attempt, &SEARCH_ACCURACY)?,
        })
    })?;
    Ok(points
        .chunks(speeds.len())
        .zip(rigs)
        .map(|(chunk, (_, release_stretch))| Sweep {
            points: chunk.to_vec(),
            release_stretch: *release_stretch,
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
