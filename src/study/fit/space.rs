//! The car as a function of what a fit looks for.

use super::learnt::{FitError, FitQuestion};
use crate::car::Car;
use crate::car::doubt::{DoubtedCar, DoubtedInput};
use crate::numerics::quantile::normal_share;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Unknowns that a fit looks for where nobody names others.
pub(super) const USUAL_UNKNOWNS: [&str; 10] = [
    "tyre.grip",
    "tyre.sliding_share",
    "tyre.peak_slip",
    "clutch.capacity",
    "clutch.release_time",
    "gearbox.efficiency",
    "car.drag_area",
    "engine.torque_scale",
    "driver.lift.to",
    "driver.lift.at",
];

/// The car as a function of the unknowns' scores, all other doubted values as stated.
pub(super) struct Space<'d> {
    pub(super) doubted: &'d DoubtedCar,
    /// Place of each unknown among the sheet's doubted inputs.
    pub(super) positions: Vec<usize>,
    /// Launches driven so far.
    driven: AtomicUsize,
}

impl<'d> Space<'d> {
    /// The car of a sheet in doubt over what is asked for.
    pub(super) fn new(doubted: &'d DoubtedCar, question: &FitQuestion) -> Result<Self, FitError> {
        Ok(Self {
            positions: positions(doubted, question)?,
            doubted,
            driven: AtomicUsize::new(0),
        })
    }

    /// Launches driven so far.
    pub(super) fn launches(&self) -> usize {
        self.driven.load(Ordering::Relaxed)
    }

    /// Counts launches.
    pub(super) fn drive(&self, launches: usize) {
        self.driven.fetch_add(launches, Ordering::Relaxed);
    }

    /// An unknown as the sheet has it.
    pub(super) fn input(&self, unknown: usize) -> Option<&DoubtedInput> {
        self.doubted.inputs().get(*self.positions.get(unknown)?)
    }

    /// Values of the unknowns at scores, SI: a normal input lies its score of standard
    /// deviations off, a rectangular one where the normal has the same share below.
    pub(super) fn values(&self, scores: &[f64]) -> Vec<f64> {
        scores
            .iter()
            .enumerate()
            .filter_map(|(unknown, score)| {
                let input = self.input(unknown)?;
                let share = normal_share(*score).clamp(f64::MIN_POSITIVE, 1.0 - f64::EPSILON);
                Some(input.doubt.quantile(input.nominal, share))
            })
            .collect()
    }

    /// The car with these values of the unknowns; `None` where the sheet's ranges refuse them.
    pub(super) fn car(&self, values: &[f64]) -> Option<Car> {
        self.doubted.with_values_at(&self.positions, values)
    }
}

fn positions(doubted: &DoubtedCar, question: &FitQuestion) -> Result<Vec<usize>, FitError> {
    if question.unknowns.is_empty() {
        let usual: Vec<usize> = (USUAL_UNKNOWNS.iter())
            .filter_map(|key| doubted.position(key))
            .chain(grips_of_meetings(doubted))
            .collect();
        return if usual.is_empty() {
            Err(FitError::NothingInDoubt)
        } else {
            Ok(usual)
        };
    }
    question
        .unknowns
        .iter()
        .map(|key| {
            let position = doubted.position(key);
            position.ok_or_else(|| FitError::NotInDoubt(key.clone()))
        })
        .collect()
}

/// What each meeting's track gave, over the tyre's own.
fn grips_of_meetings(doubted: &DoubtedCar) -> impl Iterator<Item = usize> {
    let of_a_meeting = |key: &str| {
        let parts = key.rsplit_once('.');
        parts.is_some_and(|(of, name)| of.starts_with("meeting.") && name == "grip")
    };
    let inputs = doubted.inputs().iter().enumerate();
    inputs.filter_map(move |(place, input)| of_a_meeting(&input.key).then_some(place))
}
