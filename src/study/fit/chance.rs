//! How far chance carries what a run shows.
//!
//! Release, grip and the launch speed as read differ from run to run and are no unknowns: they
//! widen what a run may show. By how much is found from launches and not from slopes: where a run
//! may bog or spin, the sixty-foot time and the times after it follow chance along a bent path,
//! which slopes would take for a line as thin as the reading of a clock. And how far chance
//! scatters is found over all cars that are likely: a fit that took each car's own would settle on
//! cars that may show anything, or on those whose path is thin by luck. What it adds to a usual
//! run does follow the car.

use super::evidence::{Spread, of_readings};
use super::learnt::FitError;
use super::model::{CHANCES, FOR_READINGS, RunChances, predicted};
use super::usual_line::{UsualLine, covariance_of};
use crate::car::Car;
use crate::car::slip::Slip;
use crate::numerics::quantile::standard_normal;
use crate::numerics::summary::mean;
use crate::study::scatter::sobol::unit_point;
use nalgebra::{DMatrix, DVector};
use rayon::prelude::*;

/// Cars that the spreads of a fit are taken over: a variance from so many is good to a fifth.
pub(super) const LIKELY_CARS: usize = 64;
/// Launches of [`spreads_over`] for each run.
pub(super) const LAUNCHES_A_RUN: usize = 2 * LIKELY_CARS;
/// Launches of [`following`] for each run.
pub(super) const LAUNCHES_A_RUN_FOLLOWED: usize = 3 * LIKELY_CARS;
/// One car in so many at least has to show what the slips show.
const FEWEST_SHARE: usize = 4;
/// Seed of the chances.
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
            let with = predicted(car, slip, speed, &chances(index, 0), &FOR_READINGS)?;
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

/// Chances of release, grip, launch speed and a log's clock, in standard deviations.
fn chances(car: usize, run: u32) -> RunChances {
    let dimensions: [u32; CHANCES] = [0, 1, 2, 3];
    let seed = SEED.wrapping_add(run);
    dimensions.map(|dimension| standard_normal(unit_point(car, dimension, seed)))
}

/// A likely car and its scores.
pub(super) type LikelyCar = (Vec<f64>, Car);

/// What chance does to a run: to a usual one, in a line with the car's scores, and how far to
/// either side.
#[derive(Debug, Clone)]
pub(super) struct Chance {
    /// With the car in the middle of the likely ones.
    middle: Spread,
    /// What it adds to each figure (rows) for a score (columns) off the middle.
    slopes: DMatrix<f64>,
    /// Lowest, middle and highest of each score over the likely cars: the line goes no further.
    reach: Vec<[f64; 3]>,
    /// How far the average run lies from the usual one.
    average: DVector<f64>,
    /// Variance of each figure off the usual run's, times the say that leaves its run.
    pull_variance: DVector<f64>,
}

impl Chance {
    /// The same to all cars.
    pub(super) fn alike(spread: Spread) -> Self {
        Self {
            slopes: DMatrix::zeros(spread.shift().len(), 0),
            reach: Vec::new(),
            average: DVector::zeros(spread.shift().len()),
            pull_variance: spread.covariance().diagonal(),
            middle: spread,
        }
    }

    /// How far the run's figures may lie with the car of these scores.
    pub(super) fn spread(&self, scores: &[f64]) -> Spread {
        let off = scores.iter().zip(&self.reach);
        let off = off.map(|(score, [low, middle, high])| score.clamp(*low, *high) - middle);
        let off = DVector::from_iterator(self.reach.len(), off);
        self.middle.clone().shifted(&self.slopes * off)
    }

    /// How far the average run lies from the usual one.
    pub(super) fn average(&self) -> &DVector<f64> {
        &self.average
    }

    /// Variance of each figure off the usual run's, times the say that leaves its run.
    pub(super) fn pull_variance(&self) -> &DVector<f64> {
        &self.pull_variance
    }
}

