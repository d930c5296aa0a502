//! Points of release and grip, and what each counts for.
//!
//! Owen-scrambled Sobol points in blocks that are scrambled independently, spread somewhat wider
//! than the chances they stand for. What a point counts for is then chosen so that every
//! polynomial of release and grip up to the third degree is averaged exactly, and changed as
//! little as possible from the plain likelihood ratio: calibration, the same as regression on
//! Hermite polynomials (Owen, *Monte Carlo theory, methods and examples*, sec. 8.9, from memory;
//! with scrambled points Hickernell, Lemieux & Owen 2005, *Statistical Science* 20). A set of
//! counts is made for all points and for all but each block: a jackknife over independent blocks.

use super::super::sobol::{BLOCKS, seed_of, unit_point};
use super::law::Law;
use crate::numerics::quantile::standard_normal;
use nalgebra::{DMatrix, DVector};

/// How much wider than the chances the points are spread: tails are what stalls are made of, and
/// a quarter more costs the middle a sixth of its points.
const WIDER: f64 = 1.25;
/// Degree of the polynomials averaged exactly.
const DEGREE: u32 = 3;
/// Points for every polynomial that is averaged exactly, at least.
const POINTS_A_POLYNOMIAL: usize = 3;
/// Points a block where release and grip both scatter, one of them, or none.
const SHARES_OF_POINTS: [usize; 3] = [4, 2, 1];

/// One point of release and grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Chance of the release: standard normal.
    pub release: f64,
    /// Chance of the grip: standard normal.
    pub grip: f64,
    /// A chance of launch speed, standard normal, for whole runs.
    pub speed: f64,
    /// Where between 0 and 1 the launch speeds tried begin.
    pub shift: f64,
    /// Likelihood ratio: density of the chances over that of the points.
    ratio: f64,
    /// The block it belongs to.
    block: usize,
}

/// All points, block after block.
#[derive(Debug, Clone, PartialEq)]
pub struct Points {
    points: Vec<Point>,
    release_scatters: bool,
    grip_scatters: bool,
}

/// What every point counts for; the counts of a set add to one.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// With all points.
    pub all: Vec<f64>,
    /// With all but one block, for each block.
    pub without: Vec<Vec<f64>>,
}

impl Points {
    /// About `count` points (fewer where release or grip does not scatter) from a seed, for a law.
    pub fn new(count: usize, seed: u32, law: &Law) -> Self {
        let release_scatters = law.release_sd > 0.0;
        let grip_scatters = law.grip_sd > 0.0;
        let still = 2 - usize::from(release_scatters) - usize::from(grip_scatters);
        let full = SHARES_OF_POINTS.first().copied().unwrap_or(1);
        let share = SHARES_OF_POINTS.get(still).copied().unwrap_or(1);
        let block_len = (count * share).div_ceil(BLOCKS * full).max(1);
        let points = (0..BLOCKS)
            .flat_map(|block| (0..block_len).map(move |index| (block, index)))
            .map(|(block, index)| {
                let at = |dimension: u32| unit_point(index, dimension, seed_of(seed, block));
                let spread = |scatters: bool, dimension: u32| {
                    if scatters {
                        WIDER * standard_normal(at(dimension))
                    } else {
                        0.0
                    }
                };
                let release = spread(release_scatters, 0);
                let grip = spread(grip_scatters, 1);
                Point {
                    release,
                    grip,
                    speed: standard_normal(at(2)),
                    shift: at(3),
                    ratio: ratio(release_scatters, release) * ratio(grip_scatters, grip),
                    block,
                }
            })
            .collect();
        Self {
            points,
            release_scatters,
            grip_scatters,
        }
    }

    /// The points.
    pub fn all(&self) -> &[Point] {
        &self.points
    }

    /// What they count for, with all blocks and without each.
    pub fn weights(&self) -> Weights {
        Weights {
            all: self.weights_without(None),
            without: (0..BLOCKS)
                .map(|block| self.weights_without(Some(block)))
                .collect(),
        }
    }

    /// The polynomials that are averaged exactly, at a chance of release and grip: products of
    /// normalised Hermite polynomials, the constant one first.
    pub fn polynomials(&self, release: f64, grip: f64, degree: u32) -> Vec<f64> {
        let powers = |scatters: bool| if scatters { degree } else { 0 };
        let mut values = Vec::new();
        for total in 0..=degree {
            for of_release in 0..=total.min(powers(self.release_scatters)) {
                let of_grip = total - of_release;
                if of_grip <= powers(self.grip_scatters) {
                    values.push(hermite(of_release, release) * hermite(of_grip, grip));
                }
            }
        }
        values
    }

    /// `w = V X (XᵀVX)⁻¹ e`, the least change of the likelihood ratios `V` that averages every
    /// polynomial of the columns `X` to `e`, which is 1 for the constant and 0 for the rest.
    fn weights_without(&self, block: Option<usize>) -> Vec<f64> {
        let kept: Vec<f64> = self
            .points
            .iter()
            .map(|point| {
                if Some(point.block) == block {
                    0.0
                } else {
                    point.ratio
                }
            })
            .collect();
        let sum: f64 = kept.iter().sum();
        let plain = || kept.iter().map(|ratio| ratio / sum).collect();
        (1..=DEGREE)
            .rev()
            .find_map(|degree| self.calibrated(&kept, degree))
            .unwrap_or_else(plain)
    }

