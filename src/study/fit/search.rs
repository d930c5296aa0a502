//! The most probable values of the unknowns, and weighted draws about them.

use super::evidence::{
    LAUNCHES_A_SPREAD, Spread, log_likelihood, residual, squared_of_one_that_fits, weight,
};
use super::learnt::{Fit, FitError, FitQuestion, RunFit, Unknown};
use super::plausible;
use crate::car::Car;
use crate::car::doubt::{DoubtedCar, DoubtedInput, JointDraws};
use crate::car::slip::Slip;
use crate::launch::Rig;
use crate::numerics::checked::Positive;
use crate::numerics::importance::{WeightedDraws, importance_draws};
use crate::numerics::least_squares::{DifferenceStep, least_squares};
use crate::numerics::quantile::normal_share;
use crate::numerics::summary::percentile;
use crate::study::decide::own_aim::own_aim;
use crate::study::scatter::scattered_rig::ScatteredRig;
use crate::study::{Progress, StudyError};
use nalgebra::DMatrix;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Unknowns that a fit looks for where nobody names others.
pub const USUAL_UNKNOWNS: [&str; 10] = [
    "tyre.grip",
    "tyre.sliding_share",
    "tyre.peak_slip",
    "clutch.capacity",
    "clutch.release_time",
    "gearbox.efficiency",
    "car.drag_area",
    "engine.torque_scale",
    "driver.lift.to",
    "driver.lift.at",
];

/// Rounds of least squares with the slips' weights and spreads brought up to date in between.
const ROUNDS: usize = 4;
/// Scores that still move by less than this between rounds have come to rest.
const AT_REST: f64 = 0.01;
/// Step of a slope, standard deviations of the prior: small beside what is known, far above the
/// launches' own accuracy.
const STEP: f64 = 0.05;
/// No value further from what the sheet says is looked at by the search, standard deviations:
/// one in a billion bets on it.
const FURTHEST: f64 = 6.0;
/// A search that ends further out than this was dragged there, by a missed shift for one: it is
/// begun again with the slips weighed first.
const DRAGGED: f64 = 4.0;
/// Fewest and most draws.
const DRAWS: (usize, usize) = (256, 2048);

/// The car as a function of the unknowns' scores, all other doubted values as stated.
struct Space<'d> {
    doubted: &'d DoubtedCar,
    positions: Vec<usize>,
    /// Launches driven so far.
    driven: AtomicUsize,
}

impl Space<'_> {
    fn drive(&self, launches: usize) {
        self.driven.fetch_add(launches, Ordering::Relaxed);
    }

    fn input(&self, unknown: usize) -> Option<&DoubtedInput> {
        self.doubted.inputs().get(*self.positions.get(unknown)?)
    }

    /// Values of the unknowns at scores, SI: a normal input lies its score of standard
    /// deviations off, a rectangular one where the normal has the same share below.
    fn values(&self, scores: &[f64]) -> Vec<f64> {
        scores
            .iter()
            .enumerate()
            .filter_map(|(unknown, score)| {
                let input = self.input(unknown)?;
                let share = normal_share(*score).clamp(f64::MIN_POSITIVE, 1.0 - f64::EPSILON);
                Some(input.doubt.quantile(input.nominal, share))
            })
            .collect()
    }

    fn car(&self, values: &[f64]) -> Option<Car> {
        let mut all: Vec<f64> = self
            .doubted
            .inputs()
            .iter()
            .map(|input| input.nominal)
            .collect();
        for (position, value) in self.positions.iter().zip(values) {
            *all.get_mut(*position)? = *value;
        }
        self.doubted.with_values(&all)
    }
}

