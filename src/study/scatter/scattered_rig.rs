//! From chance to attempt: what one driver's scatter means with one flywheel.

use super::draws::Chance;
use super::table::{Law, SixtyFoot};
use crate::car::Car;
use crate::car::driver::Unsteadiness;
use crate::launch::{Attempt, LaunchError, Rig, SCATTER_ACCURACY, sixty_foot};

/// One flywheel under one driver's scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct ScatteredRig<'c> {
    /// The car with the flywheel.
    pub rig: Rig<'c>,
    /// How its launches scatter.
    pub law: Law,
    /// What this flywheel's launch-speed deviation is to the measured one: `(Jref/Je)^p`.
    pub launch_sd_factor: f64,
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
            law: Law {
                launch_sd_rad_s: launch_sd_rad_s.get() * factor,
                release_stretch: 1.0,
                release_sd: release_sd.get(),
                grip_sd: car.track.grip_sd.get(),
                lowest_rad_s: car.engine.stall_rad_s.get(),
                highest_rad_s: car.engine.limiter_rad_s.get(),
                stall_cost_s: car.track.stall_cost_s.get(),
            },
            launch_sd_factor: factor,
            rig,
        }
    }

    /// Time in which the clutch is aimed to be let out, s: to the last corner of a release table.
    pub fn release_time_s(&self) -> f64 {
        self.rig.car.clutch.release.last_corner_s() * self.law.release_stretch
    }

    /// The same with the release aimed at stretched to another time, over the sheet's own.
    #[must_use]
    pub fn with_release(&self, release_stretch: f64) -> Self {
        let mut other = self.clone();
        other.law.release_stretch = release_stretch;
        other
    }

    /// The attempt that comes of a launch speed aimed at (rad/s) and a chance.
    pub fn attempt(&self, aim_rad_s: f64, chance: &Chance) -> Attempt {
        let speed_rad_s = aim_rad_s + self.law.launch_sd_rad_s * chance.speed;
        self.law.attempt(speed_rad_s, chance.release, chance.grip)
    }
}

impl SixtyFoot for ScatteredRig<'_> {
    fn sixty_foot_s(&self, attempt: &Attempt) -> Result<Option<f64>, LaunchError> {
        sixty_foot(&self.rig, attempt, &SCATTER_ACCURACY)
    }
}

#[cfg(test)]
#[path = "operator_tests.rs"]
mod operator_tests;
