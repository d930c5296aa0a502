//! Weighted draws of the unknowns about their most probable values, and what they say.

use super::chance::{Chance, LAUNCHES_A_RUN_FOLLOWED, LIKELY_CARS, LikelyCar, Run, following};
use super::held::{Held, held_at, log_posterior};
use super::learnt::{Fit, FitError, FitQuestion, RunFit, Unknown};
use super::model::{CHANCES, FOR_SLOPES, predicted};
use super::search::Searched;
use super::space::Space;
use crate::car::Car;
use crate::car::doubt::{DoubtedInput, JointDraws};
use crate::numerics::importance::{WeightedDraws, importance_draws};
use crate::study::{Progress, StudyError};
use nalgebra::{DMatrix, DVector};

/// Fewest and most draws.
const DRAWS: (usize, usize) = (256, 2048);
/// Rounds of scouting draws, and their share of the draws.
const SCOUTING_ROUNDS: u32 = 3;
const SCOUTS_SHARE: usize = 4;
/// Draws are made a little wider than what they are to show: tails missed weigh more than effort.
const WIDER: f64 = 1.2;

/// Where the posterior lies, as far as is known: mean and covariance of the scores.
struct Region {
    centre: Vec<f64>,
    covariance: DMatrix<f64>,
}

/// Weighted draws about what a search found, and what they say.
///
/// # Errors
/// When no draw is possible, or somebody stopped it.
pub(super) fn drawn(
    space: &Space<'_>,
    runs: &[Run<'_>],
    mut chances: Vec<Chance>,
    best: &Searched,
    question: &FitQuestion,
    progress: &dyn Progress,
) -> Result<Fit, FitError> {
    let count = (question.launches_for_draws / runs.len()).clamp(DRAWS.0, DRAWS.1);
    let rounds = usize::try_from(SCOUTING_ROUNDS).unwrap_or(0);
    progress.expect(count + count / SCOUTS_SHARE * rounds);
    let draws = |region: &Region, chances: &[Chance], count: usize, round: u32| {
        let log_density = |scores: &[f64]| {
            progress.advance();
            if progress.stopped() {
                return None;
            }
            let car = space.car(&space.values(scores))?;
            let held = held_at(space, (scores, &car), runs, chances).ok()?;
            Some(log_posterior(scores, &held))
        };
        let seed = question.seed.wrapping_add(round);
        let wide = &region.covariance * WIDER;
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        let draws = importance_draws(&region.centre, &wide, count, seed, log_density);
        if progress.stopped() {
            return Err(StudyError::Stopped.into());
        }
        draws.ok_or(FitError::NoDraws)
    };
    let mut region = Region {
        centre: best.scores.clone(),
        covariance: best.covariance.clone(),
    };
    for round in 0..SCOUTING_ROUNDS {
        let scouts = draws(&region, &chances, count / SCOUTS_SHARE, round)?;
        let scouts = scouts.evened_out(effective_scouts(&region));
        chances = following(&likely_cars(space, &scouts), runs)?;
        space.drive(LAUNCHES_A_RUN_FOLLOWED * runs.len());
        region = region_of(&scouts, region);
    }
    let draws = draws(&region, &chances, count, SCOUTING_ROUNDS)?;
    report(space, runs, &chances, (best, &draws), count)
}

/// Cars at equal steps of the scouts' weight.
fn likely_cars(space: &Space<'_>, scouts: &WeightedDraws) -> Vec<LikelyCar> {
    let scores = scouts.equally_weighted(LIKELY_CARS);
    scores
        .filter_map(|scores| Some((scores.to_vec(), space.car(&space.values(scores))?)))
        .collect()
}

/// Effective draws that moments are made of, and for each unknown: where there are fewer, the
/// weights are evened out until there are as many, and the next scouts look further that way.
const EFFECTIVE_SCOUTS: f64 = 16.0;
const EFFECTIVE_SCOUTS_AN_UNKNOWN: f64 = 1.0;

fn effective_scouts(region: &Region) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few unknowns")]
    let unknowns = region.centre.len() as f64;
    EFFECTIVE_SCOUTS + EFFECTIVE_SCOUTS_AN_UNKNOWN * unknowns
}