/// A slip with the launch speed taken for it, its spread and its weight.
struct Held<'s> {
    slip: &'s Slip,
    launch_speed_rad_s: f64,
    spread: Spread,
    weight: f64,
}

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
    let space = Space {
        positions: positions(doubted, question)?,
        doubted,
        driven: AtomicUsize::new(0),
    };
    let nominal = doubted.nominal();
    if slips.is_empty() {
        return Err(FitError::NoSlips);
    }
    for slip in slips {
        plausible::check(nominal, slip)?;
    }
    let mut best = search(&space, slips, FirstWeights::Alike, progress)?;
    if best.scores.iter().any(|score| score.abs() > DRAGGED) {
        best = search(&space, slips, FirstWeights::ByDistance, progress)?;
    }
    drawn(
        &space,
        &best.held,
        (&best.scores, &best.covariance),
        best.settled,
        question,
        progress,
    )
}

/// What a search came to.
struct Searched<'s> {
    held: Vec<Held<'s>>,
    scores: Vec<f64>,
    covariance: DMatrix<f64>,
    settled: bool,
}

/// What say slips have before anything is fitted.
#[derive(Clone, Copy, PartialEq, Eq)]
enum FirstWeights {
    Alike,
    /// Those far further off than most have less.
    ByDistance,
}

/// Least squares in rounds, weights and spreads brought up to date in between.
fn search<'s>(
    space: &Space<'_>,
    slips: &'s [Slip],
    first: FirstWeights,
    progress: &dyn Progress,
) -> Result<Searched<'s>, FitError> {
    let nominal = space.doubted.nominal();
    let mut scores = vec![0.0; space.positions.len()];
    let mut held = slips
        .iter()
        .map(|slip| hold(nominal, slip, launch_speed(nominal, slip, slips)?))
        .collect::<Result<Vec<_>, FitError>>()?;
    space.drive(held.len() * LAUNCHES_A_SPREAD);
    if first == FirstWeights::ByDistance {
        space.drive(held.len());
        weigh_by_distance(nominal, &mut held)?;
    }
    let mut found = None;
    for _ in 0..ROUNDS {
        if progress.stopped() {
            return Err(StudyError::Stopped.into());
        }
        let best = round(space, &held, &scores)?;
        let moved = best
            .parameters
            .iter()
            .zip(&scores)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max);
        scores.clone_from(&best.parameters);
        found = Some(best);
        bring_up_to_date(space, &mut held, &scores)?;
        if moved < AT_REST {
            break;
        }
    }
    let best = found.ok_or(FitError::NoDraws)?;
    Ok(Searched {
        covariance: best.unit_covariance().ok_or(FitError::NoDraws)?,
        settled: best.settled,
        held,
        scores,
    })
}

/// Spreads and weights of all slips with the unknowns at scores.
fn bring_up_to_date(
    space: &Space<'_>,
    held: &mut [Held<'_>],
    scores: &[f64],
) -> Result<(), FitError> {
    let car = space.car(&space.values(scores)).ok_or(FitError::NoDraws)?;
    space.drive(held.len() * (LAUNCHES_A_SPREAD + 1));
    for run in held {
        let speed = run.launch_speed_rad_s;
        run.spread = spread(&car, run.slip, speed)?;
        let off = residual(&car, run.slip, speed, &run.spread);
        let off = off.ok_or(FitError::OutOfReach { row: run.slip.row })?;
        run.weight = weight(off.norm_squared(), run.slip.figures.len());
    }
    Ok(())
}

fn positions(doubted: &DoubtedCar, question: &FitQuestion) -> Result<Vec<usize>, FitError> {
    if question.unknowns.is_empty() {
        let usual: Vec<usize> = (USUAL_UNKNOWNS.iter())
            .filter_map(|key| doubted.position(key))
            .chain(grips_of_meetings(doubted))
            .collect();
        return if usual.is_empty() {
            Err(FitError::NothingInDoubt)
        } else {
            Ok(usual)
        };
    }
    question
        .unknowns
        .iter()
        .map(|key| {
            let position = doubted.position(key);
            position.ok_or_else(|| FitError::NotInDoubt(key.clone()))
        })
        .collect()
}

/// What each meeting's track gave, over the tyre's own.
fn grips_of_meetings(doubted: &DoubtedCar) -> impl Iterator<Item = usize> {
    let of_a_meeting = |key: &str| {
        let parts = key.rsplit_once('.');
        parts.is_some_and(|(of, name)| of.starts_with("meeting.") && name == "grip")
    };
    let inputs = doubted.inputs().iter().enumerate();
    inputs.filter_map(move |(place, input)| of_a_meeting(&input.key).then_some(place))
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
        return Ok(crate::numerics::summary::mean(&read));
    }
    let out_of_reach = || FitError::OutOfReach { row: slip.row };
    let nominal = nominal.at_meeting(slip.meeting);
    let wheels = nominal.flywheels.all();
    let wheel = wheels.get(slip.wheel).ok_or_else(out_of_reach)?;
    let rig = ScatteredRig::new(Rig::new(&nominal, wheel));
    let aim = own_aim(&rig, &nominal.driver.launch_range)?;
    aim.map(|aim| aim.aim_rad_s).ok_or_else(out_of_reach)
}

