//! Uncertainty of a result from the uncertainties of what it is worked out from.
//!
//! Source: JCGM 100:2008, *Guide to the expression of uncertainty in measurement* (the GUM;
//! clause numbers from memory).

use super::Interval;
use super::checked::InnerShare;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use thiserror::Error;

/// How well an uncertainty itself is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Freedom {
    /// As well as can be: it does not come from a handful of readings.
    Endless,
    /// From readings with this many degrees of freedom, above zero.
    Of(f64),
}

impl Freedom {
    /// `1/ν`, zero for endless freedom.
    fn inverse(self) -> f64 {
        match self {
            Self::Endless => 0.0,
            Self::Of(freedom) => 1.0 / freedom,
        }
    }
}

/// A measured value with its standard uncertainty (one standard deviation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty, in the value's unit, zero or above.
    pub uncertainty: f64,
    /// How well that uncertainty is known.
    pub freedom: Freedom,
}

impl Measured {
    /// A value known exactly.
    pub const fn exact(value: f64) -> Self {
        Self::standard(value, 0.0)
    }

    /// A value with a standard uncertainty that is itself known well.
    pub const fn standard(value: f64, uncertainty: f64) -> Self {
        Self {
            value,
            uncertainty,
            freedom: Freedom::Endless,
        }
    }

    /// A value that lies within `± half_width`, anywhere there as likely as elsewhere:
    /// `u = a/√3` (GUM 4.3.7).
    pub fn within(value: f64, half_width: f64) -> Self {
        Self::standard(value, half_width / 3.0_f64.sqrt())
    }
}

/// Two inputs that err together: their places in the list and their correlation, −1 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correlation {
    /// Place of the one, from 0.
    pub one: usize,
    /// Place of the other, from 0.
    pub other: usize,
    /// Correlation coefficient of the two.
    pub coefficient: f64,
}

/// What one input adds to the result's uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution<Name> {
    /// The input.
    pub input: Name,
    /// How the result moves with it: its partial derivative.
    pub sensitivity: f64,
    /// Uncertainty of the result from this input alone, zero or above.
    pub uncertainty: f64,
    /// Its share of the sum of all inputs' variances.
    pub share_of_variance: f64,
}

/// A result with its uncertainty, and where that comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget<Name> {
    /// The result with its combined standard uncertainty and effective degrees of freedom.
    pub result: Measured,
    /// What each input adds, the one to improve first at the head.
    pub contributions: Vec<Contribution<Name>>,
}

/// Why no uncertainty came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum UncertaintyError {
    /// The result is not a number at the values given or close by.
    #[error("no number comes out of the values given, or of values as uncertain as these")]
    NoNumber,
}

/// Share of an input's uncertainty that it is moved by for its sensitivity: the law of
/// propagation means the slope, and over a tenth of the uncertainty a slope is straight.
const STEP_SHARE: f64 = 0.1;

