use super::*;
use approx::assert_relative_eq;

fn share(value: f64) -> InnerShare {
    InnerShare::new(value).unwrap()
}

/// Student's t at 97.5 %, and the GUM's table G.2 at 95.45 % (which prints 2.65 and 2.28 for 5
/// and 10; matches memory); recomputed.
#[test]
fn reference_quantiles_of_student_and_normal() {
    for (freedom, t) in [
        (1.0, 12.706_205),
        (2.0, 4.302_653),
        (5.0, 2.570_582),
        (10.0, 2.228_139),
        (20.0, 2.085_963),
        (30.0, 2.042_272),
        (60.0, 2.000_298),
        (194.0, 1.972_268),
    ] {
        let ours = coverage_factor(Freedom::Of(freedom), share(0.95));
        assert_relative_eq!(ours, t, epsilon = 6e-7);
    }
    for (freedom, t) in [(5.0, 2.6487), (10.0, 2.2837)] {
        let ours = coverage_factor(Freedom::Of(freedom), share(0.9545));
        assert_relative_eq!(ours, t, epsilon = 6e-5);
    }
    for (coverage, z) in [
        (0.8, 1.281_551_57),
        (0.9, 1.644_853_63),
        (0.95, 1.959_963_98),
        (0.98, 2.326_347_87),
        (0.99, 2.575_829_30),
    ] {
        let ours = coverage_factor(Freedom::Endless, share(coverage));
        assert_relative_eq!(ours, z, epsilon = 6e-9);
    }
}

/// SciPy's `stats.t.ppf(0.975, ν)`, to either side of where the series takes over.
#[test]
fn reference_student_at_many_degrees_of_freedom() {
    for (freedom, t) in [
        (1.5, 6.016_663_104_428),
        (31.6, 2.037_945_043_762),
        (999.0, 1.962_341_461_133),
        (1001.0, 1.962_336_705_281),
        (10_000.0, 1.960_201_239_891),
        (1e6, 1.959_966_356_818),
    ] {
        let ours = coverage_factor(Freedom::Of(freedom), share(0.95));
        assert_relative_eq!(ours, t, max_relative = 2e-12);
    }
}

/// From one reading to endless many, the factor falls and never hangs or jumps.
#[test]
fn law_more_freedom_never_widens_the_range() {
    let factors: Vec<f64> = (0..160)
        .map(|step| 10_f64.powf(f64::from(step) / 10.0))
        .map(|freedom| coverage_factor(Freedom::Of(freedom), share(0.95)))
        .collect();
    assert!(
        factors
            .windows(2)
            .all(|pair| pair[1] <= pair[0] * (1.0 + 1e-12))
    );
    let endless = coverage_factor(Freedom::Endless, share(0.95));
    assert_relative_eq!(factors[159], endless, max_relative = 1e-12);
}

/// GUM H.1, an end gauge: components of 25, 9.7, 2.9 and 16.6 nm combine to 31.671 nm (published
/// 32; matches memory); with 18, 25.6, 50 and 2 degrees of freedom (from memory) the effective
/// ones are 16.7 and the 99 % expanded uncertainty 93 nm (published, from memory; the GUM cuts
/// 16.7 to 16, t = 2.92).
#[test]
fn reference_gum_h1_end_gauge() {
    let inputs = [(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)].map(|(nm, freedom)| {
        let input = Measured {
            value: 0.0,
            uncertainty: nm,
            freedom: Freedom::Of(freedom),
        };
        (nm.to_bits(), input)
    });
    let budget = propagate(&inputs, &[], |x| x.iter().sum()).unwrap();
    assert_relative_eq!(budget.result.uncertainty, 31.671, epsilon = 5e-4);
    let Freedom::Of(freedom) = budget.result.freedom else {
        panic!("endless");
    };
    assert_relative_eq!(freedom, 16.7, epsilon = 0.25);
    let cut = Measured {
        freedom: Freedom::Of(16.0),
        ..budget.result
    };
    assert_relative_eq!(cut.expanded(share(0.99)), 93.0, epsilon = 0.6);
    // The head of the list is what to improve first.
    assert_eq!(budget.contributions[0].input, 25.0_f64.to_bits());
    let shares: f64 = budget
        .contributions
        .iter()
        .map(|c| c.share_of_variance)
        .sum();
    assert_relative_eq!(shares, 1.0, max_relative = 1e-12);
}

