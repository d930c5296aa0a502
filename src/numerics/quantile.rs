//! Quantiles of the normal and of Student's distribution, from `statrs`.

use super::checked::InnerShare;
use super::uncertainty::{Freedom, coverage_factor};
use statrs::distribution::{ContinuousCDF, Normal};

/// Confidence of every interval reported: the custom of science and of the trade standards.
pub const CONFIDENCE: f64 = 0.95;

/// The value below which a standard normal number lies with a probability, 0 to 1 exclusive.
pub fn standard_normal(share: f64) -> f64 {
    Normal::standard().inverse_cdf(share)
}

/// Probability that a standard normal number lies below this.
pub fn normal_share(below: f64) -> f64 {
    Normal::standard().cdf(below)
}

/// Standard errors to either side that hold the true value with [`CONFIDENCE`], where the
/// standard error itself is known well (normal distribution).
pub fn normal_errors() -> f64 {
    errors(Freedom::Endless)
}

/// Standard errors to either side that hold the true value with [`CONFIDENCE`], for an error
/// known from a number of degrees of freedom (Student's t); infinite where there are none.
pub fn student_errors(freedom: f64) -> f64 {
    if freedom <= 0.0 {
        return f64::INFINITY;
    }
    errors(Freedom::Of(freedom))
}

fn errors(freedom: Freedom) -> f64 {
    InnerShare::new(CONFIDENCE).map_or(f64::INFINITY, |coverage| coverage_factor(freedom, coverage))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Normal table: z(0.975) = 1.959964, z(0.75) = 0.674490; Student's t at 97.5 % with 10
    /// degrees of freedom 2.228139. Seven figures.
    #[test]
    fn reference_quantiles_of_the_tables() {
        assert_relative_eq!(normal_errors(), 1.959_964, max_relative = 1e-6);
        assert_relative_eq!(standard_normal(0.75), 0.674_490, max_relative = 1e-6);
        assert_relative_eq!(normal_share(0.674_490), 0.75, max_relative = 1e-6);
        assert_relative_eq!(student_errors(10.0), 2.228_139, max_relative = 1e-6);
        assert!(student_errors(0.0).is_infinite());
    }
}
