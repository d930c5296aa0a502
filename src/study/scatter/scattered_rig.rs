//! From chance to attempt: what one driver's scatter means with one flywheel.

use super::draws::Chance;
use crate::car::Car;
use crate::car::driver::Unsteadiness;
use crate::launch::{Attempt, LaunchError, Rig, SCATTER_ACCURACY, sixty_foot};

/// Least grip of a draw, over the mean (common practice, no source).
const LEAST_GRIP_FACTOR: f64 = 0.3;

/// One flywheel under one driver's scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct ScatteredRig<'c> {
    /// The car with the flywheel.
    pub rig: Rig<'c>,
    /// Standard deviation of the launch speed with this flywheel, rad/s.
    pub launch_sd_rad_s: f64,
    /// Standard deviation of the logarithm of the release time.
    pub release_sd: f64,
    /// Standard deviation of the grip, over its mean.
    pub grip_sd: f64,
    /// What this flywheel's launch-speed deviation is to the measured one: `(Jref/Je)^p`.
    pub launch_sd_factor: f64,
    lowest_rad_s: f64,
    highest_rad_s: f64,
    stall_cost_s: f64,
}

/// Launch-speed deviation with one crank-side inertia over that with another:
/// `(Jref/Je)^p`; with `p = 1` from a crossover-model operator holding a speed against a torque
/// disturbance (McRuer & Krendel, AGARD-AG-188, 1974; derivation in `docs/steadiness.md`).
pub fn launch_sd_factor(measured_kg_m2: f64, this_kg_m2: f64, exponent: f64) -> f64 {
    (measured_kg_m2 / this_kg_m2).powf(exponent)
}

impl<'c> ScatteredRig<'c> {
    /// A rig under the scatter of its car's sheet.
    pub fn new(rig: Rig<'c>) -> Self {
        let car: &Car = rig.car;
        let Unsteadiness {
            launch_sd_rad_s,
            hold_exponent,
            release_sd,
        } = car.driver.unsteadiness;
        let fitted_kg_m2 = car
            .flywheels
            .fitted()
            .map_or(rig.crank_side_kg_m2, |fitted| {
                car.crank_side_inertia_kg_m2(fitted)
            });
        let factor = launch_sd_factor(fitted_kg_m2, rig.crank_side_kg_m2, hold_exponent.get());
        Self {
            launch_sd_rad_s: launch_sd_rad_s.get() * factor,
            launch_sd_factor: factor,
            release_sd: release_sd.get(),
            grip_sd: car.track.grip_sd.get(),
            lowest_rad_s: car.engine.stall_rad_s.get(),
            highest_rad_s: car.engine.limiter_rad_s.get(),
            stall_cost_s: car.track.stall_cost_s.get(),
            rig,
        }
    }

    /// Lowest launch speed a draw may have: the stall speed, rad/s.
    pub fn lowest_rad_s(&self) -> f64 {
        self.lowest_rad_s
    }

    /// Highest launch speed a draw may have: the limiter, rad/s.
    pub fn highest_rad_s(&self) -> f64 {
        self.highest_rad_s
    }

    /// What a launch that did not get to 60 ft counts for, s.
    pub fn stall_cost_s(&self) -> f64 {
        self.stall_cost_s
    }

    /// The attempt that comes of a launch speed aimed at (rad/s) and a chance.
    pub fn attempt(&self, aim_rad_s: f64, chance: &Chance) -> Attempt {
        let speed = aim_rad_s + self.launch_sd_rad_s * chance.speed;
        Attempt {
            launch_speed_rad_s: speed.clamp(self.lowest_rad_s, self.highest_rad_s),
            release_stretch: (self.release_sd * chance.release).exp(),
            grip_factor: (1.0 + self.grip_sd * chance.grip).max(LEAST_GRIP_FACTOR),
        }
    }

    /// Sixty-foot time of an attempt, s; `None` if it did not get there.
    ///
    /// # Errors
    /// When the launch cannot be computed.
    pub fn try_once(&self, attempt: &Attempt) -> Result<Option<f64>, LaunchError> {
        sixty_foot(&self.rig, attempt, &SCATTER_ACCURACY)
    }
}

#[cfg(test)]
#[path = "operator_tests.rs"]
mod operator_tests;
