//! Whole launches against an implementation of the same model that shares no code with this one
//! (SciPy's DOP853, rtol 1e-10; see `tests/reference/README.md`).

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::car::track::Mark;
use flyheft::launch::{Attempt, Launch, Outcome, Rig, run};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Agreement asked of sixty-foot time, s. Ours is good to some 1e-7 s (docs/numerics.md); a
/// launch that just recovers grip magnifies that, so the acceptance limit is 2e-4.
const SIXTY_FOOT_S: f64 = 5e-6;
/// Agreement asked of the lowest engine speed, rpm.
const SPEED_RPM: f64 = 0.05;
/// Agreement asked of when a minimum is reached, s: a flat minimum is known in time to the square
/// root of what its value is known to.
const FLAT_S: f64 = 1e-3;
/// Agreement asked of plate temperatures, K: a launch's heat to 1e-5 of some 50 kJ, in 4 kg.
const PLATE_K: f64 = 2.5e-4;
/// Agreement asked of heat and energies, relative to the largest energy of the launch.
const ENERGY: f64 = 1e-5;
/// Agreement asked of speed at a mark, m/s: an acceleration of 10 m/s² over the time's own.
const MARK_SPEED_M_S: f64 = 2e-4;
/// Agreement asked of inertia, relative: sums of a few products.
const INERTIA: f64 = 1e-12;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference")
}

fn launches(file: &str) -> Vec<Value> {
    let text = std::fs::read_to_string(folder().join(file)).expect("reference launches");
    let document: Value = serde_json::from_str(&text).expect("reference launches are JSON");
    document["launches"].as_array().expect("a list").clone()
}

fn number(expected: &Value, key: &str) -> Option<f64> {
    expected[key].as_f64()
}

struct Compared<'e> {
    label: String,
    expected: &'e Value,
    faults: Vec<String>,
}

impl Compared<'_> {
    fn near(&mut self, key: &str, got: Option<f64>, tolerance: f64) {
        let want = number(self.expected, key);
        let agrees = match (want, got) {
            (Some(want), Some(got)) => (want - got).abs() <= tolerance,
            (None, None) => true,
            _ => false,
        };
        if !agrees {
            self.faults
                .push(format!("{}: {key} is {got:?}, not {want:?}", self.label));
        }
    }

    /// The same, where the reference tells of it at all: some tell of more than others.
    fn near_if_told(&mut self, key: &str, got: Option<f64>, tolerance: f64) {
        if self.expected.get(key).is_some() {
            self.near(key, got, tolerance);
        }
    }

    fn same(&mut self, key: &str, got: bool) {
        if self.expected[key].as_bool() != Some(got) {
            self.faults.push(format!("{}: {key} is {got}", self.label));
        }
    }
}

