//! A toy driver whose sixty-foot time is a straight line in every chance: all is known exactly.

use super::draws::Draws;
use crate::numerics::summary::{mean, mean_interval, percentile, standard_deviation};

/// `2 + 0.03 speed + 0.04 release` has mean 2, deviation 0.05, and its tenth percentile at
/// 2 − 1.281552 · 0.05 (normal table). Tolerance: 2,048 draws in blocks of 128 settle a mean to
/// 1e-5, a deviation and a percentile to 1 % of the deviation.
#[test]
fn reference_a_linear_driver() {
    let draws = Draws::new(2048, 3);
    let times: Vec<f64> = draws
        .chances()
        .iter()
        .map(|chance| 2.0 + 0.03 * chance.speed + 0.04 * chance.release)
        .collect();
    assert!((mean(&times) - 2.0).abs() < 1e-4, "{}", mean(&times));
    assert!((standard_deviation(&times) - 0.05).abs() < 5e-4);
    assert!((percentile(&times, 0.1) - (2.0 - 1.281_552 * 0.05)).abs() < 1e-3);
    assert!((percentile(&times, 0.9) - (2.0 + 1.281_552 * 0.05)).abs() < 1e-3);
}

/// Over 100 seeds the 95 % interval of a paired difference holds its exact mean, 0.01, in at
/// least 88: fewer has a chance below 1 in 200 for a true 95 %.
#[test]
fn reference_intervals_of_a_paired_difference_hold_it() {
    let held = (0..100)
        .filter(|seed| {
            let draws = Draws::new(512, *seed);
            let differences: Vec<f64> = draws
                .chances()
                .iter()
                .map(|chance| 0.01 + 0.02 * chance.speed * chance.grip + 0.01 * chance.speed)
                .collect();
            mean_interval(&draws.block_means(&differences)).contains(0.01)
        })
        .count();
    assert!(held >= 88, "{held}");
}