/// The result of a function of measured inputs, by the law of propagation:
/// `u² = Σ (∂f/∂xᵢ)² uᵢ² + 2 Σ (∂f/∂xᵢ)(∂f/∂xⱼ) uᵢ uⱼ rᵢⱼ` (GUM equations 10 and 13), the
/// slopes by central differences; degrees of freedom by Welch and Satterthwaite,
/// `ν = u⁴/Σ(uᵢ⁴/νᵢ)` (GUM G.2b), which holds for inputs that do not err together.
///
/// # Errors
/// When no number comes out.
pub fn propagate<Name: Copy>(
    inputs: &[(Name, Measured)],
    correlations: &[Correlation],
    function: impl Fn(&[f64]) -> f64,
) -> Result<Budget<Name>, UncertaintyError> {
    let values: Vec<f64> = inputs.iter().map(|(_, input)| input.value).collect();
    let value = function(&values);
    let slopes: Vec<f64> = inputs
        .iter()
        .enumerate()
        .map(|(place, (_, input))| slope(&function, &values, place, *input))
        .collect();
    let parts: Vec<f64> = slopes
        .iter()
        .zip(inputs)
        .map(|(slope, (_, input))| slope * input.uncertainty)
        .collect();
    let alone: f64 = parts.iter().map(|part| part * part).sum();
    let together: f64 = correlations
        .iter()
        .filter_map(|c| Some(2.0 * c.coefficient * parts.get(c.one)? * parts.get(c.other)?))
        .sum();
    let variance = (alone + together).max(0.0);
    if !value.is_finite() || !variance.is_finite() {
        return Err(UncertaintyError::NoNumber);
    }
    let weakness: f64 = parts
        .iter()
        .zip(inputs)
        .map(|(part, (_, input))| part.powi(4) * input.freedom.inverse())
        .sum();
    let mut contributions: Vec<Contribution<Name>> = inputs
        .iter()
        .zip(slopes.iter().zip(&parts))
        .map(|((name, _), (sensitivity, part))| Contribution {
            input: *name,
            sensitivity: *sensitivity,
            uncertainty: part.abs(),
            share_of_variance: if alone > 0.0 {
                part * part / alone
            } else {
                0.0
            },
        })
        .collect();
    contributions.sort_by(|one, other| other.uncertainty.total_cmp(&one.uncertainty));
    Ok(Budget {
        result: Measured {
            value,
            uncertainty: variance.sqrt(),
            freedom: if weakness > 0.0 && variance > 0.0 {
                Freedom::Of(variance.powi(2) / weakness)
            } else {
                Freedom::Endless
            },
        },
        contributions,
    })
}

/// Slope of a function in one of its inputs; zero for an input known exactly.
fn slope(function: &impl Fn(&[f64]) -> f64, values: &[f64], place: usize, input: Measured) -> f64 {
    let step = input.uncertainty * STEP_SHARE;
    if step == 0.0 {
        return 0.0;
    }
    let at = |moved: f64| {
        let values: Vec<f64> = values
            .iter()
            .enumerate()
            .map(|(index, value)| if index == place { moved } else { *value })
            .collect();
        function(&values)
    };
    let (high, low) = (input.value + step, input.value - step);
    (at(high) - at(low)) / (high - low)
}

impl Measured {
    /// The expanded uncertainty `t u`: so far to either side lies the true value with a
    /// probability, `t` the quantile of Student's distribution at the degrees of freedom (not cut
    /// to a whole number), the normal one's at endless freedom (GUM G.3). In the value's unit.
    pub fn expanded(&self, coverage: InnerShare) -> f64 {
        coverage_factor(self.freedom, coverage) * self.uncertainty
    }

    /// The range that holds the true value with a probability: the value and its
    /// [`expanded`](Self::expanded) uncertainty.
    pub fn interval(&self, coverage: InnerShare) -> Interval {
        Interval::about(self.value, self.expanded(coverage))
    }
}

/// Degrees of freedom from which the quantile is taken from its series: statrs 0.19 gives
/// thirteen digits up to here, loses them further on, and for some values never returns.
const MANY: f64 = 1000.0;

/// How many standard uncertainties to either side hold a share of all cases. Fewer than one
/// degree of freedom counts as one: no series of readings leaves less.
pub fn coverage_factor(freedom: Freedom, coverage: InnerShare) -> f64 {
    let tail = f64::midpoint(1.0, coverage.get());
    let normal = Normal::standard().inverse_cdf(tail);
    let Freedom::Of(freedom) = freedom else {
        return normal;
    };
    if freedom < MANY
        && let Ok(student) = StudentsT::new(0.0, 1.0, freedom.max(1.0))
    {
        return student.inverse_cdf(tail);
    }
    student_far_out(normal, freedom)
}

/// Student's quantile from the normal one `z` by its series in `1/ν`; at a thousand degrees of
/// freedom the next term is below 1e-12. Source: Abramowitz & Stegun 26.7.5 (from memory).
fn student_far_out(z: f64, freedom: f64) -> f64 {
    let square = z * z;
    let terms = [
        z * (square + 1.0) / 4.0,
        z * ((5.0 * square + 16.0) * square + 3.0) / 96.0,
        z * (((3.0 * square + 19.0) * square + 17.0) * square - 15.0) / 384.0,
    ];
    let sum = terms
        .iter()
        .rev()
        .fold(0.0, |sum, term| (sum + term) / freedom);
    z + sum
}

#[cfg(test)]
mod tests;
