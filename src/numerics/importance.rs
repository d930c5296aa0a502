//! Weighted draws of a distribution known up to a factor: importance sampling from a multivariate
//! t-distribution about its mode (Geweke, *Econometrica* 57 (1989) 1317, from memory).

use super::quantile::standard_normal;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use rayon::prelude::*;
use sobol_burley::sample;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Degrees of freedom of the proposal: tails heavy enough to cover what a normal would miss.
pub const PROPOSAL_FREEDOM: f64 = 4.0;

/// Halvings of a power between 0 and 1: to a thousandth.
const HALVINGS: usize = 10;

/// Draws with weights that add up to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct WeightedDraws {
    /// The draws, all of one length.
    pub draws: Vec<Vec<f64>>,
    /// Their weights.
    pub weights: Vec<f64>,
}

fn effective_of(weights: &[f64]) -> f64 {
    let squares: f64 = weights.iter().map(|weight| weight * weight).sum();
    if squares > 0.0 { 1.0 / squares } else { 0.0 }
}

impl WeightedDraws {
    /// Number of equally weighted draws that would say as much: `(Σw)²/Σw²` (Kish, *Survey
    /// Sampling*, 1965, from memory).
    pub fn effective(&self) -> f64 {
        effective_of(&self.weights)
    }

    /// The same draws with their weights raised to the highest power up to 1 that leaves so many
    /// effective ones (tempering, as annealed importance sampling has it; Neal, *Statistics and
    /// Computing* 11 (2001) 125, from memory); equal weights where no power does.
    #[must_use]
    pub fn evened_out(self, effective: f64) -> Self {
        if self.effective() >= effective {
            return self;
        }
        let raised = |power: f64| -> Vec<f64> {
            let raised: Vec<f64> = self.weights.iter().map(|w| w.powf(power)).collect();
            let total: f64 = raised.iter().sum();
            raised.iter().map(|w| w / total).collect()
        };
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if effective_of(&raised(middle)) >= effective {
                low = middle;
            } else {
                high = middle;
            }
        }
        Self {
            weights: raised(low),
            ..self
        }
    }

    /// So many draws of equal weight: those at equal steps of the weight, one as often as its
    /// weight has it (systematic resampling).
    pub fn equally_weighted(&self, count: usize) -> impl Iterator<Item = &[f64]> {
        #[expect(clippy::cast_precision_loss, reason = "some hundreds of draws")]
        let wanted = count as f64;
        let mut reached = 0.0;
        let mut next = 0.5;
        let draws = self.draws.iter().zip(&self.weights);
        draws.flat_map(move |(draw, weight)| {
            reached += weight * wanted;
            let mut times = 0;
            while reached > next {
                next += 1.0;
                times += 1;
            }
            std::iter::repeat_n(draw.as_slice(), times)
        })
    }

    /// Weighted mean of what a function makes of each draw.
    pub fn mean_of(&self, value: impl Fn(&[f64]) -> f64) -> f64 {
        self.draws
            .iter()
            .zip(&self.weights)
            .map(|(draw, weight)| weight * value(draw))
            .sum()
    }

    /// Mean of a coordinate.
    pub fn mean(&self, index: usize) -> f64 {
        self.mean_of(|draw| coordinate(draw, index))
    }

    /// Covariance of two coordinates.
    pub fn covariance(&self, one: usize, other: usize) -> f64 {
        let (a, b) = (self.mean(one), self.mean(other));
        self.mean_of(|draw| (coordinate(draw, one) - a) * (coordinate(draw, other) - b))
    }

    /// Standard deviation of a coordinate.
    pub fn deviation(&self, index: usize) -> f64 {
        self.covariance(index, index).max(0.0).sqrt()
    }

    /// Correlation of two coordinates; 0 where one of them does not vary.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        let scale = self.deviation(one) * self.deviation(other);
        if scale > 0.0 {
            self.covariance(one, other) / scale
        } else {
            0.0
        }
    }

    /// The value of a coordinate below which a share of the weight lies.
    pub fn quantile(&self, index: usize, share: f64) -> f64 {
        let mut sorted: Vec<(f64, f64)> = self
            .draws
            .iter()
            .zip(&self.weights)
            .map(|(draw, weight)| (coordinate(draw, index), *weight))
            .collect();
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut below = 0.0;
        for (value, weight) in &sorted {
            below += weight;
            if below >= share {
                return *value;
            }
        }
        sorted.last().map_or(f64::NAN, |(value, _)| *value)
    }
}