fn spread(car: &Car, slip: &Slip, launch_speed_rad_s: f64) -> Result<Spread, FitError> {
    Spread::of(car, slip, launch_speed_rad_s).ok_or(FitError::OutOfReach { row: slip.row })
}

fn hold<'s>(car: &Car, slip: &'s Slip, launch_speed_rad_s: f64) -> Result<Held<'s>, FitError> {
    Ok(Held {
        slip,
        launch_speed_rad_s,
        spread: spread(car, slip, launch_speed_rad_s)?,
        weight: 1.0,
    })
}

/// Weights before anything is fitted: the sheet's own values may be off from all slips alike, but
/// a slip far further off than most would drag the search along with it.
fn weigh_by_distance(nominal: &Car, held: &mut [Held<'_>]) -> Result<(), FitError> {
    let squared = |run: &Held<'_>| {
        let off = residual(nominal, run.slip, run.launch_speed_rad_s, &run.spread);
        let off = off.ok_or(FitError::OutOfReach { row: run.slip.row })?;
        Ok(off.norm_squared())
    };
    let all = held
        .iter()
        .map(squared)
        .collect::<Result<Vec<f64>, FitError>>()?;
    let usual = percentile(&all, 0.5);
    for (run, squared) in held.iter_mut().zip(all) {
        // The usual slip counts as one that fits: a standard error off in each of its figures.
        let figures = run.slip.figures.len();
        let fits = squared_of_one_that_fits(figures);
        run.weight = weight(squared * fits / usual.max(fits), figures);
    }
    Ok(())
}

