//! Sweeps, quickest launches, windows and means under scatter against SciPy's (see
//! `tests/reference/README.md`).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::car::Car;
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::launch::{ACCURACY, Attempt, Rig, sixty_foot};
use flyheft::study::Unwatched;
use flyheft::study::compare::study_wheels;
use flyheft::study::scatter::break_even::{BreakEven, Winner};
use flyheft::study::scatter::draws::{DEFAULT_DRAWS, DEFAULT_SEED, Draws};
use flyheft::study::scatter::study::{ScatterStudy, study_scatter};
use serde_json::Value;
use statrs::distribution::{ContinuousCDF, Normal};
use std::path::Path;

/// Sixty-foot time, s: the tolerance of whole launches, ten times over for the places where a
/// launch that just recovers grip magnifies the integrator's error.
const TIME_S: f64 = 5e-5;
/// Launch speed of a window's edge, rpm: bisected to 0.1 here, and a steep edge turns 5e-5 s into
/// as much again.
const EDGE_RPM: f64 = 1.0;

fn studies() -> Vec<Value> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/study.json");
    let text = std::fs::read_to_string(path).expect("the reference study");
    let document: Value = serde_json::from_str(&text).expect("JSON");
    document["studies"].as_array().expect("a list").clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// Every point of the sweeps, the quickest launches and the windows of two cars.
#[test]
fn reference_sweeps_quickest_and_windows() {
    for expected in studies() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference");
        let sheet = folder.join(expected["sheet"].as_str().expect("a sheet"));
        let reading = flyheft::sheet::read(&sheet).expect("a sheet that reads");
        let car = &reading.car;
        let name = expected["wheel"].as_str().expect("a wheel");
        let wheel = car.flywheels.named(name).expect("the wheel");
        let rig = Rig::new(car, wheel);
        for point in expected["curve"].as_array().expect("a curve") {
            let speed = number(&point[0]) * RAD_S_PER_RPM;
            let got = sixty_foot(&rig, &Attempt::from_speed(speed), &ACCURACY).expect("a launch");
            match (point[1].as_f64(), got) {
                (Some(want), Some(got)) => assert!((want - got).abs() < TIME_S, "{name} {point}"),
                (want, got) => assert_eq!(want.is_some(), got.is_some(), "{name} {point}"),
            }
        }
        let study = study_wheels(car, &[wheel], &Unwatched)
            .expect("a study")
            .remove(0);
        let best = study.best.expect("a quickest launch");
        let quickest = &expected["quickest"];
        assert!((best.quickest.sixty_foot_s - number(&quickest["sixty_foot_s"])).abs() < TIME_S);
        for (edge, want) in [best.window.low, best.window.high]
            .iter()
            .zip(expected["window"].as_array().expect("edges"))
        {
            let got = edge.speed_rad_s() / RAD_S_PER_RPM;
            assert!(
                (got - number(&want["rpm"])).abs() < EDGE_RPM,
                "{name}: {got} {want}"
            );
        }
    }
}

/// Mean and deviation over 400 stratified normal quantiles of launch speed alone.
#[test]
fn reference_mean_and_spread_of_launch_speed_alone() {
    let normal = Normal::standard();
    for expected in studies() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference");
        let sheet = folder.join(expected["sheet"].as_str().expect("a sheet"));
        let reading = flyheft::sheet::read(&sheet).expect("a sheet that reads");
        let car = &reading.car;
        let wheel = car
            .flywheels
            .named(expected["wheel"].as_str().expect("a wheel"))
            .expect("the wheel");
        let rig = Rig::new(car, wheel);
        for scatter in expected["scatter"].as_array().expect("aims") {
            let (aim, sd) = (
                number(&scatter["launch_rpm"]),
                number(&scatter["launch_sd_rpm"]),
            );
            let times: Vec<f64> = (0..400)
                .map(|i| {
                    let speed = aim + sd * normal.inverse_cdf((f64::from(i) + 0.5) / 400.0);
                    let attempt = Attempt::from_speed(speed * RAD_S_PER_RPM);
                    sixty_foot(&rig, &attempt, &ACCURACY)
                        .expect("a launch")
                        .unwrap_or(car.track.stall_cost_s.get())
                })
                .collect();
            let mean = times.iter().sum::<f64>() / 400.0;
            let square: f64 = times.iter().map(|time| (time - mean).powi(2)).sum();
            assert!((mean - number(&scatter["mean_s"])).abs() < TIME_S);
            assert!(((square / 399.0).sqrt() - number(&scatter["sd_s"])).abs() < TIME_S);
        }
    }
}

