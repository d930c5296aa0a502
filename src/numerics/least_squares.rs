//! Nonlinear least squares: Levenberg–Marquardt (MINPACK's, from the `levenberg-marquardt` crate)
//! with central differences.

use super::checked::Positive;
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt, TerminationReason};
use nalgebra::{DMatrix, DVector, Dyn, Owned};
use rayon::prelude::*;
use std::cell::Cell;
use thiserror::Error;

/// How far a parameter is moved to either side for a slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DifferenceStep {
    /// A share of the parameter's own size.
    Share(Positive),
    /// As much whatever the parameter.
    Fixed(Positive),
}

impl DifferenceStep {
    fn of(self, parameter: f64) -> f64 {
        match self {
            Self::Share(share) => {
                let step = share.get() * parameter.abs();
                if step > 0.0 { step } else { share.get() }
            }
            Self::Fixed(step) => step.get(),
        }
    }
}

/// The best parameters found, and what the residuals say of them there.
#[derive(Debug, Clone, PartialEq)]
pub struct LeastSquares {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Sum of the squared residuals there.
    pub residual_sum: f64,
    /// Slopes of the residuals there, a row each, a column for each parameter.
    pub jacobian: DMatrix<f64>,
    /// Whether the search came to rest; else it stopped at its limit of evaluations.
    pub settled: bool,
    /// How often the residuals were asked for.
    pub evaluations: usize,
}

impl LeastSquares {
    /// `(JᵀJ)⁻¹`: covariance of the parameters where the residuals have unit variance; `None`
    /// where they do not tell all parameters apart.
    pub fn unit_covariance(&self) -> Option<DMatrix<f64>> {
        let normal = self.jacobian.transpose() * &self.jacobian;
        normal.cholesky().map(|factor| factor.inverse())
    }
}

/// Why a least-squares search found nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum LeastSquaresError {
    /// The residuals do not exist at the start.
    #[error("the start has no residuals")]
    NoStart,
    /// The residuals became no numbers, or the search could not go on.
    #[error("the search lost its way")]
    Lost,
}

/// Evaluations at most, as a multiple of the number of parameters and one (MINPACK's habit).
const PATIENCE: usize = 200;

struct Problem<'r, R> {
    residuals: &'r R,
    steps: &'r [DifferenceStep],
    at: DVector<f64>,
    evaluations: Cell<usize>,
}

impl<R: Fn(&[f64]) -> Option<Vec<f64>> + Sync> Problem<'_, R> {
    fn moved(&self, index: usize, by: f64) -> Option<Vec<f64>> {
        let mut parameters = self.at.as_slice().to_vec();
        *parameters.get_mut(index)? += by;
        (self.residuals)(&parameters)
    }

    /// Slope by central differences; to one side alone where the other does not exist.
    fn slope(&self, index: usize, step: f64) -> Option<Vec<f64>> {
        let (below, above) = (self.moved(index, -step), self.moved(index, step));
        let (from, to, width) = match (below, above) {
            (Some(below), Some(above)) => (below, above, 2.0 * step),
            (Some(below), None) => (below, (self.residuals)(self.at.as_slice())?, step),
            (None, Some(above)) => ((self.residuals)(self.at.as_slice())?, above, step),
            (None, None) => return None,
        };
        Some(
            to.iter()
                .zip(from)
                .map(|(to, from)| (to - from) / width)
                .collect(),
        )
    }
}

impl<R: Fn(&[f64]) -> Option<Vec<f64>> + Sync> LeastSquaresProblem<f64, Dyn, Dyn>
    for Problem<'_, R>
{
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, parameters: &DVector<f64>) {
        self.at.copy_from(parameters);
    }

    fn params(&self) -> DVector<f64> {
        self.at.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        self.evaluations.set(self.evaluations.get() + 1);
        (self.residuals)(self.at.as_slice()).map(DVector::from_vec)
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        self.evaluations
            .set(self.evaluations.get() + 2 * self.steps.len());
        let (at, residuals, steps) = (&self.at, self.residuals, self.steps);
        let columns: Option<Vec<DVector<f64>>> = (0..steps.len())
            .into_par_iter()
            .map(|index| {
                // Each column has a problem of its own: a cell that counts is no thing to share.
                let problem = Problem {
                    residuals,
                    steps,
                    at: at.clone(),
                    evaluations: Cell::new(0),
                };
                let step = steps.get(index)?.of(*at.get(index)?);
                problem.slope(index, step).map(DVector::from_vec)
            })
            .collect();
        Some(DMatrix::from_columns(&columns?))
    }
}

/// Finds the parameters with the least sum of squared residuals, from a start. `residuals` gives
/// `None` where the parameters are out of range: the search goes another way then. It comes to rest
/// where a step changes the sum, or the parameters, by less than a share `rest` of them.
///
/// # Errors
/// When the start has no residuals, or the search loses its way.
pub fn least_squares<R: Fn(&[f64]) -> Option<Vec<f64>> + Sync>(
    start: &[f64],
    steps: &[DifferenceStep],
    rest: Positive,
    residuals: &R,
) -> Result<LeastSquares, LeastSquaresError> {
    let here = residuals(start).ok_or(LeastSquaresError::NoStart)?;
    // A refused set of parameters is as bad as any that was ever seen: the search steps back.
    let worst = here
        .iter()
        .map(|residual| residual.abs())
        .fold(1.0, f64::max);
    let count = here.len();
    let guarded = |parameters: &[f64]| {
        let refused = || Some(vec![REFUSED_FACTOR * worst; count]);
        residuals(parameters).or_else(refused)
    };
    let problem = Problem {
        residuals: &guarded,
        steps,
        at: DVector::from_column_slice(start),
        evaluations: Cell::new(1),
    };
    let (problem, report) = LevenbergMarquardt::new()
        .with_tol(rest.get())
        .with_patience(PATIENCE)
        .minimize(problem);
    let settled = match report.termination {
        TerminationReason::LostPatience => false,
        TerminationReason::Numerical(_)
        | TerminationReason::User(_)
        | TerminationReason::WrongDimensions(_)
        | TerminationReason::NoParameters => return Err(LeastSquaresError::Lost),
        _ => true,
    };
    let jacobian = problem.jacobian().ok_or(LeastSquaresError::Lost)?;
    Ok(LeastSquares {
        residual_sum: 2.0 * report.objective_function,
        settled,
        jacobian,
        evaluations: problem.evaluations.get(),
        parameters: problem.at.as_slice().to_vec(),
    })
}

/// Size of the residuals of refused parameters over the largest at the start.
const REFUSED_FACTOR: f64 = 10.0;

#[cfg(test)]
#[path = "least_squares_tests.rs"]
mod tests;
