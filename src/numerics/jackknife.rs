//! The delete-one jackknife: the error of an estimate from leaving out one block at a time.

use super::Interval;
use super::quantile::student_errors;
use super::summary::{count, standard_deviation};

/// An estimate with its error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jackknifed {
    /// The estimate from all blocks.
    pub value: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Degrees of freedom of that error: one less than there are blocks.
    pub freedom: f64,
}

/// An estimate over independent blocks, and its standard error
/// `√((n−1)/n Σ (θ₋ᵢ − θ̄)²)` (Efron & Stein, *The jackknife estimate of variance*, Ann. Statist. 9
/// (1981) 586; from memory).
///
/// `estimate` is asked once for all blocks (`None`) and once for each block left out.
pub fn jackknife(blocks: usize, estimate: impl Fn(Option<usize>) -> f64) -> Jackknifed {
    let without: Vec<f64> = (0..blocks).map(|block| estimate(Some(block))).collect();
    let n = count(&without);
    Jackknifed {
        value: estimate(None),
        standard_error: standard_deviation(&without) * (n - 1.0) / n.sqrt(),
        freedom: n - 1.0,
    }
}

/// Half the width of the two-sided 95 % interval of an estimate, from the estimates without each
/// of several independent blocks: Student's t of one degree of freedom less than blocks, times the
/// standard error of [`jackknife`].
pub fn jackknife_half_width(without_each: &[f64]) -> f64 {
    let n = count(without_each);
    let error = standard_deviation(without_each) * (n - 1.0) / n.sqrt();
    if error > 0.0 {
        student_errors(n - 1.0) * error
    } else {
        0.0
    }
}

/// The 95 % interval about an estimate, of half the width of [`jackknife_half_width`].
pub fn jackknife_interval(estimate: f64, without_each: &[f64]) -> Interval {
    Interval::about(estimate, jackknife_half_width(without_each))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::summary::mean;
    use approx::assert_relative_eq;

    /// Of a mean, one value a block, the jackknife's error is the textbook's `s/√n` exactly.
    #[test]
    fn reference_error_of_a_mean() {
        let values = [1.0, 4.0, 2.0, 8.0, 5.0, 7.0];
        let found = jackknife(values.len(), |left_out| {
            let kept: Vec<f64> = values
                .iter()
                .enumerate()
                .filter(|(index, _)| Some(*index) != left_out)
                .map(|(_, value)| *value)
                .collect();
            mean(&kept)
        });
        let expected = standard_deviation(&values) / 6.0_f64.sqrt();
        assert_relative_eq!(found.standard_error, expected, max_relative = 1e-12);
        assert_relative_eq!(found.value, 4.5, max_relative = 1e-12);
    }

    /// The 95 % interval of a mean is the textbook's `± t s/√n`, t = 2.570582 at 5 degrees of
    /// freedom (any t table, six digits); blocks that all say the same leave none.
    #[test]
    fn reference_interval_of_a_mean() {
        let values = [1.0, 4.0, 2.0, 8.0, 5.0, 7.0];
        let total: f64 = values.iter().sum();
        let without = values.map(|value| (total - value) / 5.0);
        let expected = 2.570_582 * standard_deviation(&values) / 6.0_f64.sqrt();
        assert_relative_eq!(
            jackknife_half_width(&without),
            expected,
            max_relative = 1e-6
        );
        assert_relative_eq!(jackknife_half_width(&[4.5; 6]), 0.0);
    }
}
