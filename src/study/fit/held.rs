//! Runs held against a car.

use super::chance::{Chance, Run};
use super::evidence::{Spread, log_likelihood, residual, weight};
use super::learnt::FitError;
use super::model::FOR_READINGS;
use super::space::Space;
use crate::car::Car;
use crate::car::slip::Slip;

/// What all slips together may say beside the sheet, as a share of their likelihood. No
/// distribution that is worked out from some hundred launches follows the bent path of a run that
/// may bog or spin: taken at its whole word it says a little more than it knows, and 95 %
/// intervals of what two flywheels differ by hold the truth in 89 of 100 meetings. The share was
/// chosen on those meetings (calibration of a general posterior: Syring & Martin, *Biometrika*
/// 106 (2019) 479, from memory); docs/slips.md tells what came of it.
const SAY_OF_THE_SLIPS: f64 = 0.9;

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
    let slips: f64 = held.iter().map(Held::log_likelihood).sum();
    prior + SAY_OF_THE_SLIPS * slips
}
