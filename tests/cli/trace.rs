//! `launch --trace`: a logged run laid over the model's.

use crate::workshop::Workshop;
use serde_json::Value;
use std::fmt::Write as _;

/// A log on a clock of its own: the engine held at 3300 rpm until 7 s, then pulled down to 2500 and
/// up again; wheels of 0.29 m that turn with the square of time at first. A gap in the car's speed.
fn log() -> String {
    let mut text = String::from("time_s,engine_rpm,wheel_rpm,speed_kmh\n");
    for row in 0..400 {
        let time_s = 5.0 + 0.01 * f64::from(row);
        let since_s = (time_s - 7.0_f64).max(0.0);
        let engine = if since_s < 0.4 {
            3300.0 - 2000.0 * since_s
        } else {
            2500.0 + 800.0 * (since_s - 0.4)
        };
        let car_kmh = 3.6 * (12.0 * since_s * since_s).min(6.0 * since_s);
        let wheel = 1.1 * car_kmh / 3.6 / 0.29 * 60.0 / std::f64::consts::TAU;
        let speed = if (100..110).contains(&row) {
            String::new()
        } else {
            format!("{car_kmh:.3}")
        };
        let _ = writeln!(text, "{time_s:.2},{engine:.1},{wheel:.2},{speed}");
    }
    text
}

#[test]
fn cli_a_log_is_laid_over_the_models_run() {
    let shop = Workshop::new();
    shop.write("log.csv", log());
    let out = shop.run("launch car.toml --to 60 --trace log.csv").done();
    for word in [
        "from 3300 rpm",
        "The log laid over the model",
        "Launch speed 3300 rpm",
        "First bite at",
    ] {
        assert!(out.contains(word), "no {word:?} in {out}");
    }
    let out = shop
        .run("launch car.toml --to 60 --trace log.csv --json")
        .done();
    let document: Value = serde_json::from_str(&out).expect("JSON");
    let log = &document["log"];
    let near = |value: &Value, want: f64, by: f64| {
        let got = value.as_f64().expect("a number");
        assert!((got - want).abs() < by, "{got}, not {want}");
    };
    // The rule is good to some hundredths of a second where the model rises otherwise.
    near(&log["first_bite_s"], 7.0, 0.1);
    near(&log["found"]["launch_rpm"], 3300.0, 1.0);
    near(&log["found"]["minimum_rpm"], 2500.0, 25.0);
    assert_eq!(log["how"]["first_bite"]["rule"], "rise_of_driven_side");
    assert_eq!(log["how"]["first_bite"]["channel"], "driven_wheels");
}

#[test]
fn cli_a_log_that_tells_nothing_is_refused() {
    let shop = Workshop::new();
    for (text, words) in [
        (
            "time_s,engine_rpm\n0,3000\n0.1,3000\n0.2,2900\n0.3,2800\n0.4,2900\n",
            "launch speed",
        ),
        (
            "time_s,engine_rpm,speed\n0,3000,0\n",
            "does not say its unit",
        ),
        (
            "time_s,engine_rpm\n0,3000\n0,3000\n",
            "not later than the row before",
        ),
        ("engine_rpm\n3000\n", "time_s is missing"),
        ("time_s,wheel_rpm\n0,1\n", "fewer than 5 readings"),
    ] {
        shop.write("log.csv", text);
        shop.run("launch car.toml --trace log.csv")
            .refused(&[words]);
    }
}