    fn calibrated(&self, kept: &[f64], degree: u32) -> Option<Vec<f64>> {
        let columns = self.columns(degree);
        if columns.ncols() * POINTS_A_POLYNOMIAL > columns.nrows() {
            return None;
        }
        let mut wanted = DVector::zeros(columns.ncols());
        *wanted.get_mut(0)? = 1.0;
        let solved = normal_matrix(&columns, kept).cholesky()?.solve(&wanted);
        let fitted = &columns * solved;
        Some(kept.iter().zip(fitted.iter()).map(|(v, f)| v * f).collect())
    }

    /// Polynomials (columns) at every point (rows).
    pub(super) fn columns(&self, degree: u32) -> DMatrix<f64> {
        let rows: Vec<Vec<f64>> = self
            .points
            .iter()
            .map(|point| self.polynomials(point.release, point.grip, degree))
            .collect();
        let width = rows.first().map_or(0, Vec::len);
        DMatrix::from_row_iterator(rows.len(), width, rows.into_iter().flatten())
    }

    /// Likelihood ratios of all points, 0 for those of one block if it is named.
    pub(super) fn ratios_without(&self, block: Option<usize>) -> Vec<f64> {
        self.points
            .iter()
            .map(|point| {
                if Some(point.block) == block {
                    0.0
                } else {
                    point.ratio
                }
            })
            .collect()
    }

    /// Whether the release scatters, and whether the grip does.
    pub(super) const fn scatter(&self) -> (bool, bool) {
        (self.release_scatters, self.grip_scatters)
    }
}

/// `XᵀVX`.
pub(super) fn normal_matrix(columns: &DMatrix<f64>, weights: &[f64]) -> DMatrix<f64> {
    let mut weighted = columns.clone();
    for (mut row, weight) in weighted.row_iter_mut().zip(weights) {
        row *= *weight;
    }
    columns.transpose() * weighted
}

/// Standard normal density over that of a normal number [`WIDER`] times as wide.
fn ratio(scatters: bool, chance: f64) -> f64 {
    if scatters {
        WIDER * (-0.5 * chance * chance * (1.0 - 1.0 / (WIDER * WIDER))).exp()
    } else {
        1.0
    }
}

/// Probabilists' Hermite polynomial over `√n!`: mean 0 (but for the constant) and variance 1 under
/// the standard normal law (Abramowitz & Stegun, ch. 22).
fn hermite(degree: u32, x: f64) -> f64 {
    let (mut before, mut here) = (0.0, 1.0);
    for n in 0..degree {
        let n = f64::from(n);
        (before, here) = (here, (x * here - n.sqrt() * before) / (n + 1.0).sqrt());
    }
    here
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const LAW: Law = Law {
        launch_sd_rad_s: 20.0,
        release_stretch: 1.0,
        release_sd: 0.15,
        grip_sd: 0.03,
        lowest_rad_s: 50.0,
        highest_rad_s: 800.0,
        stall_cost_s: 5.0,
    };

    /// Moments of two standard normal numbers up to the third degree: 1; 0, 0; 1, 0, 1; 0, 0, 0,
    /// 0; with all points and without any block, to round-off.
    #[test]
    fn reference_moments_up_to_the_third_degree_are_exact() {
        let points = Points::new(64, 3, &LAW);
        let weights = points.weights();
        for set in weights.without.iter().chain([&weights.all]) {
            for (a, b, expected) in [
                (0, 0, 1.0),
                (1, 0, 0.0),
                (0, 1, 0.0),
                (2, 0, 1.0),
                (1, 1, 0.0),
                (0, 2, 1.0),
                (3, 0, 0.0),
                (2, 1, 0.0),
                (1, 2, 0.0),
                (0, 3, 0.0),
            ] {
                let sum: f64 = points
                    .all()
                    .iter()
                    .zip(set)
                    .map(|(p, w)| w * p.release.powi(a) * p.grip.powi(b))
                    .sum();
                assert!((sum - expected).abs() < 1e-9, "{a} {b} {sum}");
            }
        }
    }

    /// `E exp(0.3 z1 − 0.2 z2)` is `exp(0.065)`, and the share with `z1 > 1` is 0.158655 (normal
    /// table): the first to what a third-degree rule leaves of a smooth function, the second to
    /// two standard errors of 64 points.
    #[test]
    fn reference_other_averages_are_close() {
        let points = Points::new(64, 5, &LAW);
        let weights = points.weights().all;
        let average = |f: &dyn Fn(&Point) -> f64| -> f64 {
            points
                .all()
                .iter()
                .zip(&weights)
                .map(|(p, w)| w * f(p))
                .sum()
        };
        let smooth = average(&|p| (0.3 * p.release - 0.2 * p.grip).exp());
        assert_relative_eq!(smooth, 0.065_f64.exp(), max_relative = 1e-4);
        let tail = average(&|p| f64::from(u8::from(p.release > 1.0)));
        assert!((tail - 0.158_655).abs() < 0.06, "{tail}");
    }

    /// Without scatter of release and grip one point a block is left, all alike.
    #[test]
    fn law_what_does_not_scatter_takes_no_points() {
        let still = Law {
            release_sd: 0.0,
            grip_sd: 0.0,
            ..LAW
        };
        let points = Points::new(64, 1, &still);
        assert_eq!(points.all().len(), BLOCKS);
        for weight in points.weights().all {
            assert_relative_eq!(weight, 1.0 / 16.0, max_relative = 1e-12);
        }
    }
}
