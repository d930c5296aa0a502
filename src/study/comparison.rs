//! A comparison: each flywheel of a car with all that was found out about it.

use super::compare::{Best, WheelStudy, study_wheels};
use super::scatter::draws::{DEFAULT_DRAWS, DEFAULT_SEED, Draws};
use super::scatter::pairs::Pair;
use super::scatter::study::{WheelScatter, study_scatter};
use super::{Progress, StudyError};
use crate::car::track::Mark;
use crate::car::{Car, Flywheel};
use crate::launch::trace::TracePoint;
use crate::launch::{LaunchError, trace};
use crate::numerics::Interval;

/// What may be asked of a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Launches drawn for each flywheel, the same draws for all.
    pub draws: usize,
    /// Seed of the draws: the same seed gives the same answer.
    pub seed: u32,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            draws: DEFAULT_DRAWS,
            seed: DEFAULT_SEED,
        }
    }
}

/// Flywheels side by side in one car: the main job, done.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison<'c> {
    /// The car.
    pub car: &'c Car,
    /// The draws that every flywheel was launched under.
    pub draws: Draws,
    wheels: Vec<Compared<'c>>,
    pairs: Vec<Drawn>,
}

/// One flywheel, and all that was found out about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared<'c> {
    /// Its launches without scatter.
    pub study: WheelStudy<'c>,
    /// Its launches under the driver's scatter; `None` if it never gets the car to 60 ft.
    pub scatter: Option<WheelScatter<'c>>,
}

impl<'c> Compared<'c> {
    /// Its name.
    pub fn name(&self) -> &'c str {
        self.study.wheel.name()
    }

    /// The flywheel as one that gets the car to 60 ft; `None` if it does not.
    pub fn contender(&self) -> Option<Contender<'_, 'c>> {
        Some(Contender {
            study: &self.study,
            best: self.study.best.as_ref()?,
            scatter: self.scatter.as_ref()?,
        })
    }
}

/// A flywheel that gets the car to 60 ft, with all that is known of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contender<'s, 'c> {
    /// Its launches without scatter.
    pub study: &'s WheelStudy<'c>,
    /// The quickest of them.
    pub best: &'s Best,
    /// Its launches under the driver's scatter.
    pub scatter: &'s WheelScatter<'c>,
}

impl<'c> Contender<'_, 'c> {
    /// Its name.
    pub fn name(&self) -> &'c str {
        self.study.wheel.name()
    }

    /// Its place among the flywheels compared, from 0.
    pub fn index(&self) -> usize {
        self.scatter.index
    }
}

/// A pair as it is kept: with its difference over 1,320 ft.
#[derive(Debug, Clone, PartialEq)]
struct Drawn {
    pair: Pair,
    over_1320_s: (f64, Interval),
}

/// Two flywheels held against each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldAgainst<'s, 'c> {
    /// The one with less crank-side inertia.
    pub lighter: Contender<'s, 'c>,
    /// The other.
    pub heavier: Contender<'s, 'c>,
    /// What came of it.
    pub pair: &'s Pair,
    /// Mean difference over 1,320 ft, the lighter less the heavier, s.
    pub over_1320_s: f64,
    /// Its 95 % interval, s.
    pub over_1320_interval_s: Interval,
}

impl<'s, 'c> HeldAgainst<'s, 'c> {
    /// The other of the two, if the one is among them.
    pub fn other(&self, one: &Contender) -> Option<Contender<'s, 'c>> {
        if self.lighter.index() == one.index() {
            Some(self.heavier)
        } else if self.heavier.index() == one.index() {
            Some(self.lighter)
        } else {
            None
        }
    }
}

/// The main job: every flywheel of a car side by side, without scatter and under its driver's.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn compare<'c>(
    car: &'c Car,
    options: &Options,
    progress: &dyn Progress,
) -> Result<Comparison<'c>, StudyError> {
    compare_wheels(car, car.flywheels.all(), options, progress)
}

