//! The most probable values of the unknowns.

use super::chance::{Chance, LAUNCHES_A_RUN, LIKELY_CARS, Run, spreads_over};
use super::draws::drawn;
use super::evidence::{residual, squared_of_one_that_fits, weight};
use super::held::{Held, held_at};
use super::learnt::{Fit, FitError, FitQuestion};
use super::model::FOR_SLOPES;
use super::plausible;
use super::space::Space;
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::car::slip::Slip;
use crate::launch::Rig;
use crate::numerics::checked::Positive;
use crate::numerics::least_squares::{DifferenceStep, LeastSquares, least_squares};
use crate::numerics::quantile::standard_normal;
use crate::numerics::summary::{mean, percentile};
use crate::study::decide::own_aim::own_aim;
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::scatter::sobol::unit_point;
use crate::study::{Progress, StudyError};
use nalgebra::DMatrix;

/// Rounds of least squares with the slips' weights brought up to date in between.
const ROUNDS: usize = 4;
/// Scores that still move by less than this between rounds have come to rest.
const AT_REST: f64 = 0.01;
/// Step of a slope, standard deviations of the prior: small beside what is known, far above the
/// launches' own accuracy.
const STEP: f64 = 0.05;
/// A search rests where the sum of squares falls by less than this share: with thirty runs that is
/// a tenth of a standard error, and the draws find their own way from there.
const REST: f64 = 1e-4;
/// No value further from what the sheet says is looked at by the search, standard deviations:
/// one in a billion bets on it.
const FURTHEST: f64 = 6.0;
/// A search that ends further out than this was dragged there, by a missed shift for one: it is
/// begun again with the slips weighed first.
const DRAGGED: f64 = 4.0;
/// Seed of the sheets drawn from the doubt.
const SEED_OF_SHEETS: u32 = 0x0b3f;

/// Holds slips against the model.
///
/// # Errors
/// When there is nothing to fit or to fit with, a slip is none of this car's, or no values fit.
pub fn fit(
    doubted: &DoubtedCar,
    slips: &[Slip],
    question: &FitQuestion,
    progress: &dyn Progress,
) -> Result<Fit, FitError> {
    let space = Space::new(doubted, question)?;
    let nominal = doubted.nominal();
    if slips.is_empty() {
        return Err(FitError::NoSlips);
    }
    for slip in slips {
        plausible::check(nominal, slip)?;
    }
    let runs = slips
        .iter()
        .map(|slip| Ok((slip, launch_speed(nominal, slip, slips)?)))
        .collect::<Result<Vec<_>, FitError>>()?;
    let spreads = spreads_over(&cars_of_the_sheet(&space), &runs)
        .or_else(|_| spreads_over(&vec![nominal.clone(); LIKELY_CARS], &runs))?;
    space.drive(LAUNCHES_A_RUN * runs.len());
    let chances: Vec<Chance> = spreads.into_iter().map(Chance::alike).collect();
    let mut best = search(&space, &runs, &chances, FirstWeights::Alike, progress)?;
    if best.scores.iter().any(|score| score.abs() > DRAGGED) {
        best = search(&space, &runs, &chances, FirstWeights::ByDistance, progress)?;
    }
    drawn(&space, &runs, chances, &best, question, progress)
}

/// Cars drawn from the sheet's doubt of the unknowns.
fn cars_of_the_sheet(space: &Space<'_>) -> Vec<Car> {
    let dimensions = 0..u32::try_from(space.positions.len()).unwrap_or(u32::MAX);
    (0..LIKELY_CARS)
        .filter_map(|sheet| {
            let scores: Vec<f64> = (dimensions.clone())
                .map(|dimension| standard_normal(unit_point(sheet, dimension, SEED_OF_SHEETS)))
                .collect();
            space.car(&space.values(&scores))
        })
        .collect()
}

/// What a search came to.
pub(super) struct Searched {
    pub(super) scores: Vec<f64>,
    pub(super) covariance: DMatrix<f64>,
    pub(super) settled: bool,
}

/// What say slips have before anything is fitted.
#[derive(Clone, Copy, PartialEq, Eq)]
enum FirstWeights {
    Alike,
    /// Those far further off than most have less.
    ByDistance,
}