/// What chance does to each run, each of the cars launched once as it should and twice with
/// chances of its own, opposite ones: what follows chance in a line then leaves their mean alone.
/// Each run has others, so that their luck does not add up over the runs.
///
/// # Errors
/// When too few of them show what a slip shows, with that slip.
pub(super) fn following(cars: &[LikelyCar], runs: &[Run<'_>]) -> Result<Vec<Chance>, FitError> {
    let followed = |(place, run): (u32, &Run<'_>)| {
        let of_run = chance_following(cars, *run, place);
        of_run.ok_or(FitError::OutOfReach { row: run.0.row })
    };
    (0..).zip(runs).map(followed).collect()
}

fn chance_following(cars: &[LikelyCar], run: Run<'_>, place: u32) -> Option<Chance> {
    let launched: Vec<(&[f64], [DVector<f64>; 2])> = (cars.par_iter().enumerate())
        .filter_map(|(index, (scores, car))| {
            let own = chances(index, place);
            Some((scores.as_slice(), both_ways(car, run, own)?))
        })
        .collect();
    if FEWEST_SHARE * launched.len() < cars.len() {
        return None;
    }
    let reach = reach_of(&launched)?;
    let column = |scores: &[f64]| {
        let off = scores
            .iter()
            .zip(&reach)
            .map(|(score, [_, middle, _])| score - middle);
        [1.0].into_iter().chain(off).collect::<Vec<_>>()
    };
    let (cars, added): (Vec<DVector<f64>>, Vec<DVector<f64>>) = launched
        .iter()
        .flat_map(|(scores, both)| {
            both.iter()
                .map(|added| (column(scores).into(), added.clone()))
        })
        .unzip();
    let line = UsualLine::through(
        &DMatrix::from_columns(&cars),
        &DMatrix::from_columns(&added),
        &of_readings(run.0),
    )?;
    Some(Chance {
        middle: Spread::new(run.0, line.lines.column(0).into_owned(), line.covariance)?,
        slopes: line.lines.columns(1, reach.len()).into_owned(),
        reach,
        average: line.average,
        pull_variance: line.pull_variance,
    })
}

/// What these chances add to a car's figures, and what their opposite does.
fn both_ways(car: &Car, (slip, speed): Run<'_>, own: RunChances) -> Option<[DVector<f64>; 2]> {
    let show = |chances: &RunChances| {
        predicted(car, slip, speed, chances, &FOR_READINGS).map(DVector::from_vec)
    };
    let without = show(&[0.0; CHANCES])?;
    Some([
        show(&own)? - &without,
        show(&own.map(|chance| -chance))? - &without,
    ])
}

/// Lowest, mean and highest of each score.
fn reach_of<T>(launched: &[(&[f64], T)]) -> Option<Vec<[f64; 3]>> {
    (0..launched.first()?.0.len())
        .map(|place| {
            let scores = launched.iter().filter_map(|(of, _)| of.get(place).copied());
            let scores: Vec<f64> = scores.collect();
            let low = scores.iter().copied().reduce(f64::min)?;
            let high = scores.iter().copied().reduce(f64::max)?;
            Some([low, mean(&scores), high])
        })
        .collect()
}

/// Mean and covariance of what chance added; `None` of too few.
fn moments(added: &[DVector<f64>]) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let mut runs = DMatrix::from_columns(added);
    let mean = runs.column_mean();
    for mut run in runs.column_iter_mut() {
        run -= &mean;
    }
    Some((mean, covariance_of(&runs, 1)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::slip::{Shown, SlipFigure};
    use crate::car::track::Mark;

    /// A line of 3 ms a score about the middle car at a score of 1, known over 0 to 2: at 1.5 it
    /// adds half of that, and beyond 2 no more than at 2.
    #[test]
    fn law_a_line_is_followed_no_further_than_likely_cars_reach() {
        let slip = Slip {
            row: 1,
            wheel: 0,
            meeting: None,
            launch_speed_rad_s: None,
            figures: vec![SlipFigure {
                shown: Shown::Time(Mark::Ft60),
                value: 2.0,
                step: 0.001,
            }],
            log: None,
            remark: None,
        };
        let one = |value| DVector::from_element(1, value);
        let middle = Spread::new(&slip, one(0.010), DMatrix::from_element(1, 1, 1e-4));
        let chance = Chance {
            slopes: DMatrix::from_element(1, 1, 0.003),
            reach: vec![[0.0, 1.0, 2.0]],
            ..Chance::alike(middle.expect("a spread"))
        };
        for (score, added_s) in [(1.0, 0.010), (1.5, 0.0115), (2.0, 0.013), (5.0, 0.013)] {
            let shift = chance.spread(&[score]).shift()[0];
            assert!((shift - added_s).abs() < 1e-12, "{score}: {shift}");
        }
    }
}
