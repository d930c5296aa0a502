//! NIST StRD nonlinear regression: certified values, from both starts.

use super::*;
use crate::numerics::checked::Positive;

/// Step of a central difference: the cube root of a double's rounding, which balances rounding
/// against curvature (Press et al., *Numerical Recipes*, sec. 5.7, from memory).
fn steps(parameters: usize) -> Vec<DifferenceStep> {
    let share = Positive::new(f64::EPSILON.cbrt()).expect("above zero");
    vec![DifferenceStep::Share(share); parameters]
}

/// The finest share that double numbers let a search tell (MINPACK's habit).
fn finest() -> Positive {
    Positive::new(30.0 * f64::EPSILON).expect("above zero")
}

fn digits(found: f64, certified: f64) -> f64 {
    -((found - certified) / certified).abs().log10()
}

struct Certified<'a> {
    starts: [&'a [f64]; 2],
    values: &'a [f64],
    deviations: &'a [f64],
    residual_sum: f64,
}

/// Asserts six certified digits of values, four of their deviations and six of the residual sum:
/// NIST asks for as many as possible, six is where a reader would stop reading.
fn holds(
    certified: &Certified<'_>,
    count: usize,
    residuals: impl Fn(&[f64]) -> Option<Vec<f64>> + Sync,
) {
    for start in certified.starts {
        let fit = least_squares(start, &steps(start.len()), finest(), &residuals).expect("a fit");
        assert!(fit.settled);
        for (found, value) in fit.parameters.iter().zip(certified.values) {
            assert!(digits(*found, *value) >= 6.0, "{found} for {value}");
        }
        assert!(digits(fit.residual_sum, certified.residual_sum) >= 6.0);
        let freedom = count - start.len();
        #[expect(clippy::cast_precision_loss, reason = "some tens")]
        let variance = fit.residual_sum / freedom as f64;
        let covariance = fit.unit_covariance().expect("told apart");
        for (index, deviation) in certified.deviations.iter().enumerate() {
            let found = (variance * covariance[(index, index)]).sqrt();
            assert!(digits(found, *deviation) >= 4.0, "{found} for {deviation}");
        }
    }
}

/// NIST StRD Misra1a, y = b1 (1 − exp(−b2 x)): data and certified values from the data set's page.
#[test]
fn reference_nist_misra1a() {
    let x = [
        77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1,
        760.0,
    ];
    let y = [
        10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47,
        81.78,
    ];
    let certified = Certified {
        starts: [&[500.0, 1e-4], &[250.0, 5e-4]],
        values: &[2.389_421_291_8e2, 5.501_564_318_1e-4],
        deviations: &[2.707_007_524_1, 7.266_868_843_6e-6],
        residual_sum: 1.245_513_889_4e-1,
    };
    holds(&certified, x.len(), |b| {
        let model = |x: f64| b[0] * (1.0 - (-b[1] * x).exp());
        Some(x.iter().zip(y).map(|(x, y)| y - model(*x)).collect())
    });
}

/// NIST StRD Eckerle4, y = (b1/b2) exp(−((x − b3)/b2)²/2): the first start is far off.
#[test]
fn reference_nist_eckerle4() {
    let x: Vec<f64> = (0..8)
        .map(|i| 400.0 + 5.0 * f64::from(i))
        .chain((0..20).map(|i| 436.5 + 1.5 * f64::from(i)))
        .chain((0..7).map(|i| 470.0 + 5.0 * f64::from(i)))
        .collect();
    let y = [
        0.000_157_5,
        0.000_169_9,
        0.000_235_0,
        0.000_310_2,
        0.000_491_7,
        0.000_871_0,
        0.001_741_8,
        0.004_640_0,
        0.006_589_5,
        0.009_730_2,
        0.014_900_2,
        0.023_731_0,
        0.040_168_3,
        0.071_255_9,
        0.126_445_8,
        0.207_341_3,
        0.290_236_6,
        0.344_562_3,
        0.369_804_9,
        0.366_853_4,
        0.310_672_7,
        0.207_815_4,
        0.116_435_4,
        0.061_676_4,
        0.033_720_0,
        0.019_402_3,
        0.011_783_1,
        0.007_435_7,
        0.002_273_2,
        0.000_880_0,
        0.000_457_9,
        0.000_234_5,
        0.000_158_6,
        0.000_114_3,
        0.000_071_0,
    ];
    assert_eq!(x.len(), y.len());
    let certified = Certified {
        starts: [&[1.0, 10.0, 500.0], &[1.5, 5.0, 450.0]],
        values: &[1.554_382_717_8, 4.088_832_175_4, 4.515_412_184_4e2],
        deviations: &[1.540_805_116_3e-2, 4.680_302_075_3e-2, 4.680_051_881_6e-2],
        residual_sum: 1.463_588_748_7e-3,
    };
    holds(&certified, x.len(), |b| {
        let model = |x: f64| b[0] / b[1] * (-0.5 * ((x - b[2]) / b[1]).powi(2)).exp();
        Some(x.iter().zip(y).map(|(x, y)| y - model(*x)).collect())
    });
}

/// NIST StRD MGH09, y = b1 (x² + b2 x)/(x² + b3 x + b4): of the higher level of difficulty, with a
/// worse minimum at infinity; the first start is a hundred times off (data file of the data set).
#[test]
fn reference_nist_mgh09() {
    let x = [
        4.0, 2.0, 1.0, 0.5, 0.25, 0.167, 0.125, 0.1, 0.083_3, 0.071_4, 0.062_5,
    ];
    let y = [
        0.195_7, 0.194_7, 0.173_5, 0.160_0, 0.084_4, 0.062_7, 0.045_6, 0.034_2, 0.032_3, 0.023_5,
        0.024_6,
    ];
    let certified = Certified {
        starts: [&[25.0, 39.0, 41.5, 39.0], &[0.25, 0.39, 0.415, 0.39]],
        values: &[
            1.928_069_345_8e-1,
            1.912_823_287_3e-1,
            1.230_565_069_3e-1,
            1.360_623_306_8e-1,
        ],
        deviations: &[
            1.143_531_222_7e-2,
            1.963_322_091_1e-1,
            8.084_203_123_2e-2,
            9.002_554_230_8e-2,
        ],
        residual_sum: 3.075_056_038_5e-4,
    };
    holds(&certified, x.len(), |b| {
        let model = |x: f64| b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]);
        Some(x.iter().zip(y).map(|(x, y)| y - model(*x)).collect())
    });
}

/// A range that ends between start and optimum does not end the search.
#[test]
fn law_refused_parameters_turn_the_search_back() {
    let fit = least_squares(&[4.0], &steps(1), finest(), &|b: &[f64]| {
        (b[0] > 0.5).then(|| vec![b[0] - 1.0, 0.1 * b[0] * b[0]])
    })
    .expect("a fit");
    // d/db [(b−1)² + 0.01 b⁴] = 0 at b = 0.981… by hand: b − 1 + 0.02 b³ = 0.
    let b = fit.parameters[0];
    assert!((b - 1.0 + 0.02 * b.powi(3)).abs() < 1e-6, "{b}");
}

#[test]
fn law_a_start_without_residuals_is_said() {
    let none = |_: &[f64]| None;
    assert_eq!(
        least_squares(&[1.0], &steps(1), finest(), &none),
        Err(LeastSquaresError::NoStart)
    );
}