/// Least squares in rounds, the slips' weights brought up to date in between.
fn search(
    space: &Space<'_>,
    runs: &[Run<'_>],
    chances: &[Chance],
    first: FirstWeights,
    progress: &dyn Progress,
) -> Result<Searched, FitError> {
    let mut scores = vec![0.0; space.positions.len()];
    let mut held = held_at(space, (&scores, space.doubted.nominal()), runs, chances)?;
    match first {
        FirstWeights::Alike => held.iter_mut().for_each(|run| run.weight = 1.0),
        FirstWeights::ByDistance => weigh_by_distance(&mut held),
    }
    let mut found = None;
    for _ in 0..ROUNDS {
        if progress.stopped() {
            return Err(StudyError::Stopped.into());
        }
        let best = round(space, &held, &scores)?;
        let moved = furthest(&best.parameters, &scores);
        scores.clone_from(&best.parameters);
        found = Some(best);
        if moved < AT_REST {
            break;
        }
        let car = space.car(&space.values(&scores)).ok_or(FitError::NoDraws)?;
        held = held_at(space, (&scores, &car), runs, chances)?;
    }
    let best = found.ok_or(FitError::NoDraws)?;
    Ok(Searched {
        covariance: best.unit_covariance().ok_or(FitError::NoDraws)?,
        settled: best.settled,
        scores,
    })
}

/// The largest difference between two sets of scores.
fn furthest(one: &[f64], other: &[f64]) -> f64 {
    let differences = one.iter().zip(other).map(|(a, b)| (a - b).abs());
    differences.fold(0.0, f64::max)
}

/// Launch speed taken for a slip: as read; else the mean of those read with the same flywheel;
/// else that flywheel's aim in the sheet.
fn launch_speed(nominal: &Car, slip: &Slip, slips: &[Slip]) -> Result<f64, FitError> {
    if let Some(speed) = slip.launch_speed_rad_s {
        return Ok(speed);
    }
    let read: Vec<f64> = slips
        .iter()
        .filter(|other| other.wheel == slip.wheel)
        .filter_map(|other| other.launch_speed_rad_s)
        .collect();
    if !read.is_empty() {
        return Ok(mean(&read));
    }
    let out_of_reach = || FitError::OutOfReach { row: slip.row };
    let nominal = nominal.at_meeting(slip.meeting);
    let wheels = nominal.flywheels.all();
    let wheel = wheels.get(slip.wheel).ok_or_else(out_of_reach)?;
    let rig = ScatteredRig::new(Rig::new(&nominal, wheel));
    let aim = own_aim(&rig, &nominal.driver.launch_range)?;
    aim.map(|aim| aim.aim_rad_s).ok_or_else(out_of_reach)
}

/// Weights before anything is fitted: the sheet's own values may be off from all slips alike, but
/// a slip far further off than most would drag the search along with it.
fn weigh_by_distance(held: &mut [Held<'_>]) {
    let all: Vec<f64> = held.iter().map(|run| run.squared).collect();
    let usual = percentile(&all, 0.5);
    for run in held {
        // The usual slip counts as one that fits: a standard error off in each of its figures.
        let figures = run.slip.figures.len();
        let fits = squared_of_one_that_fits(figures);
        run.weight = weight(run.squared * fits / usual.max(fits), figures);
    }
}

/// Least squares with every slip's spread and weight as they are.
fn round(space: &Space<'_>, held: &[Held<'_>], start: &[f64]) -> Result<LeastSquares, FitError> {
    let residuals = |scores: &[f64]| {
        if scores.iter().any(|score| score.abs() > FURTHEST) {
            return None;
        }
        let car = space.car(&space.values(scores))?;
        space.drive(held.len());
        let mut all = scores.to_vec();
        for run in held {
            let off = residual(
                &car,
                run.slip,
                run.launch_speed_rad_s,
                &run.spread,
                &FOR_SLOPES,
            )?;
            all.extend(off.iter().map(|off| off * run.weight.sqrt()));
        }
        Some(all)
    };
    let (Some(step), Some(rest)) = (Positive::new(STEP), Positive::new(REST)) else {
        return Err(FitError::NoDraws);
    };
    let steps = vec![DifferenceStep::Fixed(step); start.len()];
    Ok(least_squares(start, &steps, rest, &residuals)?)
}
