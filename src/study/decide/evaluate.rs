//! What one flywheel does in one drawn sheet.

use super::own_aim::{Launcher, OwnAim, own_aim};
use super::slips::Response;
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::season::Counts;
use crate::car::track::Mark;
use crate::launch::{Attempt, Rig, SCATTER_ACCURACY, run_with};
use crate::study::StudyError;
use crate::study::scatter::draws::Chance;
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::scatter::table::SixtyFoot;

/// One flywheel in one sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaluated {
    /// At its own aim; `None` where nothing gets to 60 ft.
    pub own: Option<OwnAim>,
    /// What counts, s: a mean time or a spread.
    pub counted_s: f64,
    /// How launches about the aim of the sheet as stated answer; `None` where none gets there.
    pub response: Option<Response>,
    /// Launches that this took.
    pub launches: usize,
}

/// Evaluates a rig in its sheet; `slips_from` is the aim in rad/s whose slips are wanted.
///
/// # Errors
/// When a launch cannot be computed.
pub fn evaluate(
    rig: &ScatteredRig,
    counts: Counts,
    slips_from: Option<f64>,
) -> Result<Evaluated, StudyError> {
    let range = &rig.rig.car.driver.launch_range;
    let own = own_aim(rig, range)?;
    let mut launches = own.map_or(0, |own| own.launches);
    let counted_s = match (&own, counts) {
        (None, _) => rig.law.stall_cost_s,
        (Some(own), Counts::QuickToSixtyFeet) => own.mean_s,
        (Some(own), Counts::Steady) => own.sd_s,
        (Some(own), Counts::QuickToQuarterMile) => {
            launches += 1;
            own.mean_s + beyond_sixty(&rig.rig, own.aim_rad_s)?.unwrap_or(rig.law.stall_cost_s)
        }
    };
    let response = match slips_from {
        Some(aim) => {
            launches += super::slips::LAUNCHES + 1;
            Response::of(rig, aim)?
        }
        None => None,
    };
    Ok(Evaluated {
        own,
        counted_s,
        response,
        launches,
    })
}

/// The rig of a flywheel of a car by its place, under the sheet's scatter.
pub fn rig_of(car: &Car, wheel: usize) -> Option<ScatteredRig<'_>> {
    let wheel = car.flywheels.all().get(wheel)?;
    Some(ScatteredRig::new(Rig::new(car, wheel)))
}

/// Time from 60 ft to 1,320 ft of a launch from the aim, s; how the car left the line changes it
/// by what speed it carries, which the one launch in the middle stands for.
fn beyond_sixty(rig: &Rig, aim_rad_s: f64) -> Result<Option<f64>, StudyError> {
    let attempt = Attempt::from_speed(aim_rad_s);
    let launch = run_with(rig, &attempt, Mark::Ft1320, &SCATTER_ACCURACY)?;
    let (sixty, quarter) = (launch.time_s(Mark::Ft60), launch.time_s(Mark::Ft1320));
    Ok(sixty.zip(quarter).map(|(sixty, quarter)| quarter - sixty))
}

impl Launcher for ScatteredRig<'_> {
    fn sixty_foot_s(
        &self,
        speed_rad_s: f64,
        release: f64,
        grip: f64,
    ) -> Result<Option<f64>, StudyError> {
        let chance = Chance {
            speed: 0.0,
            release,
            grip,
        };
        Ok(SixtyFoot::sixty_foot_s(
            self,
            &self.attempt(speed_rad_s, &chance),
        )?)
    }

    fn launch_sd_rad_s(&self) -> f64 {
        self.law.launch_sd_rad_s
    }

    fn limits_rad_s(&self) -> (f64, f64) {
        // A launch held at the limiter or at stall speed itself is none.
        (
            self.law.lowest_rad_s + RAD_S_PER_RPM,
            self.law.highest_rad_s - RAD_S_PER_RPM,
        )
    }

    fn stall_cost_s(&self) -> f64 {
        self.law.stall_cost_s
    }
}
