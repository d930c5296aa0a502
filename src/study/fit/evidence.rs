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
    /// What chance adds to the figures on average.
    shift: DVector<f64>,
}

/// Launches that a [`Spread`] takes: one as it is, two for each chance.
pub const LAUNCHES_A_SPREAD: usize = 1 + 2 * CHANCES;

impl Spread {
    /// Covariance and mean of what a run shows, each chance to second order: with a figure
    /// `f + g ξ + ½ h ξ²` of a chance `ξ` in standard deviations the mean moves by `½ h` and the
    /// covariance has `g gᵀ + ½ h hᵀ` (moments of the normal distribution), slope and bend taken
    /// over one standard deviation to either side. `None` where the model's run does not show
    /// what the slip shows.
    pub fn of(car: &Car, slip: &Slip, launch_speed_rad_s: f64) -> Option<Self> {
        let here = predicted(car, slip, launch_speed_rad_s, &[0.0; CHANCES])?;
        let errors = slip
            .figures
            .iter()
            .map(|figure| reading_error(figure).powi(2));
        let mut covariance = DMatrix::from_diagonal(&DVector::from_iterator(here.len(), errors));
        let here = DVector::from_vec(here);
        let mut shift = DVector::zeros(here.len());
        for chance in 0..CHANCES {
            let (slope, bend) = answer(car, slip, launch_speed_rad_s, (chance, &here))?;
            covariance += &slope * slope.transpose() + 0.5 * &bend * bend.transpose();
            shift += 0.5 * bend;
        }
        Some(Self {
            factor: covariance.cholesky()?,
            shift,
        })
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

/// Slope and bend of what a run shows over a chance, in standard deviations; straight where only
/// one side can be driven.
fn answer(
    car: &Car,
    slip: &Slip,
    launch_speed_rad_s: f64,
    (chance, here): (usize, &DVector<f64>),
) -> Option<(DVector<f64>, DVector<f64>)> {
    let at = |deviations: f64| {
        let mut chances: RunChances = [0.0; CHANCES];
        *chances.get_mut(chance)? = deviations;
        predicted(car, slip, launch_speed_rad_s, &chances).map(DVector::from_vec)
    };
    match (at(-1.0), at(1.0)) {
        (Some(below), Some(above)) => Some(((&above - &below) / 2.0, above + below - 2.0 * here)),
        (Some(below), None) => Some((here - below, DVector::zeros(here.len()))),
        (None, Some(above)) => Some((above - here, DVector::zeros(here.len()))),
        (None, None) => None,
    }
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
