//! How far a run lies from what the model says, in the light of all that differs from run to run.

use super::model::{CHANCES, predicted, reading_error};
use crate::car::Car;
use crate::car::slip::Slip;
use crate::integrate::Accuracy;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Degrees of freedom of a slip's weight (Student's t): a slip far from all others loses its say
/// and does not pull the rest along (Lange, Little & Taylor, *JASA* 84 (1989) 881, from memory).
pub const SLIP_FREEDOM: f64 = 4.0;

/// How far a run's figures may lie from the model's: readings and chances together.
#[derive(Debug, Clone)]
pub struct Spread {
    factor: Cholesky<f64, Dyn>,
    /// What chance adds to the figures of a usual run.
    shift: DVector<f64>,
}

impl Spread {
    /// The errors of a slip's readings together with what chance does: what it adds to the
    /// figures of a usual run, and their covariance. `None` where that is no covariance.
    pub fn new(slip: &Slip, shift: DVector<f64>, chance: DMatrix<f64>) -> Option<Self> {
        Some(Self {
            factor: (of_readings(slip) + chance).cholesky()?,
            shift,
        })
    }

    /// What chance adds to the figures of a usual run.
    pub fn shift(&self) -> &DVector<f64> {
        &self.shift
    }

    /// The same spread with so much more added to a usual run.
    #[must_use]
    pub fn shifted(mut self, by: DVector<f64>) -> Self {
        self.shift += by;
        self
    }

    /// A difference of figures in independent standard errors.
    pub fn whitened(&self, difference: Vec<f64>) -> Option<DVector<f64>> {
        let off = DVector::from_vec(difference) - &self.shift;
        self.factor.l().solve_lower_triangular(&off)
    }

    /// The covariance itself.
    pub fn covariance(&self) -> DMatrix<f64> {
        self.factor.l() * self.factor.l().transpose()
    }
}

/// Covariance of the errors of a slip's readings.
pub fn of_readings(slip: &Slip) -> DMatrix<f64> {
    let errors = slip.figures.iter();
    let errors = errors.map(|figure| reading_error(figure).powi(2));
    DMatrix::from_diagonal(&DVector::from_iterator(slip.figures.len(), errors))
}

/// Measured less predicted, in independent standard errors; `None` where the model's run does
/// not show what the slip shows.
pub fn residual(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    spread: &Spread,
    accuracy: &Accuracy,
) -> Option<DVector<f64>> {
    let predicted = predicted(car, slip, launch_speed_rad_s, &[0.0; CHANCES], accuracy)?;
    let difference = slip
        .figures
        .iter()
        .zip(predicted)
        .map(|(figure, predicted)| figure.value - predicted)
        .collect();
    spread.whitened(difference)
}

/// Squared distance that a slip which fits has on average: one a figure.
pub fn squared_of_one_that_fits(figures: usize) -> f64 {
    count(figures)
}

/// Weight of a slip whose squared distance is known: 1 and above for one that fits, towards 0 the
/// further it lies off.
pub fn weight(squared: f64, figures: usize) -> f64 {
    (SLIP_FREEDOM + count(figures)) / (SLIP_FREEDOM + squared)
}

/// Logarithm of a slip's likelihood, but for a constant.
pub fn log_likelihood(squared: f64, figures: usize) -> f64 {
    -0.5 * (SLIP_FREEDOM + count(figures)) * (squared / SLIP_FREEDOM).ln_1p()
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a slip has a dozen figures at most"
)]
fn count(figures: usize) -> f64 {
    figures as f64
}