/// A reference car with lines of its sheet changed; each must be there once.
fn changed(name: &str, changes: &[(&str, &str)]) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference/cars")
        .join(name);
    let mut text = std::fs::read_to_string(&path).expect("a sheet");
    for (from, to) in changes {
        assert_eq!(text.matches(from).count(), 1, "{from} in {name}");
        text = text.replace(from, to);
    }
    flyheft::sheet::read_text(&path, &text)
        .expect("a changed sheet")
        .car
}

fn scatter(car: &Car) -> ScatterStudy<'_> {
    scatter_with(car, DEFAULT_DRAWS)
}

fn scatter_with(car: &Car, draws: usize) -> ScatterStudy<'_> {
    let wheels: Vec<_> = car.flywheels.all().iter().collect();
    let studies = study_wheels(car, &wheels, &Unwatched).expect("a study");
    let draws = Draws::new(draws, DEFAULT_SEED);
    study_scatter(car, &studies, draws, &Unwatched).expect("a study")
}

/// Break-evens of g-imperial with release and grip held still, settled by launches 1 rpm apart
/// in a second implementation: swung / billet 96.5, scalloped / billet 77.0, scalloped / swung
/// 49.1 rpm, each ± 0.5; within 2 rpm, the lighter quicker below.
#[test]
fn reference_break_evens_of_g_imperial() {
    let still = [
        (
            "launch_sd = \"230 rpm\"",
            "launch_sd = \"230 rpm\"\nrelease_sd = 0.0",
        ),
        (
            "stage_depth = \"2 in\"",
            "stage_depth = \"2 in\"\ngrip_sd = 0.0",
        ),
    ];
    let car = changed("g-imperial.toml", &still);
    let name = |index: usize| car.flywheels.all()[index].name();
    let mut met = 0;
    for pair in &scatter(&car).pairs {
        let expected_rpm = match (name(pair.lighter), name(pair.heavier)) {
            ("swung", "billet") => 96.5,
            ("billet, scalloped", "billet") => 77.0,
            ("billet, scalloped", "swung") => 49.1,
            other => panic!("{other:?}"),
        };
        let BreakEven::At {
            sd_rad_s, below, ..
        } = pair.break_even
        else {
            panic!("{pair:?}");
        };
        let off_rpm = sd_rad_s / RAD_S_PER_RPM - expected_rpm;
        assert!(off_rpm.abs() < 2.0, "{off_rpm} rpm off {expected_rpm}");
        assert_eq!(below, Winner::Lighter);
        met += 1;
    }
    assert_eq!(met, 3);
}

/// With its sheet's own release and grip scatter g-imperial has no break-even in any pair: the
/// heavier wins throughout (second implementation, as above).
#[test]
fn reference_g_imperial_has_no_break_even_under_its_own_scatter() {
    let car = changed("g-imperial.toml", &[]);
    for pair in &scatter(&car).pairs {
        assert_eq!(
            pair.break_even,
            BreakEven::Never(Winner::Heavier),
            "{pair:?}"
        );
        assert!(pair.mean_difference_interval_s.low > 0.0);
    }
}

/// A release that may be practised is never slower on average than the sheet's own, which lies in
/// the range: beyond the 2 ms that coarse tables may mistake.
#[test]
fn law_a_release_practised_is_no_slower() {
    let range = [(
        "launch_sd = \"230 rpm\"",
        "launch_sd = \"230 rpm\"\nrelease_range = [\"0.15 s\", \"0.60 s\"]",
    )];
    let (own, practised) = (
        changed("g-imperial.toml", &[]),
        changed("g-imperial.toml", &range),
    );
    // 32 points are enough for a test: they are the same on both sides.
    let (own, practised) = (scatter_with(&own, 512), scatter_with(&practised, 512));
    for (own, practised) in own.wheels.iter().zip(&practised.wheels) {
        let within = 0.15..=0.60;
        assert!(within.contains(&practised.rig.release_time_s()));
        assert!(
            practised.aim.mean_s < own.aim.mean_s + 0.002,
            "{:?}",
            practised.aim
        );
    }
}