fn coordinate(draw: &[f64], index: usize) -> f64 {
    draw.get(index).copied().unwrap_or(f64::NAN)
}

/// Draws from a t-distribution about `mode` with this `covariance`, weighted by the density whose
/// logarithm is given (`None`: impossible). The points are scrambled Sobol's, seeded; at most 255
/// dimensions. `None` where the covariance is none, or no draw is possible.
pub fn importance_draws(
    mode: &[f64],
    covariance: &DMatrix<f64>,
    count: u32,
    seed: u32,
    log_density: impl Fn(&[f64]) -> Option<f64> + Sync,
) -> Option<WeightedDraws> {
    let factor = covariance.clone().cholesky()?;
    let chi_squared = ChiSquared::new(PROPOSAL_FREEDOM).ok()?;
    let made: Vec<(Vec<f64>, f64)> = (0..count)
        .into_par_iter()
        .filter_map(|index| {
            let (draw, squared) = proposal(mode, &factor, &chi_squared, index, seed)?;
            let log_weight = log_density(&draw)? - log_t(squared, mode.len());
            log_weight.is_finite().then_some((draw, log_weight))
        })
        .collect();
    let highest = made
        .iter()
        .map(|(_, log_weight)| *log_weight)
        .fold(f64::NEG_INFINITY, f64::max);
    let total: f64 = made.iter().map(|(_, log)| (log - highest).exp()).sum();
    if made.is_empty() || !total.is_finite() {
        return None;
    }
    let (draws, weights) = made
        .into_iter()
        .map(|(draw, log)| (draw, (log - highest).exp() / total))
        .unzip();
    Some(WeightedDraws { draws, weights })
}

/// A point of the proposal and its squared distance from the mode, `zᵀz` with `x = mode + L z`.
fn proposal(
    mode: &[f64],
    factor: &Cholesky<f64, Dyn>,
    chi_squared: &ChiSquared,
    index: u32,
    seed: u32,
) -> Option<(Vec<f64>, f64)> {
    let share = |dimension: usize| {
        let dimension = u32::try_from(dimension).ok()?;
        // Sobol's points include 0, whose quantile is no number.
        Some(f64::from(sample(index, dimension, seed)).clamp(LEAST_SHARE, 1.0 - LEAST_SHARE))
    };
    let stretch = (PROPOSAL_FREEDOM / chi_squared.inverse_cdf(share(mode.len())?)).sqrt();
    let normals: Option<Vec<f64>> = (0..mode.len())
        .map(|dimension| share(dimension).map(standard_normal))
        .collect();
    let z = DVector::from_vec(normals?) * stretch;
    let x = factor.l() * &z;
    let draw = mode.iter().zip(x.iter()).map(|(m, x)| m + x).collect();
    Some((draw, z.norm_squared()))
}

/// Share of the probability beyond which no draw is made: the step of the points themselves.
const LEAST_SHARE: f64 = 1e-7;

