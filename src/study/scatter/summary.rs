//! Mean, spread, percentiles and intervals of many numbers.

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::statistics::{Data, OrderStatistics};

/// Confidence of every interval reported.
pub const CONFIDENCE: f64 = 0.95;

/// An interval with both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// Whether a value lies within, ends included.
    pub fn contains(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

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
    let freedom = count(values) - 1.0;
    let half = StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |t| {
        t.inverse_cdf(f64::midpoint(1.0, CONFIDENCE)) * standard_deviation(values)
            / count(values).sqrt()
    });
    Interval {
        low: centre - half,
        high: centre + half,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

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
