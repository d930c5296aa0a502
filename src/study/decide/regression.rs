//! What could be learnt turned into what would be expected: regression with a basis that
//! cross-validation chooses.
//!
//! Ridge regression on Hermite polynomials of the standardised inputs, products of several
//! inputs up to a total degree. Degree and ridge are those that predict a sheet best from all
//! the others; for a linear smoother `ŷ = H y` that error needs no second fit:
//! `y_i − ŷ_(i) = (y_i − ŷ_i)/(1 − H_ii)` (Allen's PRESS; Hastie, Tibshirani & Friedman,
//! *The Elements of Statistical Learning*, ch. 7, from memory).

use super::losses::as_float;
use nalgebra::{Cholesky, DMatrix, DVector};

/// Ridges tried, each times the number of sheets (the inputs are of unit variance). The least
/// only keeps the equations solvable.
const RIDGES: [f64; 4] = [1e-9, 1e-3, 1e-2, 1e-1];
/// Sheets there must be for each term of a basis, or the basis is not tried (common practice, no
/// source).
const SHEETS_PER_TERM: usize = 4;
/// An input that varies by less than this share of its size is known already.
const NO_SPREAD: f64 = 1e-12;

/// What several responses are expected to be, given the inputs, sheet by sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Regression {
    /// One fit a response.
    pub fits: Vec<Fit>,
}

/// One response.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// Expected given the inputs, by all sheets.
    pub seen: Vec<f64>,
    /// The same for each sheet by all the others.
    pub unseen: Vec<f64>,
    /// Total degree chosen; 0: the inputs say nothing.
    pub degree: u32,
    /// Mean square of what is left when each sheet is foretold by the others.
    pub left_over: f64,
}

/// Regresses every response (a list each, one number a sheet) on all the inputs together.
pub fn regress(inputs: &[Vec<f64>], responses: &[Vec<f64>]) -> Regression {
    let sheets = responses.first().map_or(0, Vec::len);
    let inputs: Vec<Vec<f64>> = inputs
        .iter()
        .filter_map(|input| standardised(input))
        .collect();
    let mut fits: Vec<Fit> = responses
        .iter()
        .map(|response| constant(response))
        .collect();
    for degree in 1..=most_degrees(inputs.len()) {
        let terms = terms(inputs.len(), degree);
        if terms.len() * SHEETS_PER_TERM > sheets {
            break;
        }
        let design = design(&inputs, &terms, sheets);
        for ridge in RIDGES {
            let Some(smoother) = Smoother::new(&design, ridge) else {
                continue;
            };
            for (fit, response) in fits.iter_mut().zip(responses) {
                let tried = smoother.fit(response, degree);
                if tried.left_over < fit.left_over {
                    *fit = tried;
                }
            }
        }
    }
    Regression { fits }
}

/// What each input does to a response by itself: a straight line and a parabola in each, all
/// fitted together. The inputs are standard normal scores, so that each effect has mean 0 over
/// all sheets that could be drawn, whatever its mean over these. One list an input, one number
/// a sheet; an input that does not vary does nothing.
pub fn main_effects(inputs: &[Vec<f64>], response: &[f64]) -> Vec<Vec<f64>> {
    /// Powers of each input.
    const POWERS: u32 = 2;
    let sheets = response.len();
    let nothing = || vec![vec![0.0; sheets]; inputs.len()];
    let varying: Vec<(usize, &Vec<f64>)> = inputs
        .iter()
        .enumerate()
        .filter(|(_, input)| standardised(input).is_some())
        .collect();
    let powers = if varying.len() * POWERS as usize * SHEETS_PER_TERM / 2 > sheets {
        1
    } else {
        POWERS
    };
    let mut terms: Vec<Vec<u32>> = Vec::new();
    for place in 0..varying.len() {
        for power in 1..=powers {
            terms.push(
                (0..varying.len())
                    .map(|at| if at == place { power } else { 0 })
                    .collect(),
            );
        }
    }
    let columns: Vec<Vec<f64>> = varying.iter().map(|(_, input)| (*input).clone()).collect();
    let design = design(&columns, &terms, sheets);
    let best = RIDGES
        .iter()
        .filter_map(|ridge| Smoother::new(&design, *ridge))
        .map(|smoother| (smoother.fit(response, powers).left_over, smoother))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, smoother)) =
        best.filter(|(left_over, _)| *left_over < constant(response).left_over)
    else {
        return nothing();
    };
    let weights = smoother.weights(response);
    let mut effects = nothing();
    for ((place, scores), weights) in varying
        .iter()
        .zip(weights.as_slice().chunks(powers as usize))
    {
        let Some(effect) = effects.get_mut(*place) else {
            continue;
        };
        for (sum, score) in effect.iter_mut().zip(scores.iter()) {
            *sum = (1..)
                .zip(weights)
                .map(|(power, weight)| weight * hermite(*score, power))
                .sum();
        }
    }
    effects
}