/// Logarithm of the proposal's density, but for a constant.
fn log_t(squared: f64, dimensions: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few dimensions")]
    let dimensions = dimensions as f64;
    -0.5 * (PROPOSAL_FREEDOM + dimensions) * (squared / PROPOSAL_FREEDOM).ln_1p()
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRAWS: u32 = 4096;

    /// A correlated normal whose mode and covariance the proposal knows only roughly: its own
    /// mean, deviations and correlation come back. Errors of 4096 weighted points with an
    /// effective number near a thousand: 1/√1000 = 0.03 of a deviation.
    #[test]
    fn reference_a_correlated_normal_comes_back() {
        let r: f64 = -0.9;
        let rough = DMatrix::from_row_slice(2, 2, &[1.5, 0.0, 0.0, 0.8]);
        let log_density = |x: &[f64]| {
            let (a, b) = (x[0] - 1.0, (x[1] + 2.0) / 0.5);
            Some(-0.5 * (a * a - 2.0 * r * a * b + b * b) / (1.0 - r * r))
        };
        let draws = importance_draws(&[1.2, -1.9], &rough, DRAWS, 7, log_density).expect("draws");
        assert!((draws.mean(0) - 1.0).abs() < 0.03);
        assert!((draws.mean(1) + 2.0).abs() < 0.015);
        assert!((draws.deviation(0) - 1.0).abs() < 0.03);
        assert!((draws.correlation(0, 1) - r).abs() < 0.01);
        // Quartile of a normal: 1 + z(0.75) = 1.674490 (normal table).
        assert!((draws.quantile(0, 0.75) - 1.674_490).abs() < 0.05);
    }

    /// Equal weights: the effective number is the number itself; one weight alone: one.
    #[test]
    fn law_effective_number_of_equal_and_of_single_weights() {
        let draws = vec![vec![0.0]; 8];
        let equal = WeightedDraws {
            draws: draws.clone(),
            weights: vec![0.125; 8],
        };
        assert!((equal.effective() - 8.0).abs() < 1e-12);
        let mut weights = vec![0.0; 8];
        weights[3] = 1.0;
        assert!((WeightedDraws { draws, weights }.effective() - 1.0).abs() < 1e-12);
    }

    /// Weights 1 to 8: squares add up to 204, their effective number is 36²/204 = 6.35. Seven are
    /// had from a lower power, and the order of the draws by weight stays.
    #[test]
    fn law_weights_are_evened_out_as_far_as_asked_and_no_further() {
        let uneven = || WeightedDraws {
            draws: vec![vec![0.0]; 8],
            weights: (1..=8).map(|w| f64::from(w) / 36.0).collect(),
        };
        assert_eq!(uneven().evened_out(6.0), uneven());
        let seven = uneven().evened_out(7.0);
        assert!(
            (7.0..7.01).contains(&seven.effective()),
            "{}",
            seven.effective()
        );
        assert!(seven.weights.is_sorted() && seven.weights[0] < seven.weights[7]);
        assert!((uneven().evened_out(9.0).effective() - 8.0).abs() < 1e-9);
    }

    /// Weights 1, 2 and 5 of 8: eight draws have each as often as its weight has it.
    #[test]
    fn law_draws_of_equal_weight_are_taken_as_often_as_their_weight() {
        let weighted = WeightedDraws {
            draws: vec![vec![1.0], vec![2.0], vec![3.0]],
            weights: vec![0.125, 0.25, 0.625],
        };
        let taken = |count| -> Vec<f64> {
            let draws = weighted.equally_weighted(count);
            draws.flatten().copied().collect()
        };
        assert_eq!(taken(8), [1.0, 2.0, 2.0, 3.0, 3.0, 3.0, 3.0, 3.0]);
        assert_eq!(taken(16).len(), 16);
        assert_eq!(taken(0), [] as [f64; 0]);
    }

    #[test]
    fn law_the_same_seed_gives_the_same_draws() {
        let unit = DMatrix::identity(1, 1);
        let density = |x: &[f64]| Some(-0.5 * x[0] * x[0]);
        let once = importance_draws(&[0.0], &unit, 64, 3, density);
        assert_eq!(once, importance_draws(&[0.0], &unit, 64, 3, density));
        assert_ne!(once, importance_draws(&[0.0], &unit, 64, 4, density));
    }

    #[test]
    fn law_what_is_impossible_everywhere_has_no_draws() {
        let unit = DMatrix::identity(1, 1);
        assert_eq!(importance_draws(&[0.0], &unit, 64, 3, |_| None), None);
    }
}
