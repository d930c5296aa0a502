//! What knowing something is worth to a choice.
//!
//! `E max(…) − max E(…)` with what is expected after learning found by regression on what could
//! be learnt: one input (Strong, Oakley & Brennan, *Medical Decision Making* 34, 2014, 311), or
//! the slips of a meeting (Strong, Oakley, Brennan & Breeze, 35, 2015, 570; both from memory).
//! What is regressed are differences between choices: the noise that they share drops out.
//!
//! A regression sees more in the sheets it was made from than there is, and foretells a little
//! too little of sheets it has not seen. The value reported is half way between the two, and
//! half their distance is the regression's own error, in the interval beside it.

use super::losses::Losses;
use super::regression::{Fit, Regression, main_effects, regress};
use crate::numerics::Interval;
use crate::numerics::summary::mean;

/// What learning something is worth to a choice among some.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// Worth on average over the sheets, s; from 0 to what perfect knowledge is worth.
    pub value_s: f64,
    /// Its 95 % interval: the draws' error and the regression's own.
    pub interval_s: Interval,
    /// The part of the interval's half-width that the regression is to blame for, s.
    pub regression_error_s: f64,
    /// Worth in each sheet, s, with `value_s` as its mean: below 0 where learning misleads.
    pub per_sheet_s: Vec<f64>,
}

/// How choices do against one of them, given what could be learnt.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// One a choice: what it loses more than the best on average, sheet by sheet.
    differences: Vec<Vec<f64>>,
    /// The same as expected from what could be learnt.
    expected: Regression,
}

impl Learnt {
    /// From losses, and what could be learnt of each sheet: a list an observation, one number a
    /// sheet.
    pub fn by_regression(losses: &Losses, observed: &[Vec<f64>]) -> Self {
        Self::of_differences(differences(losses), observed)
    }

    fn of_differences(differences: Vec<Vec<f64>>, observed: &[Vec<f64>]) -> Self {
        Self {
            expected: regress(observed, &differences),
            differences,
        }
    }

    fn fit(&self, choice: usize) -> Option<&Fit> {
        self.expected.fits.get(choice)
    }

    /// What learning is worth to a choice among some, instead of the best of them on average.
    pub fn worth(&self, losses: &Losses, among: &[usize]) -> Worth {
        let on_average = |choice: usize| {
            self.differences
                .get(choice)
                .map_or(f64::NAN, |list| mean(list))
        };
        let unlearnt = among
            .iter()
            .copied()
            .min_by(|a, b| on_average(*a).total_cmp(&on_average(*b)));
        let Some(unlearnt) = unlearnt else {
            return Worth::nothing(losses.sheets());
        };
        let perfect_s = losses.mean(unlearnt) - losses.mean_of_least(among);
        let (mut seen, unseen): (Vec<f64>, Vec<f64>) = (0..losses.sheets())
            .map(|sheet| self.in_sheet(among, unlearnt, sheet))
            .unzip();
        capped(&mut seen, perfect_s);
        let regression_error_s = (mean(&seen) - mean(&unseen)).abs() / 2.0;
        let half_way: Vec<f64> = seen
            .iter()
            .zip(&unseen)
            .map(|(s, u)| f64::midpoint(*s, *u))
            .collect();
        let (raw_s, interval) = losses.mean_with_interval(&half_way);
        let value_s = raw_s.clamp(0.0, perfect_s.max(0.0));
        let bounded = |end: f64| end.clamp(0.0, perfect_s.max(0.0));
        Worth {
            value_s,
            interval_s: Interval {
                low: bounded(interval.low - regression_error_s),
                high: bounded(interval.high + regression_error_s),
            },
            regression_error_s,
            per_sheet_s: half_way
                .iter()
                .map(|worth| worth + value_s - raw_s)
                .collect(),
        }
    }

    /// What learning gains in one sheet: as the regression sees it, and what the choice that it
    /// makes of the other sheets really gains here.
    fn in_sheet(&self, among: &[usize], unlearnt: usize, sheet: usize) -> (f64, f64) {
        let seen = |choice: usize| at(self.fit(choice).map(|fit| fit.seen.as_slice()), sheet);
        let unseen = |choice: usize| at(self.fit(choice).map(|fit| fit.unseen.as_slice()), sheet);
        let least = among.iter().map(|c| seen(*c)).fold(f64::INFINITY, f64::min);
        let chosen = among
            .iter()
            .copied()
            .min_by(|a, b| unseen(*a).total_cmp(&unseen(*b)))
            .unwrap_or(unlearnt);
        let loss = |choice: usize| at(self.differences.get(choice).map(Vec::as_slice), sheet);
        (seen(unlearnt) - least, loss(unlearnt) - loss(chosen))
    }
}

impl Worth {
    fn nothing(sheets: usize) -> Self {
        Self {
            value_s: 0.0,
            interval_s: Interval {
                low: 0.0,
                high: 0.0,
            },
            regression_error_s: 0.0,
            per_sheet_s: vec![0.0; sheets],
        }
    }
}

/// Scales numbers so that their mean is no more than a limit: a regression whose curve does not
/// fit sees more to gain than perfect knowledge would give.
fn capped(values: &mut [f64], limit: f64) {
    let mean = mean(values);
    if mean > limit && mean > 0.0 {
        for value in values {
            *value *= limit / mean;
        }
    }
}

fn at(values: Option<&[f64]>, sheet: usize) -> f64 {
    values
        .and_then(|values| values.get(sheet))
        .copied()
        .unwrap_or(0.0)
}

/// What knowing everything is worth to a choice among some, s.
pub fn of_everything(losses: &Losses, among: &[usize]) -> f64 {
    losses
        .best_on_average(among)
        .map_or(0.0, |best| losses.mean(best) - losses.mean_of_least(among))
}

/// What knowing each input exactly is worth to a choice among all. Inputs are given as standard
/// normal scores: a list an input, one number a sheet.
///
/// Inputs are drawn independently, so what the others do to the losses by themselves may be
/// taken off first: what is expected given the one input stays as it was, and the noise about
/// it shrinks (a control variate).
pub fn of_each_input(losses: &Losses, inputs: &[Vec<f64>]) -> Vec<Worth> {
    let every: Vec<usize> = (0..losses.choices()).collect();
    let differences = differences(losses);
    let effects: Vec<Vec<Vec<f64>>> = differences
        .iter()
        .map(|difference| main_effects(inputs, difference))
        .collect();
    inputs
        .iter()
        .enumerate()
        .map(|(own, input)| {
            let stripped = differences
                .iter()
                .zip(&effects)
                .map(|(difference, effects)| without_others(difference, effects, own))
                .collect();
            Learnt::of_differences(stripped, std::slice::from_ref(input)).worth(losses, &every)
        })
        .collect()
}

/// What each choice loses more than the best on average.
fn differences(losses: &Losses) -> Vec<Vec<f64>> {
    let every: Vec<usize> = (0..losses.choices()).collect();
    let base = losses.best_on_average(&every).unwrap_or(0);
    every
        .iter()
        .map(|choice| {
            let pairs = losses.of(*choice).iter().zip(losses.of(base));
            pairs.map(|(loss, base)| loss - base).collect()
        })
        .collect()
}

/// A difference less what every input but one does to it.
fn without_others(difference: &[f64], effects: &[Vec<f64>], own: usize) -> Vec<f64> {
    let others = effects
        .iter()
        .enumerate()
        .filter(|(place, _)| *place != own);
    let mut left = difference.to_vec();
    for (_, effect) in others {
        for (value, effect) in left.iter_mut().zip(effect) {
            *value -= effect;
        }
    }
    left
}
