//! What the spread of the launches that got away comes from.
//!
//! At each launch speed the times over release and grip are fitted by a polynomial of the third
//! degree; from it, the stall edge and the three normal laws the table is read off at every
//! combination of chances. First order: `Var E[T | this]/Var T`; total:
//! `1 − Var E[T | the others]/Var T` (Sobol' 1993; Homma & Saltelli 1996, *Reliability
//! Engineering & System Safety* 52, from memory), both under the law of the launches that got
//! away, under which the three are no longer independent. What the fits miss is known as a whole
//! only: it is given to release and grip in proportion, half of it to them alone, half as shared
//! with the launch speed, and the intervals reach as far as the other halves would.

use super::LaunchTable;
use super::points::normal_matrix;
use super::replicated::half_width;
use super::wins::Aimed;
use crate::numerics::{Estimate, Interval};
use crate::study::scatter::variance_shares::{INPUTS, InputShare};
use nalgebra::DVector;
use rayon::prelude::*;

/// Chances of launch speed: from −4.5 to 4.5.
const SPEEDS: (f64, u32) = (4.5, 60);
/// Chances of release and of grip: from −3.6 to 3.6.
const OTHERS: (f64, u32) = (3.6, 12);
/// Highest degree of the polynomials.
const DEGREE: u32 = 3;
/// Points that must get away for each coefficient fitted.
const POINTS_A_COEFFICIENT: f64 = 2.0;

/// One combination of chances: the index along each axis, its probability and time.
struct Cell {
    at: [usize; INPUTS],
    probability: f64,
    time_s: f64,
}

/// Shares by one set of points.
struct Shares {
    first: [f64; INPUTS],
    total: [f64; INPUTS],
    /// Half of the variance that the fit misses, as a share.
    missed: f64,
}

/// Chances along an axis, with their probabilities.
fn axis(scatters: bool, (reach, steps): (f64, u32)) -> Vec<(f64, f64)> {
    if !scatters {
        return vec![(0.0, 1.0)];
    }
    let at = |i: u32| reach * (2.0 * f64::from(i) / f64::from(steps) - 1.0);
    let density = |z: f64| (-0.5 * z * z).exp();
    let sum: f64 = (0..=steps).map(|i| density(at(i))).sum();
    (0..=steps).map(|i| (at(i), density(at(i)) / sum)).collect()
}

/// Shares of launch speed, release and grip in the variance of the launches that got away at an
/// aim; `None` where they do not scatter.
pub fn variance_shares(aimed: &Aimed) -> Option<[InputShare; INPUTS]> {
    let table = aimed.table;
    let all = shares(aimed, &table.weights.all, None)?;
    let without: Vec<Shares> = table
        .weights
        .without
        .par_iter()
        .enumerate()
        .map(|(block, weights)| shares(aimed, weights, Some(block)))
        .collect::<Option<_>>()?;
    let share = |value: f64, pick: &dyn Fn(&Shares) -> f64| {
        let without: Vec<f64> = without.iter().map(pick).collect();
        let half = half_width(&without).hypot(all.missed);
        Estimate {
            value: value.clamp(0.0, 1.0),
            interval: Interval {
                low: (value - half).clamp(0.0, 1.0),
                high: (value + half).clamp(0.0, 1.0),
            },
        }
    };
    let of = |input: usize| {
        let pick = |list: &[f64; INPUTS]| list.get(input).copied().unwrap_or(f64::NAN);
        InputShare {
            first: share(pick(&all.first), &|shares| pick(&shares.first)),
            total: share(pick(&all.total), &|shares| pick(&shares.total)),
        }
    };
    Some(std::array::from_fn(of))
}

fn shares(aimed: &Aimed, weights: &[f64], block: Option<usize>) -> Option<Shares> {
    let (cells, missed) = cells(aimed, weights, block)?;
    let told = variance(&cells, |cell| cell.at);
    let all = told + missed;
    // Round-off of the squares of some seconds.
    if all <= 1e-14 {
        return None;
    }
    let alone: [f64; INPUTS] = std::array::from_fn(|input| {
        variance(&cells, |cell| {
            let mut at = [0; INPUTS];
            if let (Some(kept), Some(own)) = (at.get_mut(input), cell.at.get(input)) {
                *kept = *own;
            }
            at
        })
    });
    let without: [f64; INPUTS] = std::array::from_fn(|input| {
        let others = variance(&cells, |cell| {
            let mut at = cell.at;
            if let Some(own) = at.get_mut(input) {
                *own = 0;
            }
            at
        });
        told - others
    });
    // What the fits miss at each launch speed belongs to release and grip, in proportion to what
    // they have a part in; how much of it is theirs alone, and not also the launch speed's, is
    // not known: half.
    let [_, release, grip] = without;
    let both = (release + grip).max(f64::MIN_POSITIVE);
    let half = missed / 2.0;
    let [speed_alone, release_alone, grip_alone] = alone;
    let [speed, ..] = without;
    Some(Shares {
        first: [
            speed_alone,
            release_alone + half * release_alone / both,
            grip_alone + half * grip_alone / both,
        ]
        .map(|part| part / all),
        total: [
            speed + half,
            release + missed * release / both,
            grip + missed * grip / both,
        ]
        .map(|part| part / all),
        missed: half / all,
    })
}

