//! Sweeps, quickest launches, windows and means under scatter against SciPy's (see
//! `tests/reference/README.md`).

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::launch::{ACCURACY, Attempt, Rig, sixty_foot};
use flyheft::study::Unwatched;
use flyheft::study::compare::study_wheels;
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