/// Highest total degree tried with so many inputs: the number of terms stays within some tens.
const fn most_degrees(inputs: usize) -> u32 {
    match inputs {
        0 => 0,
        1 => 6,
        2 => 4,
        3..=4 => 3,
        5..=9 => 2,
        _ => 1,
    }
}

/// Mean 0, standard deviation 1; `None` for an input that does not vary.
fn standardised(input: &[f64]) -> Option<Vec<f64>> {
    let count = as_float(input.len());
    let mean = input.iter().sum::<f64>() / count;
    let deviation = (input.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / count).sqrt();
    (deviation > NO_SPREAD * mean.abs().max(f64::MIN_POSITIVE))
        .then(|| input.iter().map(|x| (x - mean) / deviation).collect())
}

/// The mean, and for each sheet the mean of the others.
fn constant(response: &[f64]) -> Fit {
    let count = as_float(response.len());
    let sum: f64 = response.iter().sum();
    let unseen: Vec<f64> = response
        .iter()
        .map(|y| {
            if count > 1.0 {
                (sum - y) / (count - 1.0)
            } else {
                sum
            }
        })
        .collect();
    Fit {
        seen: vec![sum / count; response.len()],
        left_over: mean_square(response, &unseen),
        unseen,
        degree: 0,
    }
}

fn mean_square(values: &[f64], told: &[f64]) -> f64 {
    let sum: f64 = values.iter().zip(told).map(|(v, t)| (v - t).powi(2)).sum();
    sum / as_float(values.len())
}

/// Every product of powers of the inputs with a total degree from 1 to the one given: the powers.
fn terms(inputs: usize, degree: u32) -> Vec<Vec<u32>> {
    let mut all: Vec<Vec<u32>> = vec![Vec::new()];
    for _ in 0..inputs {
        all = all
            .into_iter()
            .flat_map(|powers| {
                let left = degree - powers.iter().sum::<u32>();
                (0..=left).map(move |power| {
                    let mut longer = powers.clone();
                    longer.push(power);
                    longer
                })
            })
            .collect();
    }
    all.retain(|powers| powers.iter().any(|power| *power > 0));
    all
}

/// Hermite polynomial of unit variance under a standard normal:
/// `He_{k+1} = x He_k − k He_{k−1}`, over `√k!`.
fn hermite(x: f64, degree: u32) -> f64 {
    let (mut before, mut here, mut factorial) = (0.0, 1.0, 1.0);
    for k in 0..degree {
        let next = x * here - f64::from(k) * before;
        (before, here) = (here, next);
        factorial *= f64::from(k + 1);
    }
    here / f64::sqrt(factorial)
}

/// The terms of every sheet, a row each, every column with mean 0.
fn design(inputs: &[Vec<f64>], terms: &[Vec<u32>], sheets: usize) -> DMatrix<f64> {
    let mut design = DMatrix::zeros(sheets, terms.len());
    for (mut column, powers) in design.column_iter_mut().zip(terms) {
        for (sheet, cell) in column.iter_mut().enumerate() {
            *cell = inputs
                .iter()
                .zip(powers)
                .map(|(input, power)| hermite(input.get(sheet).copied().unwrap_or(0.0), *power))
                .product();
        }
        let mean: f64 = column.mean();
        column.add_scalar_mut(-mean);
    }
    design
}

/// A basis with a ridge, ready to fit any response.
struct Smoother<'d> {
    design: &'d DMatrix<f64>,
    normal: Cholesky<f64, nalgebra::Dyn>,
    /// `H_ii`: how much a sheet's own response moves what it is expected to be.
    leverage: Vec<f64>,
}

impl<'d> Smoother<'d> {
    fn new(design: &'d DMatrix<f64>, ridge: f64) -> Option<Self> {
        let sheets = as_float(design.nrows());
        let mut squares = design.tr_mul(design);
        for term in 0..squares.nrows() {
            if let Some(diagonal) = squares.get_mut((term, term)) {
                *diagonal += ridge * sheets;
            }
        }
        let normal = Cholesky::new(squares)?;
        let half = normal.l().solve_lower_triangular(&design.transpose())?;
        let leverage = half
            .column_iter()
            .map(|column| 1.0 / sheets + column.norm_squared())
            .collect();
        Some(Self {
            design,
            normal,
            leverage,
        })
    }

