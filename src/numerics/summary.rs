//! Mean, spread, percentiles and intervals of many numbers.

use super::Interval;
use super::quantile::{CONFIDENCE, student_errors};
use statrs::distribution::{ChiSquared, ContinuousCDF};
use statrs::statistics::{Data, OrderStatistics};

/// Number of values as a float (exact below 2^53).
#[expect(clippy::cast_precision_loss, reason = "counts stay far below 2^53")]
pub fn count(values: &[f64]) -> f64 {
    values.len() as f64
}

/// Arithmetic mean.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / count(values)
}

/// Sample standard deviation, `n − 1` in the denominator; 0 for fewer than two values.
pub fn standard_deviation(values: &[f64]) -> f64 {
    if values.len() < 2 {
        return 0.0;
    }
    let mean = mean(values);
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (squares / (count(values) - 1.0)).sqrt()
}

/// The value below which a share of the values lies.
pub fn percentile(values: &[f64], share: f64) -> f64 {
    Data::new(values.to_vec()).quantile(share)
}

/// Two-sided t interval for the mean of independent values.
pub fn mean_interval(values: &[f64]) -> Interval {
    let centre = mean(values);
    let error = standard_deviation(values) / count(values).sqrt();
    let half = if error > 0.0 {
        student_errors(count(values) - 1.0) * error
    } else {
        0.0
    };
    Interval::about(centre, half)
}

/// Two-sided interval for the standard deviation of independent normal values, from the sample's:
/// `s √((n−1)/χ²)` at both ends (NIST/SEMATECH e-Handbook, 1.3.5.8).
pub fn deviation_interval(sample_deviation: f64, sample_size: f64) -> Interval {
    let freedom = sample_size - 1.0;
    let Ok(chi_squared) = ChiSquared::new(freedom) else {
        return Interval {
            low: 0.0,
            high: f64::INFINITY,
        };
    };
    let at = |share: f64| sample_deviation * (freedom / chi_squared.inverse_cdf(share)).sqrt();
    let tail = (1.0 - CONFIDENCE) / 2.0;
    Interval {
        low: at(1.0 - tail),
        high: at(tail),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Eight numbers about a mean of 5, squares of their distances 32 in all: `√(32/7)` (by hand).
    #[test]
    fn reference_standard_deviation_of_a_sample() {
        let values = [2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0];
        assert_relative_eq!(standard_deviation(&values), (32.0_f64 / 7.0).sqrt());
        assert_relative_eq!(standard_deviation(&[3.0]), 0.0);
    }

    /// Student's t at 97.5 %: 12.706205, 2.570582, 2.228139 for 1, 5, 10 degrees of freedom
    /// (any t table; recomputed). A mean interval of ±1-spread data must use them.
    #[test]
    fn reference_t_interval() {
        for (freedom, t) in [(1_u32, 12.706_205), (5, 2.570_582), (10, 2.228_139)] {
            let values: Vec<f64> = (0..=freedom).map(f64::from).collect();
            let half = (mean_interval(&values).high - mean_interval(&values).low) / 2.0;
            let scale = standard_deviation(&values) / count(&values).sqrt();
            assert_relative_eq!(half / scale, t, max_relative = 1e-6);
        }
    }

    /// Interval of a standard deviation of 1: the chi-square table for n = 5, 10, 20, 30, 100
    /// (recomputed; the end for n = 100 is that of NIST's GEAR.DAT walk-through). Five figures.
    #[test]
    fn reference_chi_square_interval_of_a_standard_deviation() {
        for (size, low, high) in [
            (5.0, 0.599_13, 2.873_56),
            (10.0, 0.687_84, 1.825_61),
            (20.0, 0.760_49, 1.460_57),
            (30.0, 0.796_41, 1.344_32),
            (100.0, 0.878_01, 1.161_68),
        ] {
            let interval = deviation_interval(1.0, size);
            assert_relative_eq!(interval.low, low, max_relative = 1e-5);
            assert_relative_eq!(interval.high, high, max_relative = 1e-5);
        }
    }

    /// NIST/SEMATECH e-Handbook 1.3.5.8, GEAR.DAT: n 100, s 0.006278908 gives 0.00551292 to
    /// 0.00729405 (recomputed; the page's figures match memory).
    #[test]
    fn reference_nist_gear_interval() {
        let interval = deviation_interval(0.006_278_908, 100.0);
        assert_relative_eq!(interval.low, 0.005_512_92, max_relative = 1e-5);
        assert_relative_eq!(interval.high, 0.007_294_05, max_relative = 1e-5);
    }

    /// Percentiles of a fine standard normal sample: z(0.9) = 1.281552 (normal table). A
    /// stratified sample of 1,000 is right to the density between its points, 0.006.
    #[test]
    fn reference_normal_percentiles() {
        use statrs::distribution::Normal;
        let normal = Normal::standard();
        let values: Vec<f64> = (0..1000)
            .map(|i| normal.inverse_cdf((f64::from(i) + 0.5) / 1000.0))
            .collect();
        assert!((percentile(&values, 0.9) - 1.281_551_57).abs() < 0.006);
        assert!((percentile(&values, 0.1) + 1.281_551_57).abs() < 0.006);
    }
}
