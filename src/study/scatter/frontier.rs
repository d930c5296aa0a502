//! Quick against steady: which flywheels are beaten on both.

use super::draws::Draws;
use super::pairs::{Pair, Side, Verdict};
use crate::numerics::jackknife;
use crate::numerics::summary::standard_deviation;

/// Quick and steady, for one flywheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuickAndSteady {
    /// Mean time, s.
    pub mean_s: f64,
    /// Standard deviation of the time, s.
    pub sd_s: f64,
    /// Whether another flywheel is both quicker and steadier.
    pub dominated: Dominated,
}

/// Whether a flywheel is beaten on both counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dominated {
    /// No other is both quicker and steadier.
    No,
    /// This one (its index) is both quicker and steadier, beyond the errors of both differences.
    By(usize),
    /// This one looks both quicker and steadier, but not beyond the errors.
    PerhapsBy(usize),
}

/// Whether the standard deviation of one set of paired times is below that of another beyond the
/// error of the difference, by leaving out one block of draws at a time: negative where the first
/// is steadier, with the error of two standard errors.
pub fn steadiness_difference(one_s: &[f64], other_s: &[f64], draws: &Draws) -> (f64, f64) {
    let block_len = draws.block_len();
    let difference = jackknife(one_s.len() / block_len, |left_out| {
        let kept = |times: &[f64]| -> Vec<f64> {
            times
                .chunks(block_len)
                .enumerate()
                .filter(|(index, _)| Some(*index) != left_out)
                .flat_map(|(_, chunk)| chunk.iter().copied())
                .collect()
        };
        standard_deviation(&kept(one_s)) - standard_deviation(&kept(other_s))
    });
    (difference.value, 2.0 * difference.standard_error)
}

/// The frontier of several flywheels, from their launches at their aims and their pairs.
pub fn frontier(sides: &[Side], pairs: &[Pair], draws: &Draws) -> Vec<QuickAndSteady> {
    sides
        .iter()
        .map(|own| QuickAndSteady {
            mean_s: own.aim.mean_s,
            sd_s: own.aim.sd_s,
            dominated: sides
                .iter()
                .filter(|other| other.index != own.index)
                .map(|other| beaten_by(own, other, pairs, draws))
                .fold(Dominated::No, stronger),
        })
        .collect()
}

fn beaten_by(own: &Side, other: &Side, pairs: &[Pair], draws: &Draws) -> Dominated {
    let (less_spread_s, error_s) =
        steadiness_difference(&other.aim.times_s, &own.aim.times_s, draws);
    if other.aim.mean_s >= own.aim.mean_s || less_spread_s >= 0.0 {
        return Dominated::No;
    }
    if surely_quicker(other.index, own.index, pairs) && -less_spread_s > error_s {
        Dominated::By(other.index)
    } else {
        Dominated::PerhapsBy(other.index)
    }
}

/// Whether one flywheel is quicker than another beyond the error of their difference.
fn surely_quicker(one: usize, other: usize, pairs: &[Pair]) -> bool {
    pairs.iter().any(|pair| match pair.verdict() {
        Verdict::LighterQuicker => (pair.lighter, pair.heavier) == (one, other),
        Verdict::HeavierQuicker => (pair.heavier, pair.lighter) == (one, other),
        Verdict::Undecided => false,
    })
}

/// The graver of two words; of equals the first.
fn stronger(one: Dominated, other: Dominated) -> Dominated {
    match (one, other) {
        (Dominated::By(_), _)
        | (Dominated::PerhapsBy(_), Dominated::No | Dominated::PerhapsBy(_)) => one,
        _ => other,
    }
}
