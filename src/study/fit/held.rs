//! Runs held against a car.

use super::chance::{Chance, Run};
use super::evidence::{Spread, log_likelihood, residual, weight};
use super::learnt::FitError;
use super::model::FOR_READINGS;
use super::space::Space;
use crate::car::Car;
use crate::car::slip::Slip;

/// A run held against a car: how far it may lie off, how far it lies off and what say that leaves it.
pub(super) struct Held<'s> {
    pub(super) slip: &'s Slip,
    pub(super) launch_speed_rad_s: f64,
    pub(super) spread: Spread,
    pub(super) chance: &'s Chance,
    /// Squared distance from what the model says, in standard errors.
    pub(super) squared: f64,
    pub(super) weight: f64,
}

impl Held<'_> {
    /// Logarithm of the run's likelihood, but for a constant.
    fn log_likelihood(&self) -> f64 {
        log_likelihood(self.squared, self.slip.figures.len())
    }
}

/// All runs held against the car of these scores.
///
/// # Errors
/// When the model's runs do not show what the slips show.
pub(super) fn held_at<'s>(
    space: &Space<'_>,
    (scores, car): (&[f64], &Car),
    runs: &[Run<'s>],
    chances: &'s [Chance],
) -> Result<Vec<Held<'s>>, FitError> {
    space.drive(runs.len());
    let all = runs.iter().zip(chances);
    all.map(|((slip, launch_speed_rad_s), chance)| {
        let spread = chance.spread(scores);
        let off = residual(car, slip, *launch_speed_rad_s, &spread, &FOR_READINGS);
        let squared = off
            .ok_or(FitError::OutOfReach { row: slip.row })?
            .norm_squared();
        Ok(Held {
            slip,
            launch_speed_rad_s: *launch_speed_rad_s,
            spread,
            chance,
            squared,
            weight: weight(squared, slip.figures.len()),
        })
    })
    .collect()
}

/// Logarithm of the posterior at scores, but for a constant.
pub(super) fn log_posterior(scores: &[f64], held: &[Held<'_>]) -> f64 {
    let prior: f64 = scores.iter().map(|score| -0.5 * score * score).sum();
    prior + held.iter().map(Held::log_likelihood).sum::<f64>()
}