    /// Weight of each term.
    fn weights(&self, response: &[f64]) -> DVector<f64> {
        // The columns have mean 0: the response's own mean drops out.
        let response = DVector::from_column_slice(response);
        self.normal.solve(&self.design.tr_mul(&response))
    }

    fn fit(&self, response: &[f64], degree: u32) -> Fit {
        /// Least share of a sheet's say that the others have: keeps a division off zero.
        const LEAST_SAY: f64 = 1e-6;
        let mean = response.iter().sum::<f64>() / as_float(response.len());
        let told = self.design * self.weights(response);
        let seen: Vec<f64> = told.iter().map(|value| value + mean).collect();
        let unseen: Vec<f64> = response
            .iter()
            .zip(&seen)
            .zip(&self.leverage)
            .map(|((y, seen), leverage)| y - (y - seen) / (1.0 - leverage).max(LEAST_SAY))
            .collect();
        Fit {
            left_over: mean_square(response, &unseen),
            seen,
            unseen,
            degree,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Points in the unit square, evenly spread, and noise that is none of their business.
    fn sample(count: usize) -> (Vec<f64>, Vec<f64>, Vec<f64>) {
        let point = |i: usize, step: f64| (as_float(i) * step).fract();
        let column = |step: f64| (0..count).map(|i| point(i, step) - 0.5).collect();
        (
            column(0.754_877_666_2),
            column(0.569_840_290_9),
            column(0.427_138_7),
        )
    }

    /// A quadratic with an interaction is had exactly; the ridge that is left takes less than
    /// 1e-6 of it.
    #[test]
    fn reference_a_quadratic_is_found_exactly() {
        let (a, b, _) = sample(200);
        let response: Vec<f64> = a
            .iter()
            .zip(&b)
            .map(|(a, b)| 1.0 + 2.0 * a - b * b + 3.0 * a * b)
            .collect();
        let regression = regress(&[a, b], std::slice::from_ref(&response));
        for (seen, want) in regression.fits[0].seen.iter().zip(&response) {
            assert_relative_eq!(*seen, *want, epsilon = 1e-6);
        }
    }

    /// What is foretold of a sheet by the others is what a fit without it says: done the long way.
    #[test]
    fn reference_leaving_one_out_needs_no_second_fit() {
        let (a, _, noise) = sample(40);
        let response: Vec<f64> = a
            .iter()
            .zip(&noise)
            .map(|(a, e)| 2.0 * a + 0.1 * e)
            .collect();
        let design = design(&[standardised(&a).unwrap()], &terms(1, 1), 40);
        let fit = Smoother::new(&design, 1e-12).unwrap().fit(&response, 1);
        for left in [0, 17, 39] {
            let keep = |values: &[f64]| -> Vec<f64> {
                (0..40).filter(|i| *i != left).map(|i| values[i]).collect()
            };
            let (x, y) = (keep(&a), keep(&response));
            let (mx, my) = (x.iter().sum::<f64>() / 39.0, y.iter().sum::<f64>() / 39.0);
            let slope = x
                .iter()
                .zip(&y)
                .map(|(x, y)| (x - mx) * (y - my))
                .sum::<f64>()
                / x.iter().map(|x| (x - mx).powi(2)).sum::<f64>();
            assert_relative_eq!(
                fit.unseen[left],
                my + slope * (a[left] - mx),
                epsilon = 1e-9
            );
        }
    }

    /// An input that has nothing to do with the response foretells nothing.
    #[test]
    fn law_noise_is_not_learnt() {
        let (a, _, noise) = sample(400);
        let regression = regress(std::slice::from_ref(&a), std::slice::from_ref(&noise));
        let told = &regression.fits[0].seen;
        let variance = told.iter().map(|t| t * t).sum::<f64>() / 400.0;
        assert!(variance < 0.02 / 12.0, "{variance}");
    }

    /// (d + k)!/(d! k!) − 1 terms of degree 1 to k in d inputs.
    #[test]
    fn reference_number_of_terms() {
        assert_eq!(terms(1, 4).len(), 4);
        assert_eq!(terms(2, 3).len(), 9);
        assert_eq!(terms(4, 2).len(), 14);
    }

    /// He₄ = x⁴ − 6x² + 3, over √24 (Abramowitz & Stegun, 22.3.11, from memory).
    #[test]
    fn reference_hermite_polynomial() {
        let x: f64 = 1.3;
        let want = (x.powi(4) - 6.0 * x * x + 3.0) / 24_f64.sqrt();
        assert_relative_eq!(hermite(x, 4), want, max_relative = 1e-12);
    }
}
