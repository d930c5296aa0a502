//! How far chance carries what a run shows.
//!
//! Release, grip and the launch speed as read differ from run to run and are no unknowns: they
//! widen what a run may show. By how much is found from launches and not from slopes: where a run
//! may bog or spin, the sixty-foot time and the times after it follow chance along a bent path,
//! which slopes would take for a line as thin as the reading of a clock. And it is found over all
//! cars that are likely, not for the likeliest alone: a fit that took each car's own would settle
//! on cars that may show anything, or on those whose path is thin by luck.

use super::evidence::Spread;
use super::learnt::FitError;
use super::model::{CHANCES, FOR_READINGS, RunChances, predicted};
use crate::car::Car;
use crate::car::slip::Slip;
use crate::numerics::quantile::standard_normal;
use crate::study::scatter::sobol::unit_point;
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// Cars that the spreads of a fit are taken over: a variance from so many is good to a fifth.
pub(super) const LIKELY_CARS: usize = 64;
/// Launches of [`spreads_over`] for each run.
pub(super) const LAUNCHES_A_RUN: usize = 2 * LIKELY_CARS;
/// One car in so many at least has to show what the slips show.
const FEWEST_SHARE: usize = 4;
/// Seed of the chances: the same for all runs, so that runs alike are treated alike.
const SEED: u32 = 0x5157;

/// A slip and the launch speed taken for it, rad/s.
pub(super) type Run<'s> = (&'s Slip, f64);

/// How far each run's figures may lie from what a car should show, each of the cars launched once
/// as it should and once with chances of its own.
///
/// # Errors
/// When too few of them show what a slip shows, with that slip.
pub(super) fn spreads_over(cars: &[Car], runs: &[Run<'_>]) -> Result<Vec<Spread>, FitError> {
    let spread =
        |run: &Run<'_>| spread_over(cars, *run).ok_or(FitError::OutOfReach { row: run.0.row });
    runs.iter().map(spread).collect()
}

fn spread_over(cars: &[Car], (slip, speed): Run<'_>) -> Option<Spread> {
    let added: Vec<DVector<f64>> = cars
        .par_iter()
        .enumerate()
        .filter_map(|(index, car)| {
            let with = predicted(car, slip, speed, &chances(index), &FOR_READINGS)?;
            let without = predicted(car, slip, speed, &[0.0; CHANCES], &FOR_READINGS)?;
            Some(DVector::from_vec(with) - DVector::from_vec(without))
        })
        .collect();
    if FEWEST_SHARE * added.len() < cars.len() {
        return None;
    }
    let (shift, covariance) = moments(&added)?;
    Spread::new(slip, shift, covariance)
}

/// Chances of release, grip and launch speed, in standard deviations.
fn chances(index: usize) -> RunChances {
    let dimensions: [u32; CHANCES] = [0, 1, 2];
    dimensions.map(|dimension| standard_normal(unit_point(index, dimension, SEED)))
}

/// Mean and covariance of what chance added; `None` of too few. The covariance is made wider by
/// what the inverse of one from few runs is too large by (Hartlap, Simon & Schneider, *Astronomy
/// & Astrophysics* 464 (2007) 399, eq. 17, from memory).
fn moments(added: &[DVector<f64>]) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let mut runs = DMatrix::from_columns(added);
    let mean = runs.column_mean();
    for mut run in runs.column_iter_mut() {
        run -= &mean;
    }
    #[expect(clippy::cast_precision_loss, reason = "some tens of launches")]
    let left = runs.ncols() as f64 - runs.nrows() as f64 - 2.0;
    (left > 0.0).then(|| (mean, &runs * runs.transpose() / left))
}