/// Least squares with every slip's spread and weight as they are.
fn round(
    space: &Space<'_>,
    held: &[Held<'_>],
    start: &[f64],
) -> Result<crate::numerics::least_squares::LeastSquares, FitError> {
    let residuals = |scores: &[f64]| {
        if scores.iter().any(|score| score.abs() > FURTHEST) {
            return None;
        }
        let car = space.car(&space.values(scores))?;
        space.drive(held.len());
        let mut all = scores.to_vec();
        for run in held {
            let off = residual(&car, run.slip, run.launch_speed_rad_s, &run.spread)?;
            all.extend(off.iter().map(|off| off * run.weight.sqrt()));
        }
        Some(all)
    };
    let step = Positive::new(STEP).map_or_else(Vec::new, |step| {
        vec![DifferenceStep::Fixed(step); start.len()]
    });
    Ok(least_squares(start, &step, &residuals)?)
}

/// Weighted draws about the best scores, and what they say.
fn drawn(
    space: &Space<'_>,
    held: &[Held<'_>],
    (scores, covariance): (&[f64], &DMatrix<f64>),
    settled: bool,
    question: &FitQuestion,
    progress: &dyn Progress,
) -> Result<Fit, FitError> {
    let seed = question.seed;
    let count = (question.launches_for_draws / held.len().max(1)).clamp(DRAWS.0, DRAWS.1);
    progress.expect(count + count / 4 * usize::try_from(SCOUTING_ROUNDS).unwrap_or(0));
    let log_density = |scores: &[f64]| {
        progress.advance();
        if progress.stopped() {
            return None;
        }
        let prior: f64 = scores.iter().map(|score| -0.5 * score * score).sum();
        let car = space.car(&space.values(scores))?;
        space.drive(held.len());
        let likelihood: Option<f64> = held
            .iter()
            .map(|run| {
                let off = residual(&car, run.slip, run.launch_speed_rad_s, &run.spread)?;
                Some(log_likelihood(off.norm_squared(), run.slip.figures.len()))
            })
            .sum();
        Some(prior + likelihood?)
    };
    let about = |centre: &[f64], covariance: &DMatrix<f64>, count: usize, seed: u32| {
        let count = u32::try_from(count).ok()?;
        importance_draws(centre, covariance, count, seed, log_density)
    };
    // The first draws only find out how the likelihood really lies about its best place.
    let (mut centre, mut wide) = (scores.to_vec(), covariance.clone());
    for round in 0..SCOUTING_ROUNDS {
        let scouts = about(
            &centre,
            &(&wide * WIDER),
            count / 4,
            seed.wrapping_add(round),
        );
        let scouts = scouts.ok_or(FitError::NoDraws)?;
        (centre, wide) = moments(&scouts, &centre, &wide);
    }
    let draws = about(
        &centre,
        &(wide * WIDER),
        count,
        seed.wrapping_add(SCOUTING_ROUNDS),
    );
    if progress.stopped() {
        return Err(StudyError::Stopped.into());
    }
    let draws = draws.ok_or(FitError::NoDraws)?;
    report(space, held, (scores, &draws), (count, settled))
}

/// Rounds of scouting draws.
const SCOUTING_ROUNDS: u32 = 3;
/// Draws are made a little wider than what they are to show: tails missed weigh more than effort.
const WIDER: f64 = 1.2;
/// Effective draws from which on the moments of the first ones are better than the curvature.
const ENOUGH_FOR_MOMENTS: f64 = 20.0;

fn moments(
    first: &WeightedDraws,
    scores: &[f64],
    covariance: &DMatrix<f64>,
) -> (Vec<f64>, DMatrix<f64>) {
    let unknowns = scores.len();
    if first.effective() < ENOUGH_FOR_MOMENTS {
        return (scores.to_vec(), covariance.clone());
    }
    let centre = (0..unknowns).map(|index| first.mean(index)).collect();
    let wide = DMatrix::from_fn(unknowns, unknowns, |a, b| first.covariance(a, b));
    if wide.clone().cholesky().is_some() {
        (centre, wide)
    } else {
        (scores.to_vec(), covariance.clone())
    }
}

fn report(
    space: &Space<'_>,
    held: &[Held<'_>],
    (scores, by_score): (&[f64], &WeightedDraws),
    (made, settled): (usize, bool),
) -> Result<Fit, FitError> {
    let draws = WeightedDraws {
        draws: by_score
            .draws
            .iter()
            .map(|scores| space.values(scores))
            .collect(),
        weights: by_score.weights.clone(),
    };
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
    space.drive(held.len() * (LAUNCHES_A_SPREAD + 1));
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
        settled,
        launches: space.driven.load(Ordering::Relaxed),
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

fn run_fit(car: &Car, run: &Held<'_>) -> Result<RunFit, FitError> {
    let row = run.slip.row;
    let speed = run.launch_speed_rad_s;
    let predicted = super::model::predicted(car, run.slip, speed, &[0.0; super::model::CHANCES])
        .ok_or(FitError::OutOfReach { row })?;
    let spread = spread(car, run.slip, speed)?.covariance();
    Ok(RunFit {
        slip: run.slip.clone(),
        launch_speed_rad_s: speed,
        weight: run.weight.min(1.0),
        predicted,
        spread: spread
            .diagonal()
            .iter()
            .map(|variance| variance.sqrt())
            .collect(),
    })
}
