//! How far a run lies from what the model says, in the light of all that differs from run to run.

use super::model::{CHANCES, RunChances, predicted, reading_error};
use crate::car::Car;
use crate::car::slip::Slip;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Degrees of freedom of a slip's weight (Student's t): a slip far from all others loses its say
/// and does not pull the rest along (Lange, Little & Taylor, *JASA* 84 (1989) 881, from memory).
pub const SLIP_FREEDOM: f64 = 4.0;

/// How far a run's figures may lie from the model's: readings and chances together.
#[derive(Debug, Clone)]
pub struct Spread {
    factor: Cholesky<f64, Dyn>,
}

impl Spread {
    /// Covariance of what a run shows, with slopes to each chance over one standard deviation to
    /// either side; `None` where the model's run does not show what the slip shows.
    pub fn of(car: &Car, slip: &Slip, launch_speed_rad_s: f64) -> Option<Self> {
        let here = predicted(car, slip, launch_speed_rad_s, &[0.0; CHANCES])?;
        let errors = slip
            .figures
            .iter()
            .map(|figure| reading_error(figure).powi(2));
        let mut covariance = DMatrix::from_diagonal(&DVector::from_iterator(here.len(), errors));
        for chance in 0..CHANCES {
            let slope = DVector::from_vec(slope(car, slip, launch_speed_rad_s, (chance, &here))?);
            covariance += &slope * slope.transpose();
        }
        Some(Self {
            factor: covariance.cholesky()?,
        })
    }

    /// A difference of figures in independent standard errors.
    pub fn whitened(&self, difference: Vec<f64>) -> Option<DVector<f64>> {
        self.factor
            .l()
            .solve_lower_triangular(&DVector::from_vec(difference))
    }

    /// The covariance itself.
    pub fn covariance(&self) -> DMatrix<f64> {
        self.factor.l() * self.factor.l().transpose()
    }
}

/// Change of what a run shows over one standard deviation of a chance.
fn slope(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    (chance, here): (usize, &[f64]),
) -> Option<Vec<f64>> {
    let at = |deviations: f64| {
        let mut chances: RunChances = [0.0; CHANCES];
        *chances.get_mut(chance)? = deviations;
        predicted(car, slip, launch_speed_rad_s, &chances)
    };
    let (from, to, width) = match (at(-1.0), at(1.0)) {
        (Some(below), Some(above)) => (below, above, 2.0),
        (Some(below), None) => (below, here.to_vec(), 1.0),
        (None, Some(above)) => (here.to_vec(), above, 1.0),
        (None, None) => return None,
    };
    Some(
        to.iter()
            .zip(from)
            .map(|(to, from)| (to - from) / width)
            .collect(),
    )
}

/// Measured less predicted, in independent standard errors; `None` where the model's run does
/// not show what the slip shows.
pub fn residual(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    spread: &Spread,
) -> Option<DVector<f64>> {
    let predicted = predicted(car, slip, launch_speed_rad_s, &[0.0; CHANCES])?;
    let difference = slip
        .figures
        .iter()
        .zip(predicted)
        .map(|(figure, predicted)| figure.value - predicted)
        .collect();
    spread.whitened(difference)
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
