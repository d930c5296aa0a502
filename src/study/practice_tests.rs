use super::*;
use approx::assert_relative_eq;

fn practice(speeds: &[f64]) -> Practice {
    Practice {
        launches: speeds
            .iter()
            .map(|&speed_rad_s| PracticeLaunch {
                speed_rad_s,
                order: None,
                flywheel: None,
            })
            .collect(),
    }
}

/// 2, 4, 4, 4, 5, 5, 7, 9: mean 5, sample deviation √(32/7), chi-square interval for n = 8 of
/// 0.66117 to 2.03527 times that (any chi-square table: χ²(0.975, 7) = 16.01276, χ²(0.025, 7) =
/// 1.68987, from memory).
#[test]
fn reference_mean_and_spread_of_eight_launches() {
    let study = study(&practice(&[2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0]), None).unwrap();
    let sd = (32.0_f64 / 7.0).sqrt();
    assert_relative_eq!(study.mean_rad_s, 5.0);
    assert_relative_eq!(study.sd_rad_s, sd, max_relative = 1e-12);
    let ends = [16.012_76_f64, 1.689_87].map(|chi| sd * (7.0 / chi).sqrt());
    assert_relative_eq!(study.sd_interval_rad_s.low, ends[0], max_relative = 1e-5);
    assert_relative_eq!(study.sd_interval_rad_s.high, ends[1], max_relative = 1e-5);
}

#[test]
fn law_an_outlier_is_named_and_kept() {
    let study = study(
        &practice(&[500.0, 503.0, 498.0, 501.0, 499.0, 560.0, 502.0]),
        None,
    )
    .unwrap();
    assert_eq!(study.outliers, vec![5]);
    assert_eq!(study.launches.len(), 7);
}

/// Launches that rise by 1 a launch, with a little noise: the drift over the day is theirs.
#[test]
fn law_a_drift_shows_and_noise_does_not() {
    let noise = [0.3, -0.2, 0.1, -0.4, 0.2, 0.0, -0.1, 0.3, -0.3, 0.1];
    let rising: Vec<f64> = noise
        .iter()
        .zip(0_u8..)
        .map(|(n, i)| 500.0 + f64::from(i) + n)
        .collect();
    let level: Vec<f64> = noise.iter().map(|n| 500.0 + n).collect();
    let drift = study(&practice(&rising), None)
        .unwrap()
        .drift_rad_s
        .unwrap();
    assert!(drift.shows());
    assert!(drift.interval_rad_s.contains(9.0), "{drift:?}");
    assert!(
        !study(&practice(&level), None)
            .unwrap()
            .drift_rad_s
            .unwrap()
            .shows()
    );
}

/// The interval of a deviation shrinks as one over the root of the number: halving it takes about
/// three times as many again, fewer for small samples, whose interval is lopsided.
#[test]
fn law_halving_the_interval_takes_about_three_times_as_many_again() {
    let many: Vec<f64> = (0..200_u16).map(|i| f64::from(i % 17)).collect();
    let more = study(&practice(&many), None).unwrap().more_to_halve;
    assert!((560..=600).contains(&more), "{more}");
    let few = study(
        &practice(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0]),
        None,
    )
    .unwrap();
    assert!(
        (14..=24).contains(&few.more_to_halve),
        "{}",
        few.more_to_halve
    );
}

#[test]
fn law_two_launches_say_nothing() {
    assert!(study(&practice(&[1.0, 2.0]), None).is_none());
}