/// Mean and covariance of scouting draws; the region before where they have none.
fn region_of(scouts: &WeightedDraws, before: Region) -> Region {
    let unknowns = before.centre.len();
    let covariance = DMatrix::from_fn(unknowns, unknowns, |a, b| scouts.covariance(a, b));
    if covariance.clone().cholesky().is_none() {
        return before;
    }
    Region {
        centre: (0..unknowns).map(|index| scouts.mean(index)).collect(),
        covariance,
    }
}

fn report(
    space: &Space<'_>,
    runs: &[Run<'_>],
    chances: &[Chance],
    (best, by_score): (&Searched, &WeightedDraws),
    made: usize,
) -> Result<Fit, FitError> {
    let draws = WeightedDraws {
        draws: by_score
            .draws
            .iter()
            .map(|scores| space.values(scores))
            .collect(),
        weights: by_score.weights.clone(),
    };
    let scores = &best.scores;
    let means: Vec<f64> = (0..scores.len()).map(|index| draws.mean(index)).collect();
    let car = space.car(&means).ok_or(FitError::NoDraws)?;
    let unknowns = space
        .positions
        .iter()
        .enumerate()
        .filter_map(|(index, position)| {
            let input = space.input(index)?.clone();
            Some(unknown(
                input,
                *position,
                (index, &draws),
                *scores.get(index)?,
            ))
        })
        .collect();
    let correlations = (0..scores.len())
        .flat_map(|a| (a + 1..scores.len()).map(move |b| (a, b)))
        .map(|(a, b)| (a, b, draws.correlation(a, b)))
        .collect();
    let centre: Vec<f64> = (0..scores.len()).map(|of| by_score.mean(of)).collect();
    let held = held_at(space, (&centre, &car), runs, chances)?;
    let runs = held
        .iter()
        .map(|run| run_fit(&car, run))
        .collect::<Result<_, _>>()?;
    let weighted = draws
        .weights
        .iter()
        .copied()
        .zip(draws.draws.iter().cloned());
    let joint = JointDraws::new(space.positions.clone(), weighted.collect());
    Ok(Fit {
        unknowns,
        correlations,
        runs,
        made,
        settled: best.settled,
        launches: space.launches(),
        doubted: space
            .doubted
            .clone()
            .with_joint(joint.ok_or(FitError::NoDraws)?),
        draws,
        car,
    })
}

/// Share of the draws left out at either end of a 95 % interval.
const TAIL: f64 = 0.025;
/// A best score this far out lies at the end of what was thought possible.
const AT_ITS_END: f64 = 2.0;

fn unknown(
    input: DoubtedInput,
    position: usize,
    (index, draws): (usize, &WeightedDraws),
    score: f64,
) -> Unknown {
    let (prior, prior_sd) = (
        input.doubt.quantile(input.nominal, 0.5),
        input.doubt.deviation(),
    );
    let posterior_sd = draws.deviation(index);
    Unknown {
        input,
        position,
        prior,
        prior_sd,
        posterior: draws.mean(index),
        posterior_sd,
        interval: (
            draws.quantile(index, TAIL),
            draws.quantile(index, 1.0 - TAIL),
        ),
        from_slips_share: (1.0 - (posterior_sd / prior_sd).powi(2)).clamp(0.0, 1.0),
        at_its_end: score.abs() > AT_ITS_END,
    }
}

fn run_fit(car: &Car, held: &Held<'_>) -> Result<RunFit, FitError> {
    let (slip, launch_speed_rad_s) = (held.slip, held.launch_speed_rad_s);
    let predicted = predicted(car, slip, launch_speed_rad_s, &[0.0; CHANCES], &FOR_SLOPES)
        .ok_or(FitError::OutOfReach { row: slip.row })?;
    let usual = DVector::from_column_slice(&predicted) + held.spread.shift();
    let on_average = &usual + held.chance.average();
    let variances = held.spread.covariance().diagonal();
    Ok(RunFit {
        slip: slip.clone(),
        launch_speed_rad_s,
        weight: held.weight.min(1.0),
        usual: usual.iter().copied().collect(),
        on_average: on_average.iter().copied().collect(),
        pull: held.weight,
        pull_variance: held.chance.pull_variance().iter().copied().collect(),
        predicted,
        spread: variances.iter().map(|variance| variance.sqrt()).collect(),
    })
}