const VOLT: [f64; 5] = [5.007, 4.994, 5.005, 4.990, 4.999];
const MILLIAMPERE: [f64; 5] = [19.663, 19.639, 19.640, 19.685, 19.678];
const RADIAN: [f64; 5] = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

fn mean(readings: &[f64; 5]) -> f64 {
    readings.iter().sum::<f64>() / 5.0
}

fn covariance_of_means(one: &[f64; 5], other: &[f64; 5]) -> f64 {
    let (a, b) = (mean(one), mean(other));
    let sum: f64 = one.iter().zip(other).map(|(x, y)| (x - a) * (y - b)).sum();
    sum / (5.0 * 4.0)
}

/// GUM H.2, resistance and reactance from five readings that err together. Published R 127.732,
/// u 0.071; X 219.847, u 0.295 (a rounding of 0.2956); Z 254.260, u 0.236 (matches memory);
/// recomputed without rounding.
#[test]
fn reference_gum_h2_correlated_readings() {
    let readings = [VOLT, MILLIAMPERE, RADIAN];
    let inputs = readings.map(|one| {
        let u = covariance_of_means(&one, &one).sqrt();
        ((), Measured::standard(mean(&one), u))
    });
    let correlation = |one: usize, other: usize| Correlation {
        one,
        other,
        coefficient: covariance_of_means(&readings[one], &readings[other])
            / (inputs[one].1.uncertainty * inputs[other].1.uncertainty),
    };
    let correlations = [correlation(0, 1), correlation(0, 2), correlation(1, 2)];
    for (ours, recomputed) in correlations.iter().zip([-0.355_311, 0.857_624, -0.645_111]) {
        assert_relative_eq!(ours.coefficient, recomputed, epsilon = 1e-6);
    }
    let ohm = |x: &[f64]| 1e3 * x[0] / x[1];
    let resistance = propagate(&inputs, &correlations, |x| ohm(x) * x[2].cos()).unwrap();
    let reactance = propagate(&inputs, &correlations, |x| ohm(x) * x[2].sin()).unwrap();
    let impedance = propagate(&inputs, &correlations, ohm).unwrap();
    for (budget, value, uncertainty) in [
        (resistance, 127.732_17, 0.071_071_4),
        (reactance, 219.846_51, 0.295_581_7),
        (impedance, 254.259_70, 0.236_336_1),
    ] {
        assert_relative_eq!(budget.result.value, value, epsilon = 6e-6);
        assert_relative_eq!(budget.result.uncertainty, uncertainty, max_relative = 2e-6);
    }
}

#[test]
fn law_a_value_known_exactly_adds_nothing() {
    let inputs = [
        ("a", Measured::exact(2.0)),
        ("b", Measured::standard(3.0, 0.1)),
    ];
    let budget = propagate(&inputs, &[], |x| x[0] * x[1]).unwrap();
    assert_relative_eq!(budget.result.uncertainty, 0.2, max_relative = 1e-9);
    assert_eq!(budget.contributions[0].input, "b");
    assert!(budget.contributions[1].uncertainty.abs() < f64::EPSILON);
}

/// Anywhere within ± a: standard deviation a/√3.
#[test]
fn law_a_range_counts_as_its_standard_deviation() {
    assert_relative_eq!(
        Measured::within(1.0, 0.3).uncertainty,
        0.3 / 3.0_f64.sqrt(),
        max_relative = 1e-15
    );
}

#[test]
fn law_what_is_no_number_is_an_error() {
    let inputs = [((), Measured::standard(-1.0, 0.1))];
    assert_eq!(
        propagate(&inputs, &[], |x| x[0].sqrt()),
        Err(UncertaintyError::NoNumber)
    );
}
