//! The stall edge over release and grip.
//!
//! Below some launch speed a launch stalls; where that edge lies moves smoothly with release and
//! grip, while a stall or not is a step. So the edge is fitted by a polynomial, and the share
//! that gets away from a launch speed is the share of chances whose edge lies below: known from
//! far finer points than the launches. What the fit misses at the launches themselves is then put
//! right with what they count for (a control variate). Rare stalls, made by the tails of three
//! chances together, need this most.

use super::grid::Grid;
use super::law::Law;
use super::line::{Line, Run};
use super::points::{Points, normal_matrix};
use nalgebra::DVector;

/// Degree of the polynomial.
const DEGREE: u32 = 2;
/// Chances looked at reach this far to either side, standard deviations: 1 in 5,000,000 lies
/// beyond.
const REACH: f64 = 5.2;
/// Steps of chance from end to end.
const STEPS: u32 = 52;

/// The lower edge of the highest run of every line, rad/s.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Edges {
    at_rad_s: Vec<f64>,
    law: Law,
}

impl Edges {
    /// The edges of a table; `None` where a line never gets away, or none ever stalls. A line that
    /// does not stall where it was launched counts as stalling just below.
    pub(super) fn of(lines: &[Line], law: &Law) -> Option<Self> {
        let runs: Vec<&Run> = lines
            .iter()
            .map(|line| line.runs.last())
            .collect::<Option<_>>()?;
        runs.iter()
            .any(|run| run.start_rad_s().is_finite())
            .then(|| Self {
                at_rad_s: runs.iter().map(|run| run.low_rad_s).collect(),
                law: *law,
            })
    }

    /// The fitted edge, without one block if it is named.
    pub(super) fn fitted(&self, points: &Points, block: Option<usize>) -> Option<FittedEdge> {
        let columns = points.columns(DEGREE);
        let ratios = points.ratios_without(block);
        let mut right = DVector::zeros(columns.ncols());
        for ((row, edge), ratio) in columns.row_iter().zip(&self.at_rad_s).zip(&ratios) {
            right += row.transpose() * (*edge * *ratio);
        }
        let solved = normal_matrix(&columns, &ratios).cholesky()?.solve(&right);
        Some(FittedEdge {
            coefficients: solved.iter().copied().collect(),
            within_rad_s: (self.law.lowest_rad_s, self.law.highest_rad_s),
        })
    }
}

/// The stall edge as a polynomial of release and grip.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FittedEdge {
    coefficients: Vec<f64>,
    within_rad_s: (f64, f64),
}

impl FittedEdge {
    /// Launch speed below which launches stall at chances of release and grip, rad/s.
    pub(super) fn at_rad_s(&self, points: &Points, release: f64, grip: f64) -> f64 {
        points
            .polynomials(release, grip, DEGREE)
            .iter()
            .zip(&self.coefficients)
            .map(|(p, c)| p * c)
            .sum::<f64>()
            .clamp(self.within_rad_s.0, self.within_rad_s.1)
    }

    /// What the fitted edge says of the share that gets away at every speed of a grid, less what
    /// it says of it at the launches themselves: to be added to what the launches say.
    pub(super) fn away_beyond_launches(
        &self,
        points: &Points,
        weights: &[f64],
        grid: &Grid,
    ) -> Vec<f64> {
        let fine: Vec<(f64, f64)> = chances(points)
            .map(|(release, grip, weight)| (self.at_rad_s(points, release, grip), weight))
            .collect();
        let at_launches: Vec<(f64, f64)> = points
            .all()
            .iter()
            .zip(weights)
            .map(|(point, weight)| (self.at_rad_s(points, point.release, point.grip), *weight))
            .collect();
        let mut beyond = share_below(&fine, grid);
        for (fine, launched) in beyond.iter_mut().zip(share_below(&at_launches, grid)) {
            *fine -= launched;
        }
        beyond
    }
}

/// A fine grid of chances of release and grip with their probabilities, which add to one.
fn chances(points: &Points) -> impl Iterator<Item = (f64, f64, f64)> + use<> {
    let (release_scatters, grip_scatters) = points.scatter();
    let axis = |scatters: bool| -> Vec<(f64, f64)> {
        if !scatters {
            return vec![(0.0, 1.0)];
        }
        let at = |i: u32| REACH * (2.0 * f64::from(i) / f64::from(STEPS) - 1.0);
        let density = |z: f64| (-0.5 * z * z).exp();
        let sum: f64 = (0..=STEPS).map(|i| density(at(i))).sum();
        (0..=STEPS).map(|i| (at(i), density(at(i)) / sum)).collect()
    };
    let grips = axis(grip_scatters);
    axis(release_scatters).into_iter().flat_map(move |(r, wr)| {
        let grips = grips.clone();
        grips.into_iter().map(move |(g, wg)| (r, g, wr * wg))
    })
}

/// At every speed of a grid, the weight of edges (edge rad/s, weight) below, averaged over half a step to either side.
fn share_below(edges: &[(f64, f64)], grid: &Grid) -> Vec<f64> {
    let mut sorted = edges.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let half = grid.step_rad_s / 2.0;
    let mut whole = 0.0;
    let mut next = 0;
    grid.speeds()
        .map(|speed| {
            while let Some((edge, weight)) = sorted.get(next)
                && *edge <= speed - half
            {
                whole += weight;
                next += 1;
            }
            let partly: f64 = sorted
                .iter()
                .skip(next)
                .take_while(|(edge, _)| *edge < speed + half)
                .map(|(edge, weight)| weight * (speed + half - edge) / (2.0 * half))
                .sum();
            whole + partly
        })
        .collect()
}
