//! Two flywheels under the same chances.

use super::break_even::{BestMeans, BreakEven, break_even};
use super::table::{Aimed, Replicated, share_won};
use crate::numerics::Interval;
use rayon::prelude::*;

/// Two flywheels held against each other, the lighter named first.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Index of the one with less crank-side inertia.
    pub lighter: usize,
    /// Index of the other.
    pub heavier: usize,
    /// Share of paired launches in which the lighter is quicker; one that stalls is quicker than
    /// none, and equal times are nobody's win.
    pub lighter_wins_share: f64,
    /// 95 % interval of that share.
    pub lighter_wins_interval: Interval,
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

impl Verdict {
    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::LighterQuicker => "lighter_quicker",
            Self::HeavierQuicker => "heavier_quicker",
            Self::Undecided => "undecided",
        }
    }
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
    /// Its table, at its aim.
    pub aimed: Aimed<'a>,
    /// Its lowest means over all deviations.
    pub means: &'a BestMeans<'a>,
}

impl Side<'_> {
    fn mean(&self) -> Replicated {
        self.aimed
            .table
            .mean(self.aimed.aim_rad_s, self.aimed.sd_rad_s)
    }
}

/// Holds two flywheels against each other.
pub fn pair(one: &Side, other: &Side) -> Pair {
    let (light, heavy) = if one.crank_side_kg_m2 <= other.crank_side_kg_m2 {
        (one, other)
    } else {
        (other, one)
    };
    let difference = light.mean().less(&heavy.mean()).estimate();
    let won = share_won(&light.aimed, &heavy.aimed).estimate_within(0.0, 1.0);
    Pair {
        lighter: light.index,
        heavier: heavy.index,
        lighter_wins_share: won.value,
        lighter_wins_interval: won.interval,
        mean_difference_s: difference.value,
        mean_difference_interval_s: difference.interval,
        break_even: break_even(light.means, heavy.means),
    }
}

/// Every pair of several flywheels, in their order, on all cores.
pub fn all_pairs(sides: &[Side]) -> Vec<Pair> {
    let pairs: Vec<(&Side, &Side)> = sides
        .iter()
        .enumerate()
        .flat_map(|(index, one)| sides.iter().skip(index + 1).map(move |other| (one, other)))
        .collect();
    pairs
        .par_iter()
        .map(|(one, other)| pair(one, other))
        .collect()
}
