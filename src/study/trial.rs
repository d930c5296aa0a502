//! A launch tried out: one flywheel of a car, with a few figures moved off what the sheet says of
//! them. Nothing here decides anything; it shows what a figure does.

use super::compare::{WheelStudy, study_wheels};
use super::comparison::{Comparison, Options, compare_studied};
use super::{Progress, StudyError};
use crate::car::checked::{NonNegative, Positive};
use crate::car::inertia::{Description, Part};
use crate::car::track::Mark;
use crate::car::tyre::FrictionShape;
use crate::car::{Car, Flywheel, Flywheels};
use crate::launch::trace::TracePoint;
use crate::launch::{Attempt, Launch, LaunchError, Rig, run, trace};

/// Points of a trace, s: finer than any chart shows.
const TRACE_EVERY_S: f64 = 0.01;
/// Launches drawn for the average of a trial: its curve is looked at, not decided by.
const TRIAL_DRAWS: usize = 512;

/// What is moved, and to where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trial {
    /// The flywheel, by its place in the sheet from 0.
    pub wheel: usize,
    /// Engine speed to launch from, rad/s; `None`: this flywheel's quickest.
    pub launch_speed_rad_s: Option<f64>,
    /// Inertia left of the flywheel, as a share of what it has; above zero.
    pub metal_left: f64,
    /// Grip over that of the sheet; above zero.
    pub grip_factor: f64,
    /// Share of the grip left to sliding tyres; `None`: as the sheet has it.
    pub sliding_share: Option<f64>,
    /// Standard deviation of the launch speed with the fitted flywheel, rad/s; `None`: as the
    /// sheet has it.
    pub launch_sd_rad_s: Option<f64>,
}

impl Trial {
    /// Nothing moved.
    pub const fn of_wheel(wheel: usize) -> Self {
        Self {
            wheel,
            launch_speed_rad_s: None,
            metal_left: 1.0,
            grip_factor: 1.0,
            sliding_share: None,
            launch_sd_rad_s: None,
        }
    }

    /// Whether anything but the launch speed is moved.
    pub fn moves_the_car(&self) -> bool {
        *self
            != Self {
                launch_speed_rad_s: self.launch_speed_rad_s,
                ..Self::of_wheel(self.wheel)
            }
    }
}

/// The car of a trial: that of the sheet, with one flywheel more that is launched.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialCar {
    car: Car,
}

/// One launch of a trial.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// All of it, to 60 ft.
    pub launch: Launch,
    /// The same over time.
    pub points: Vec<TracePoint>,
}

impl TrialCar {
    /// The car with everything moved as a trial asks; `None` where no such car can be: a
    /// flywheel that is not there, a share out of range.
    pub fn new(stated: &Car, trial: &Trial) -> Option<Self> {
        let mut car = stated.clone();
        let wheel = stated.flywheels.all().get(trial.wheel)?;
        let tried = with_metal(wheel, trial.metal_left, free_name(stated, wheel.name()))?;
        car.track.grip = Positive::new(stated.track.grip.get() * trial.grip_factor)?;
        if let Some(share) = trial.sliding_share {
            let peak_slip = Positive::new(stated.tyre.shape.peak_slip())?;
            car.tyre.shape = FrictionShape::new(peak_slip, Positive::new(share)?).ok()?;
        }
        if let Some(sd) = trial.launch_sd_rad_s {
            car.driver.unsteadiness.launch_sd_rad_s = NonNegative::new(sd)?;
        }
        let mut wheels: Vec<(Flywheel, bool)> = stated
            .flywheels
            .all()
            .iter()
            .map(|wheel| (wheel.clone(), stated.flywheels.is_fitted(wheel)))
            .collect();
        // Beside the others, not in place of one: the driver's steadiness is stated with the
        // fitted wheel, and stays stated with it.
        wheels.push((tried, false));
        car.flywheels = Flywheels::new(wheels).ok()?;
        Some(Self { car })
    }

    /// The flywheel that is launched, and the car it is in.
    fn parts(&self) -> Option<(&Car, &Flywheel)> {
        Some((&self.car, self.car.flywheels.all().last()?))
    }

    /// Crank-side inertia, kg·m².
    pub fn crank_side_kg_m2(&self) -> f64 {
        self.parts()
            .map_or(f64::NAN, |(car, wheel)| car.crank_side_inertia_kg_m2(wheel))
    }

    /// One launch from an engine speed, rad/s.
    ///
    /// # Errors
    /// When it cannot be computed.
    pub fn launch(&self, launch_speed_rad_s: f64) -> Result<Option<Tried>, LaunchError> {
        let Some((car, wheel)) = self.parts() else {
            return Ok(None);
        };
        let rig = Rig::new(car, wheel);
        let attempt = Attempt::from_speed(launch_speed_rad_s);
        Ok(Some(Tried {
            launch: run(&rig, &attempt, Mark::Ft60)?,
            points: trace(&rig, &attempt, Mark::Ft60, TRACE_EVERY_S)?,
        }))
    }

