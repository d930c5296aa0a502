//! Quick against steady: which flywheels are beaten on both.

use super::aim::Aim;
use super::pairs::{Pair, Verdict};

/// Quick and steady, for one flywheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuickAndSteady {
    /// Mean time, s.
    pub mean_s: f64,
    /// Standard deviation of the launches that got away, s.
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

/// How much less one flywheel spreads than another at their aims, s: negative where the first is
/// steadier, with half its 95 % interval. The price of a stall has no say in it.
pub fn steadiness_difference(one: &Aim, other: &Aim) -> (f64, f64) {
    let difference = one.replicated_sd_s.less(&other.replicated_sd_s);
    (difference.value, difference.half_width())
}

/// The frontier of several flywheels (index and aim), from their pairs.
pub fn frontier(aims: &[(usize, &Aim)], pairs: &[Pair]) -> Vec<QuickAndSteady> {
    aims.iter()
        .map(|own| QuickAndSteady {
            mean_s: own.1.mean_s,
            sd_s: own.1.sd_s,
            dominated: aims
                .iter()
                .filter(|other| other.0 != own.0)
                .map(|other| beaten_by(*own, *other, pairs))
                .fold(Dominated::No, stronger),
        })
        .collect()
}

fn beaten_by(own: (usize, &Aim), other: (usize, &Aim), pairs: &[Pair]) -> Dominated {
    let (less_spread_s, error_s) = steadiness_difference(other.1, own.1);
    if other.1.mean_s >= own.1.mean_s || less_spread_s >= 0.0 {
        return Dominated::No;
    }
    if surely_quicker(other.0, own.0, pairs) && -less_spread_s > error_s {
        Dominated::By(other.0)
    } else {
        Dominated::PerhapsBy(other.0)
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
