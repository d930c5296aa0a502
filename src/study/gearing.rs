//! The same car with another first gear or final drive.

use super::compare::{WheelStudy, study_wheels};
use super::{Progress, StudyError};
use crate::car::checked::Positive;
use crate::car::driveline::{RatioError, Ratios};
use crate::car::{Car, Flywheel};

/// A change of gearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GearChoice {
    /// As the sheet has it.
    AsBuilt,
    /// Another final drive.
    Final(Positive),
    /// Another first gear.
    First(Positive),
}

impl GearChoice {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::AsBuilt => "as_built",
            Self::Final(_) => "final_drive",
            Self::First(_) => "first_gear",
        }
    }
}

impl GearChoice {
    /// The car with this gearing.
    ///
    /// # Errors
    /// When the first gear asked for is not below the second in speed.
    pub fn applied(self, car: &Car) -> Result<Car, RatioError> {
        let mut changed = car.clone();
        match self {
            Self::AsBuilt => {}
            Self::Final(ratio) => changed.driveline.final_drive = ratio,
            Self::First(ratio) => changed.driveline.ratios = first_changed(car, ratio)?,
        }
        Ok(changed)
    }
}

fn first_changed(car: &Car, first: Positive) -> Result<Ratios, RatioError> {
    car.driveline.ratios.with_first(first)
}

/// The cars to compare, one a choice, as built first. A choice that is what the car has, or that
/// was made before, is not made again.
///
/// # Errors
/// When a first gear asked for is not below the second in speed.
pub fn geared_cars(
    car: &Car,
    choices: &[GearChoice],
) -> Result<Vec<(GearChoice, Car)>, RatioError> {
    let mut cars: Vec<(GearChoice, Car)> = Vec::new();
    for choice in std::iter::once(&GearChoice::AsBuilt).chain(choices) {
        let changed = choice.applied(car)?;
        let same = |other: &Car| other.driveline == changed.driveline;
        if !cars.iter().any(|(_, other)| same(other)) {
            cars.push((*choice, changed));
        }
    }
    Ok(cars)
}

/// Studies the same flywheel in each of the cars.
///
/// # Errors
/// As [`study_wheels`].
pub fn study_gearing<'c>(
    cars: &'c [(GearChoice, Car)],
    wheel: &'c Flywheel,
    progress: &dyn Progress,
) -> Result<Vec<(GearChoice, WheelStudy<'c>)>, StudyError> {
    let mut studied = Vec::new();
    for (choice, car) in cars {
        studied.extend(
            study_wheels(car, &[wheel], progress)?
                .into_iter()
                .map(|study| (*choice, study)),
        );
    }
    Ok(studied)
}