    /// Its launches from every speed of the driver's range: the quickest, and how far off is fine.
    ///
    /// # Errors
    /// When a launch cannot be computed, or somebody stopped it.
    pub fn around(&self, progress: &dyn Progress) -> Result<Option<WheelStudy<'_>>, StudyError> {
        let Some((car, wheel)) = self.parts() else {
            return Ok(None);
        };
        Ok(study_wheels(car, &[wheel], progress)?.pop())
    }

    /// The same under the driver's scatter.
    ///
    /// # Errors
    /// When a launch cannot be computed, or somebody stopped it.
    pub fn on_average<'c>(
        &'c self,
        around: WheelStudy<'c>,
        progress: &dyn Progress,
    ) -> Result<Comparison<'c>, StudyError> {
        let options = Options {
            draws: TRIAL_DRAWS,
            ..Options::default()
        };
        compare_studied(&self.car, vec![around], &options, progress)
    }
}

/// The flywheel with a share of its inertia left; as it stands where all of it is.
fn with_metal(wheel: &Flywheel, share: f64, name: String) -> Option<Flywheel> {
    let inertia = Positive::new(wheel.part.inertia_kg_m2() * share)?;
    let description = if (share - 1.0).abs() < f64::EPSILON {
        wheel.part.description.clone()
    } else {
        Description::Given(inertia)
    };
    Some(Flywheel {
        part: Part { name, description },
        cut_from: None,
        ..wheel.clone()
    })
}

/// A name that no flywheel of the car has.
fn free_name(car: &Car, name: &str) -> String {
    let mut free = format!("{name}, tried");
    while car.flywheels.named(&free).is_some() {
        free.push_str(" again");
    }
    free
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::constants::RAD_S_PER_RPM;
    use crate::car::sample::live_axle_saloon;
    use crate::study::Unwatched;

    const FROM: f64 = 3000.0 * RAD_S_PER_RPM;

    fn sixty(trial: &Trial) -> f64 {
        let car = TrialCar::new(&live_axle_saloon(), trial).unwrap();
        let tried = car.launch(FROM).unwrap().unwrap();
        tried.launch.sixty_foot_s().unwrap()
    }

    /// With nothing moved, a trial is the sheet's own launch, to the last bit.
    #[test]
    fn law_a_trial_of_nothing_is_the_launch_itself() {
        let car = live_axle_saloon();
        let wheel = car.flywheels.fitted().unwrap();
        let own = run(
            &Rig::new(&car, wheel),
            &Attempt::from_speed(FROM),
            Mark::Ft60,
        )
        .unwrap();
        let place = car.flywheels.all().iter().position(|w| w == wheel).unwrap();
        assert_eq!(Some(sixty(&Trial::of_wheel(place))), own.sixty_foot_s());
    }

    /// Less metal is less inertia, by just the share of the flywheel's own.
    #[test]
    fn law_metal_left_is_a_share_of_the_flywheels_inertia() {
        let car = live_axle_saloon();
        let wheel = &car.flywheels.all()[0];
        let half = Trial {
            metal_left: 0.5,
            ..Trial::of_wheel(0)
        };
        let tried = TrialCar::new(&car, &half).unwrap().crank_side_kg_m2();
        let off = car.crank_side_inertia_kg_m2(wheel) - tried;
        // Sums of a few numbers: round-off.
        approx::assert_relative_eq!(off, 0.5 * wheel.part.inertia_kg_m2(), max_relative = 1e-12);
    }

    /// The driver's steadiness is stated with the fitted wheel: a lighter one is held less
    /// steadily, whichever wheel it was cut from.
    #[test]
    fn law_less_metal_is_held_less_steadily() {
        let car = live_axle_saloon();
        let sd = |metal_left| {
            let trial = Trial {
                metal_left,
                ..Trial::of_wheel(0)
            };
            let car = TrialCar::new(&car, &trial).unwrap();
            let around = car.around(&Unwatched).unwrap().unwrap();
            let average = car.on_average(around, &Unwatched).unwrap();
            let wheel = average.contenders().next().unwrap();
            wheel.scatter.aim.launch_sd_rad_s
        };
        assert!(sd(0.6) > sd(1.0));
    }

    #[test]
    fn law_what_cannot_be_is_no_trial() {
        let car = live_axle_saloon();
        let base = Trial::of_wheel(0);
        for wrong in [
            Trial::of_wheel(99),
            Trial {
                metal_left: 0.0,
                ..base
            },
            Trial {
                grip_factor: -1.0,
                ..base
            },
            Trial {
                sliding_share: Some(1.5),
                ..base
            },
            Trial {
                launch_sd_rad_s: Some(f64::NAN),
                ..base
            },
        ] {
            assert_eq!(TrialCar::new(&car, &wrong), None, "{wrong:?}");
        }
    }
}