#[expect(
    clippy::too_many_lines,
    reason = "one line a figure, in the order of the document"
)]
fn compare(expected: &Value, launch: &Launch) -> Vec<String> {
    let label = format!(
        "{}, {}, {} rpm",
        expected["case"], expected["wheel"], expected["launch_rpm"]
    );
    let mut c = Compared {
        label,
        expected,
        faults: Vec::new(),
    };
    let outcome = match launch.ending.outcome {
        Outcome::Finished => "finished",
        Outcome::Stalled => "stalled",
        Outcome::DidNotFinish => "did not finish",
    };
    if expected["outcome"] != outcome {
        c.faults.push(format!("{}: {outcome}", c.label));
    }
    let energy = launch.energy.largest_j() * ENERGY;
    if launch.energy.gap_j().abs() > 1e-6 * launch.energy.largest_j() {
        c.faults.push(format!(
            "{}: the account gapes by {} J",
            c.label,
            launch.energy.gap_j()
        ));
    }
    let reached = launch.sixty_foot_s().is_some();
    c.near("sixty_foot_s", launch.sixty_foot_s(), SIXTY_FOOT_S);
    c.near(
        "minimum_rpm",
        Some(launch.slowest_rad_s / RAD_S_PER_RPM),
        SPEED_RPM,
    );
    c.near_if_told(
        "droop_rpm",
        Some(launch.droop_rad_s() / RAD_S_PER_RPM),
        SPEED_RPM,
    );
    c.near_if_told("minimum_rpm_at_s", Some(launch.slowest_at_s), FLAT_S);
    c.near("lock_at_s", launch.lock_at_s, 1e-5);
    c.near("plate_rise_k", launch.plate_rise_k, PLATE_K);
    c.near_if_told(
        "clutch_heat_to_sixty_foot_j",
        Some(launch.clutch_heat_to_sixty_foot_j),
        energy,
    );
    c.near_if_told(
        "plate_rise_to_sixty_foot_k",
        launch.plate_rise_to_sixty_foot_k,
        PLATE_K,
    );
    c.near_if_told("lifts", Some(f64::from(launch.lifts)), 0.0);
    c.near_if_told("lifted_time_s", Some(launch.lifted_time_s), 1e-5);
    c.near("clutch_heat_j", Some(launch.clutch_heat_j), energy);
    c.near("spin_time_s", Some(launch.spin_time_s), 1e-4);
    c.near("spin_distance_m", Some(launch.spin_distance_m), 1e-3);
    c.near(
        "peak_acceleration_m_s2",
        Some(launch.peak_acceleration_m_s2),
        1e-3,
    );
    c.near(
        "peak_input_torque_nm",
        Some(launch.peak_input_torque_nm),
        1e-2,
    );
    c.near(
        "crank_side_inertia_kg_m2",
        Some(launch.crank_side_kg_m2),
        INERTIA,
    );
    c.same("front_wheels_lifted", launch.front_wheels_lifted);
    c.same("bogged", launch.bogged);
    c.same("touched_limiter", launch.touched_limiter);
    for (key, got) in [
        ("engine", launch.energy.engine_j),
        ("crank_side_given_up", launch.energy.crank_side_given_up_j),
        ("car", launch.energy.car_j),
        ("clutch", launch.energy.clutch_j),
        ("drag", launch.energy.drag_j),
        ("rolling", launch.energy.rolling_j),
        ("tyre", launch.energy.tyre_j),
        ("driveline_loss", launch.energy.driveline_loss_j),
        ("wheels_and_driveline", launch.energy.wheels_and_driveline_j),
    ] {
        let mut inner = Compared {
            label: c.label.clone(),
            expected: &expected["energy_j"],
            faults: Vec::new(),
        };
        inner.near(key, reached.then_some(got), energy);
        c.faults.append(&mut inner.faults);
    }
    for (mark, want) in Mark::ALL
        .iter()
        .zip(expected["marks"].as_array().expect("marks"))
    {
        let speed = want;
        let want = want["time_s"].as_f64();
        let got = launch.time_s(*mark);
        let agrees = match (want, got) {
            (Some(want), Some(got)) => (want - got).abs() <= 4.0 * SIXTY_FOOT_S,
            (None, None) => true,
            _ => false,
        };
        let want_speed = speed["speed_m_s"].as_f64();
        let speed = launch.marks.iter().find(|passed| passed.mark == *mark);
        let agrees = agrees
            && match (want_speed, speed) {
                (Some(want), Some(got)) => (want - got.speed_m_s).abs() <= MARK_SPEED_M_S,
                (None, None) => true,
                _ => false,
            };
        if !agrees {
            c.faults.push(format!(
                "{}: {} ft at {got:?}, not {want:?}",
                c.label,
                mark.feet()
            ));
        }
    }
    c.faults
}

fn check(file: &str) -> usize {
    let mut faults = Vec::new();
    let list = launches(file);
    for expected in &list {
        let name = expected["sheet"].as_str().expect("a sheet");
        let name = name.trim_start_matches("cars/");
        let sheet = folder().join("cars").join(name);
        let reading = flyheft::sheet::read(&sheet).unwrap_or_else(|refusal| {
            panic!("{}", refusal.render(false));
        });
        let wheel = expected["wheel"].as_str().expect("a wheel");
        let car = &reading.car;
        let rig = Rig::new(car, car.flywheels.named(wheel).expect("the wheel"));
        let speed = number(expected, "launch_rpm").expect("a speed") * RAD_S_PER_RPM;
        let launch = run(&rig, &Attempt::from_speed(speed), Mark::Ft1320).expect("a launch");
        faults.extend(compare(expected, &launch));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    list.len()
}

/// Twenty-six launches of three cars, one of them with a driver who lifts, by an independent implementation made elsewhere.
#[test]
fn reference_launches_made_elsewhere() {
    assert_eq!(check("cars/expected.json"), 26);
}

/// Launches of ten invented cars by the scripts beside them: a driver who lifts, front drive, live axle, release
/// and throttle tables, fade, limiter, flat shifts, stalls, power columns, imperial sheets.
#[test]
fn reference_launches_of_ten_cars() {
    assert!(check("launches.json") >= 60);
}
