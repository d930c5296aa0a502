//! Two flywheels under the same draws.

use super::aim::Aim;
use super::break_even::{BestMeans, BreakEven, break_even};
use super::draws::Draws;
use crate::numerics::Interval;
use crate::numerics::summary::{mean, mean_interval};
use rayon::prelude::*;

/// Two flywheels held against each other, the lighter named first.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Index of the one with less crank-side inertia.
    pub lighter: usize,
    /// Index of the other.
    pub heavier: usize,
    /// Share of paired launches in which the lighter is quicker.
    pub lighter_wins_share: f64,
    /// Mean sixty-foot time of the lighter less that of the heavier, each at its own aim, s:
    /// negative where the lighter is quicker.
    pub mean_difference_s: f64,
    /// 95 % interval of that difference.
    pub mean_difference_interval_s: Interval,
    /// How steady a driver must be for the lighter to pay.
    pub break_even: BreakEven,
}

/// What a pair's mean difference says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// The lighter is quicker on average.
    LighterQuicker,
    /// The heavier is quicker on average.
    HeavierQuicker,
    /// The difference is smaller than its interval.
    Undecided,
}

impl Pair {
    /// What the mean difference says.
    pub fn verdict(&self) -> Verdict {
        let interval = &self.mean_difference_interval_s;
        if interval.contains(0.0) {
            Verdict::Undecided
        } else if interval.high < 0.0 {
            Verdict::LighterQuicker
        } else {
            Verdict::HeavierQuicker
        }
    }
}

/// One side of a pair.
#[derive(Debug, Clone, Copy)]
pub struct Side<'a> {
    /// Its index among the flywheels studied.
    pub index: usize,
    /// Its crank-side inertia, kg·m².
    pub crank_side_kg_m2: f64,
    /// Its launches at its aim.
    pub aim: &'a Aim,
    /// Its lowest means over all deviations.
    pub means: &'a BestMeans<'a>,
}

/// Holds two flywheels against each other.
pub fn pair(one: &Side, other: &Side, draws: &Draws) -> Pair {
    let (light, heavy) = if one.crank_side_kg_m2 <= other.crank_side_kg_m2 {
        (one, other)
    } else {
        (other, one)
    };
    let differences: Vec<f64> = light
        .aim
        .times_s
        .iter()
        .zip(&heavy.aim.times_s)
        .map(|(light_s, heavy_s)| light_s - heavy_s)
        .collect();
    let wins: Vec<f64> = differences
        .iter()
        .map(|difference| f64::from(u8::from(*difference < 0.0)))
        .collect();
    let interval = mean_interval(&draws.block_means(&differences));
    let sampling_s = (interval.high - interval.low) / 2.0;
    let curves_s = light.aim.curve_error_s - heavy.aim.curve_error_s;
    Pair {
        lighter: light.index,
        heavier: heavy.index,
        lighter_wins_share: mean(&wins),
        mean_difference_s: mean(&differences),
        mean_difference_interval_s: interval,
        break_even: break_even(light.means, heavy.means, sampling_s.hypot(curves_s)),
    }
}

/// Every pair of several flywheels, in their order, on all cores.
pub fn all_pairs(sides: &[Side], draws: &Draws) -> Vec<Pair> {
    let pairs: Vec<(&Side, &Side)> = sides
        .iter()
        .enumerate()
        .flat_map(|(index, one)| sides.iter().skip(index + 1).map(move |other| (one, other)))
        .collect();
    pairs
        .par_iter()
        .map(|(one, other)| pair(one, other, draws))
        .collect()
}