/// Variance of the mean over each group of cells.
fn variance(cells: &[Cell], group_of: impl Fn(&Cell) -> [usize; INPUTS]) -> f64 {
    let along = |(_, steps): (f64, u32)| steps as usize + 1;
    let (speeds, others) = (along(SPEEDS), along(OTHERS));
    let mut groups = vec![(0.0, 0.0); speeds * others * others];
    for cell in cells {
        let [speed, release, grip] = group_of(cell);
        if let Some(group) = groups.get_mut((speed * others + release) * others + grip) {
            group.0 += cell.probability;
            group.1 += cell.probability * cell.time_s;
        }
    }
    let (mut all, mut sum) = (0.0, 0.0);
    for (probability, time) in &groups {
        all += probability;
        sum += time;
    }
    let mean = sum / all;
    let squares: f64 = groups
        .iter()
        .filter(|(probability, _)| *probability > 0.0)
        .map(|(probability, time)| probability * (time / probability - mean).powi(2))
        .sum();
    squares / all
}

/// Every combination of chances that gets away, and the variance that the fits miss, s².
fn cells(aimed: &Aimed, weights: &[f64], block: Option<usize>) -> Option<(Vec<Cell>, f64)> {
    let table = aimed.table;
    let (release_scatters, grip_scatters) = table.points.scatter();
    let releases = axis(release_scatters, OTHERS);
    let grips = axis(grip_scatters, OTHERS);
    let others: Vec<Other> = releases
        .iter()
        .enumerate()
        .flat_map(|(r, release)| {
            grips
                .iter()
                .enumerate()
                .map(move |(g, grip)| (r, g, *release, *grip))
        })
        .map(|(r, g, release, grip)| Other::new(table, [r, g], release, grip))
        .collect();
    let ratios = table.points.ratios_without(block);
    let mut cells = Vec::new();
    let (mut missed, mut counted) = (0.0, 0.0);
    for (index, (chance, probability)) in axis(aimed.sd_rad_s > 0.0, SPEEDS).into_iter().enumerate()
    {
        let speed = aimed.speed_rad_s(chance);
        let launched: Vec<(f64, f64)> = table
            .lines
            .iter()
            .map(|line| aimed.at(line, chance))
            .collect::<Option<_>>()?;
        let Some(fit) = fit(table, &launched, &ratios) else {
            continue;
        };
        for (((away, time_s), fitted_s), weight) in launched.iter().zip(&fit.at_points).zip(weights)
        {
            missed += probability * weight * away * (time_s - fitted_s).powi(2);
            counted += probability * weight * away;
        }
        cells.extend(
            others
                .iter()
                .filter(|other| other.edge_rad_s < speed)
                .map(|other| {
                    let [release, grip] = other.at;
                    Cell {
                        at: [index, release, grip],
                        probability: probability * other.probability,
                        time_s: other.time_s(&fit.coefficients),
                    }
                }),
        );
    }
    Some((cells, (missed / counted).max(0.0)))
}

/// One combination of release and grip.
struct Other {
    at: [usize; 2],
    probability: f64,
    polynomials: Vec<f64>,
    edge_rad_s: f64,
}

impl Other {
    fn new(table: &LaunchTable, at: [usize; 2], release: (f64, f64), grip: (f64, f64)) -> Self {
        let edge = |edge: &super::FittedEdge| edge.at_rad_s(&table.points, release.0, grip.0);
        Self {
            at,
            probability: release.1 * grip.1,
            polynomials: table.points.polynomials(release.0, grip.0, DEGREE),
            edge_rad_s: table.edge.as_ref().map_or(f64::NEG_INFINITY, edge),
        }
    }

    /// By the polynomial's coefficients, of whatever degree.
    fn time_s(&self, coefficients: &[f64]) -> f64 {
        self.polynomials
            .iter()
            .zip(coefficients)
            .map(|(p, c)| p * c)
            .sum()
    }
}

/// A polynomial of the times at one launch speed.
struct Fit {
    coefficients: Vec<f64>,
    at_points: Vec<f64>,
}

/// The polynomial of the highest degree that the launches which got away can bear.
fn fit(table: &LaunchTable, launched: &[(f64, f64)], ratios: &[f64]) -> Option<Fit> {
    let kept: Vec<f64> = launched
        .iter()
        .zip(ratios)
        .map(|((away, _), ratio)| away * ratio)
        .collect();
    let away: f64 = launched.iter().map(|(away, _)| away).sum();
    (0..=DEGREE).rev().find_map(|degree| {
        let columns = table.points.columns(degree);
        let wide = u32::try_from(columns.ncols()).ok()?;
        if degree > 0 && away < POINTS_A_COEFFICIENT * f64::from(wide) {
            return None;
        }
        let mut right = DVector::zeros(columns.ncols());
        for ((row, (_, time_s)), weight) in columns.row_iter().zip(launched).zip(&kept) {
            right += row.transpose() * (*time_s * *weight);
        }
        let solved = normal_matrix(&columns, &kept).cholesky()?.solve(&right);
        Some(Fit {
            at_points: (&columns * &solved).iter().copied().collect(),
            coefficients: solved.iter().copied().collect(),
        })
    })
}
