//! Down to 1,320 ft: what the light flywheel earns in each gear of what it loses at the line.
//!
//! A whole run costs ten times a launch to 60 ft, and after 60 ft the driver's scatter adds
//! little new. So some launches are driven to the end, and how their times follow the sixty-foot
//! time is carried over to what the table says of that (a control variate: Owen, *Monte Carlo
//! theory, methods and examples*, sec. 8.9, from memory). Where the mean is not known well enough
//! by that, more are driven.

use super::super::{Progress, StudyError, on_all_cores};
use super::draws::{Chance, Draws};
use super::scattered_rig::ScatteredRig;
use super::table::{Aimed, Replicated};
use crate::car::track::Mark;
use crate::launch::drive::drive;
use crate::launch::marks::Clock;
use crate::launch::{Outcome, SCATTER_ACCURACY};
use crate::numerics::Interval;
use crate::numerics::summary::{mean, standard_deviation};

/// Whole runs of each block to begin with: 64 in all.
const FIRST_RUNS: usize = 4;
/// Whole runs of each block where that is not enough: 256 in all.
const MOST_RUNS: usize = 16;
/// Half an interval that is good enough, s: less than what a time slip and a difference of two
/// flywheels are looked at for.
const GOOD_ENOUGH_S: f64 = 0.002;

/// Times to 1,320 ft under scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct Quarter {
    /// Mean time, s; a launch that stalls counts what it costs to 60 ft more than the others.
    pub mean_s: f64,
    /// 95 % interval of that mean, s.
    pub mean_interval_s: Interval,
    /// Standard deviation of the runs that got away, s.
    pub sd_s: f64,
    /// Whole runs driven.
    pub runs: usize,
    /// The mean with and without each block, s.
    replicated_s: Replicated,
}

/// One side: its car, and its table at its aim.
#[derive(Debug, Clone, Copy)]
pub struct Driven<'s, 'c> {
    /// The car.
    pub rig: &'s ScatteredRig<'c>,
    /// Its table at its aim.
    pub aimed: Aimed<'s>,
}

/// A whole run: time to 60 ft and to 1,320 ft, s; the block it belongs to.
type Run = (usize, f64, f64);

/// Mean difference of two flywheels over 1,320 ft, the first less the second, with its interval.
pub fn difference(one: &Quarter, other: &Quarter) -> (f64, Interval) {
    let difference = one.replicated_s.less(&other.replicated_s).estimate();
    (difference.value, difference.interval)
}

/// Times to 1,320 ft of several flywheels at their aims, under the same draws.
///
/// # Errors
/// When a launch cannot be computed, or somebody stopped it.
pub fn quarters(
    driven: &[Driven],
    draws: &Draws,
    progress: &dyn Progress,
) -> Result<Vec<Quarter>, StudyError> {
    let chances = draws.chances(MOST_RUNS);
    let numbered = |from: usize, to: usize| -> Vec<(usize, &Chance)> {
        chances
            .iter()
            .enumerate()
            .filter(|(index, _)| (from..to).contains(&(index % MOST_RUNS)))
            .map(|(index, chance)| (index / MOST_RUNS, chance))
            .collect()
    };
    let mut runs = whole_runs(driven, &numbered(0, FIRST_RUNS), progress)?;
    let told = |runs: &[Vec<Run>]| -> Vec<Quarter> {
        driven
            .iter()
            .zip(runs)
            .map(|(driven, runs)| quarter(&driven.aimed, runs))
            .collect()
    };
    let first = told(&runs);
    if first.iter().all(|quarter| {
        let interval = &quarter.mean_interval_s;
        (interval.high - interval.low) / 2.0 <= GOOD_ENOUGH_S
    }) {
        return Ok(first);
    }
    let more = whole_runs(driven, &numbered(FIRST_RUNS, MOST_RUNS), progress)?;
    for (runs, more) in runs.iter_mut().zip(more) {
        runs.extend(more);
    }
    Ok(told(&runs))
}

/// Runs that got to the end, for each flywheel.
fn whole_runs(
    driven: &[Driven],
    chances: &[(usize, &Chance)],
    progress: &dyn Progress,
) -> Result<Vec<Vec<Run>>, StudyError> {
    let jobs: Vec<_> = driven
        .iter()
        .flat_map(|driven| chances.iter().map(move |chance| (driven, *chance)))
        .collect();
    let runs = on_all_cores(&jobs, progress, |(driven, (block, chance))| {
        let rig = driven.rig;
        let attempt = rig.attempt(driven.aimed.aim_rad_s, chance);
        let mut clock = Clock::new(Mark::Ft1320);
        let ending = drive(
            &rig.rig,
            &attempt,
            Mark::Ft1320,
            &SCATTER_ACCURACY,
            &mut clock,
        )?;
        let times = clock.time_s(Mark::Ft60).zip(clock.time_s(Mark::Ft1320));
        Ok(times
            .filter(|_| ending.outcome == Outcome::Finished)
            .map(|(sixty_s, whole_s)| (*block, sixty_s, whole_s)))
    })?;
    Ok(runs
        .chunks(chances.len())
        .map(|runs| runs.iter().copied().flatten().collect())
        .collect())
}

/// A straight line of whole-run time over sixty-foot time.
struct Line {
    centre_s: f64,
    level_s: f64,
    slope: f64,
}

impl Line {
    fn through(runs: &[Run]) -> Self {
        let (sixties, wholes): (Vec<f64>, Vec<f64>) = runs
            .iter()
            .map(|(_, sixty, whole)| (*sixty, *whole))
            .unzip();
        let (centre_s, level_s) = (mean(&sixties), mean(&wholes));
        let (mut together, mut apart) = (0.0, 0.0);
        for (_, sixty, whole) in runs {
            together += (sixty - centre_s) * (whole - level_s);
            apart += (sixty - centre_s).powi(2);
        }
        Self {
            centre_s,
            level_s,
            slope: if apart > 0.0 { together / apart } else { 1.0 },
        }
    }

    fn at(&self, sixty_s: f64) -> f64 {
        self.level_s + self.slope * (sixty_s - self.centre_s)
    }
}

/// What the runs and the table say together.
fn quarter(aimed: &Aimed, runs: &[Run]) -> Quarter {
    let (aim, sd) = (aimed.aim_rad_s, aimed.sd_rad_s);
    let away = aimed.table.away(aim, sd);
    // What stalls add to a mean is the same to 60 ft and to the end.
    let stalls = aimed.table.mean(aim, sd).less(&away);
    let line = Line::through(runs);
    let without = away
        .without
        .iter()
        .zip(&stalls.without)
        .enumerate()
        .map(|(block, (away_s, stalls_s))| {
            let kept: Vec<Run> = runs.iter().filter(|run| run.0 != block).copied().collect();
            Line::through(&kept).at(*away_s) + stalls_s
        })
        .collect();
    let replicated_s = Replicated {
        value: line.at(away.value) + stalls.value,
        without,
        thinned: line.at(away.thinned) + stalls.thinned,
    };
    let left: Vec<f64> = runs
        .iter()
        .map(|(_, sixty, whole)| whole - line.at(*sixty))
        .collect();
    Quarter {
        mean_s: replicated_s.value,
        mean_interval_s: replicated_s.estimate().interval,
        sd_s: (line.slope * aimed.table.sd_at_s(aim, sd)).hypot(standard_deviation(&left)),
        runs: runs.len(),
        replicated_s,
    }
}
