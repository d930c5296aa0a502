use super::*;
use crate::car::sample::{live_axle_saloon, rpm};
use crate::launch::Rig;
use crate::numerics::summary::{mean, standard_deviation};
use crate::study::Unwatched;
use crate::study::scatter::draws::Draws;
use approx::assert_relative_eq;

fn straight(points: &[(f64, f64)]) -> MeanCurve {
    MeanCurve {
        points: points
            .iter()
            .map(|&(speed_rad_s, mean_s)| CurvePoint {
                speed_rad_s,
                mean_s,
                square_s2: mean_s * mean_s,
            })
            .collect(),
    }
}

/// Smoothing a straight line gives the line: mean A + B n0. The curve's ends are twenty
/// deviations away, so nothing is clipped.
#[test]
fn reference_a_straight_line_keeps_its_mean() {
    let line = straight(&[(0.0, 1.0), (400.0, 5.0)]);
    assert_relative_eq!(line.at(200.0, 10.0).mean_s, 3.0, max_relative = 1e-12);
    assert_relative_eq!(line.at(230.0, 0.0).mean_s, 3.3, max_relative = 1e-12);
}

/// A V of slope ±B smoothed at its foot by σ has the mean B σ √(2/π) above the foot: the mean
/// absolute value of a normal variable.
#[test]
fn reference_a_kink_is_smoothed_to_the_mean_absolute_value() {
    let vee = straight(&[(0.0, 5.0), (200.0, 1.0), (400.0, 5.0)]);
    let expected = 1.0 + 0.02 * 10.0 * (2.0 / PI).sqrt();
    assert_relative_eq!(vee.at(200.0, 10.0).mean_s, expected, max_relative = 1e-12);
}

/// Draws beyond the ends count at the ends: aimed at the end of a line, the mean lies half a mean
/// absolute value inside.
#[test]
fn reference_draws_beyond_the_ends_count_at_the_ends() {
    let line = straight(&[(0.0, 1.0), (400.0, 5.0)]);
    let expected = 1.0 + 0.01 * 10.0 / (2.0 * PI).sqrt();
    assert_relative_eq!(line.at(0.0, 10.0).mean_s, expected, max_relative = 1e-12);
}

/// The curve against a launch for every draw, on a car whose rear tyres go past their peak: the
/// mean differs by less than three standard errors of the draws and 0.5 ms for the quadrature's
/// kinks; the deviation by a tenth. Aims at which nothing stalls: a handful of stalls would decide both.
#[test]
fn law_the_curve_tells_what_real_launches_do() {
    let car = live_axle_saloon();
    let rig = ScatteredRig::new(Rig::new(&car, car.flywheels.named("deep cut").unwrap()));
    let curves = MeanCurve::build_all(std::slice::from_ref(&rig), &Unwatched).unwrap();
    let draws = Draws::new(1024, 11);
    for aim in [rpm(2900.0), rpm(3600.0)] {
        let times: Vec<f64> = draws
            .chances()
            .iter()
            .map(|chance| {
                rig.try_once(&rig.attempt(aim, chance))
                    .unwrap()
                    .unwrap_or(rig.stall_cost_s())
            })
            .collect();
        let told = curves[0].at(aim, rig.launch_sd_rad_s);
        let error = standard_deviation(&times) / 32.0;
        assert!(
            (told.mean_s - mean(&times)).abs() < 3.0 * error + 5e-4,
            "{told:?} {}",
            mean(&times)
        );
        assert_relative_eq!(told.sd_s, standard_deviation(&times), max_relative = 0.1);
    }
}