/// The same for flywheels that need not be those of the sheet.
///
/// # Errors
/// As [`compare`].
pub fn compare_wheels<'c>(
    car: &'c Car,
    wheels: impl IntoIterator<Item = &'c Flywheel>,
    options: &Options,
    progress: &dyn Progress,
) -> Result<Comparison<'c>, StudyError> {
    let wheels: Vec<&Flywheel> = wheels.into_iter().collect();
    let studies = study_wheels(car, &wheels, progress)?;
    compare_studied(car, studies, options, progress)
}

/// The same where every flywheel's launches without scatter are known already.
///
/// # Errors
/// As [`compare`].
pub fn compare_studied<'c>(
    car: &'c Car,
    studies: Vec<WheelStudy<'c>>,
    options: &Options,
    progress: &dyn Progress,
) -> Result<Comparison<'c>, StudyError> {
    let draws = Draws::new(options.draws, options.seed);
    let scatter = study_scatter(car, &studies, draws, progress)?;
    let pairs = scatter
        .pairs
        .iter()
        .filter_map(|pair| {
            Some(Drawn {
                pair: pair.clone(),
                over_1320_s: scatter.quarter_difference(pair)?,
            })
        })
        .collect();
    let mut scattered = scatter.wheels.into_iter().peekable();
    let wheels = studies
        .into_iter()
        .enumerate()
        .map(|(index, study)| Compared {
            study,
            scatter: scattered.next_if(|scatter| scatter.index == index),
        })
        .collect();
    Ok(Comparison {
        car,
        draws: scatter.draws,
        wheels,
        pairs,
    })
}

impl<'c> Comparison<'c> {
    /// Every flywheel, in the order of the sheet.
    pub fn wheels(&self) -> &[Compared<'c>] {
        &self.wheels
    }

    /// Those that get the car to 60 ft.
    pub fn contenders(&self) -> impl Iterator<Item = Contender<'_, 'c>> + Clone {
        self.wheels.iter().filter_map(Compared::contender)
    }

    /// The flywheel at a place, from 0, if it gets the car to 60 ft.
    pub fn contender(&self, index: usize) -> Option<Contender<'_, 'c>> {
        self.wheels.get(index)?.contender()
    }

    /// Launches to 60 ft that it took to know the scatter of all flywheels.
    pub fn launches(&self) -> usize {
        let scattered = self.wheels.iter().flat_map(|wheel| &wheel.scatter);
        scattered.map(|scatter| scatter.table.launches()).sum()
    }

    /// Whether a flywheel is the one in the car now.
    pub fn is_fitted(&self, study: &WheelStudy) -> bool {
        self.car.flywheels.is_fitted(study.wheel)
    }

    /// Every two that get the car to 60 ft, held against each other.
    pub fn pairs(&self) -> impl Iterator<Item = HeldAgainst<'_, 'c>> {
        self.pairs.iter().filter_map(|drawn| {
            Some(HeldAgainst {
                lighter: self.contender(drawn.pair.lighter)?,
                heavier: self.contender(drawn.pair.heavier)?,
                pair: &drawn.pair,
                over_1320_s: drawn.over_1320_s.0,
                over_1320_interval_s: drawn.over_1320_s.1,
            })
        })
    }

    /// Two flywheels by their places, in any order, held against each other.
    pub fn pair_of(&self, one: usize, other: usize) -> Option<HeldAgainst<'_, 'c>> {
        self.pairs().find(|held| {
            let places = (held.lighter.index(), held.heavier.index());
            places == (one, other) || places == (other, one)
        })
    }

    /// Every flywheel's quickest launch over time, to 60 ft, a point every so many seconds.
    ///
    /// # Errors
    /// When a launch cannot be computed.
    pub fn quickest_over_time(
        &self,
        every_s: f64,
    ) -> Result<Vec<(String, Vec<TracePoint>)>, LaunchError> {
        self.contenders()
            .map(|wheel| {
                let attempt = wheel.best.quickest.attempt();
                let points = trace(&wheel.study.rig, &attempt, Mark::Ft60, every_s)?;
                Ok((wheel.name().to_owned(), points))
            })
            .collect()
    }
}
