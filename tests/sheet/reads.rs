//! Whole sheets that read without error, with the right numbers.

use crate::{accepted, edited, read};
use approx::assert_relative_eq;
use flyheft::car::body::{Axle, Drive};
use flyheft::car::clutch::Heating;
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::sheet::{self, Reading};
use flyheft::units::System;
use std::path::Path;

fn reference(name: &str) -> Reading {
    let path = Path::new("tests/reference/cars").join(name);
    sheet::read(&path).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

/// Figures of an independent implementation, to twelve decimals.
#[test]
fn reference_crank_side_inertia_of_the_live_axle_car() {
    let car = reference("d-live.toml").car;
    let wheel = car.flywheels.fitted().unwrap();
    assert_relative_eq!(
        car.crank_side_inertia_kg_m2(wheel),
        0.376_633_6,
        epsilon = 1e-12
    );
}

/// The same; the wheel is built up in inches and pounds, and weighed.
#[test]
fn reference_crank_side_inertia_of_the_imperial_car() {
    let car = reference("g-imperial.toml").car;
    let wheel = car.flywheels.fitted().unwrap();
    assert_relative_eq!(
        car.crank_side_inertia_kg_m2(wheel),
        0.200_825_841_368_962_8,
        epsilon = 1e-12
    );
}

/// The sheet's own figures in SI, by the exact factors. Tolerance: round-off.
#[test]
fn reference_the_imperial_car_in_si() {
    let reading = reference("g-imperial.toml");
    let car = &reading.car;
    let close = |got: f64, want: f64| assert_relative_eq!(got, want, max_relative = 1e-12);
    close(car.body.mass_kg.get(), 1_115.837_230_2);
    close(car.body.wheelbase_m.get(), 2.4511);
    close(car.body.drag_area_m2.get(), 0.687_482_496);
    close(car.tyre.radius_m.get(), 0.307_34);
    close(car.driveline.shift.open_s.get(), 0.26);
    close(car.engine.limiter_rad_s.get(), 6800.0 * RAD_S_PER_RPM);
    close(car.engine.curve.peak_nm(), 214.0 * 1.355_817_948_331_400_4);
    close(car.track.weather.pressure_pa(), 29.1 * 3386.389);
    close(car.track.staging.clock_start_m(), 0.2413);
    close(
        car.clutch.capacity.capacity_nm(),
        0.32 * 1720.0 * 4.448_221_615_260_5 * 2.0 * 0.105_41,
    );
    assert_eq!(car.body.drive, Drive::Rear(Axle::Even));
    assert!(matches!(car.clutch.heating, Heating::Steady(_)));
    let billet = car.flywheels.fitted().unwrap();
    assert_eq!(billet.name(), "billet");
    close(billet.part.mass_kg().unwrap(), 20.4 * 0.453_592_37);
    assert_eq!(car.flywheels.all().len(), 3);
}

#[test]
fn reference_the_live_axle_is_told_from_the_rest() {
    let car = reference("d-live.toml").car;
    let Drive::Rear(Axle::LiveOpen {
        track_width_m,
        front_roll_share,
    }) = car.body.drive
    else {
        panic!("a live axle with an open differential")
    };
    assert_relative_eq!(track_width_m.get(), 1.34);
    assert_relative_eq!(front_roll_share.get(), 0.66);
    assert_relative_eq!(car.track.weather.temperature_k(), 285.15);
}

fn default_of(reading: &Reading, key: &str) -> Option<String> {
    let used = reading.defaults.iter().find(|used| used.key == key)?;
    assert!(!used.reason.is_empty());
    Some(used.shown(System::Metric))
}

/// The model's defaults, each told where it was used.
#[test]
fn law_every_default_used_is_told() {
    let text = edited(&[
        ("stall = \"500 rpm\" ", ""),
        ("motoring_torque = \"29 N·m\" ", ""),
        ("sliding_share = 0.80 ", ""),
        ("launch_range = [\"1800 rpm\", \"6800 rpm\"]\n", ""),
        ("launch_sd = \"220 rpm\" ", ""),
        ("axle = \"independent\" ", ""),
        ("[track]\npressure = \"100.6 kPa\" ", ""),
        ("temperature = \"21 °C\"\nhumidity = 0.50\n", ""),
    ]);
    let reading = read(&text).unwrap_or_else(|refusal| panic!("{refusal}"));
    for (key, shown) in [
        ("engine.stall", "500 rpm"),
        ("engine.motoring_torque", "29.16 N·m"),
        ("clutch.static_ratio", "1.1"),
        ("clutch.fade", "0"),
        ("clutch.plate_specific_heat", "490 J/(kg·K)"),
        ("gearbox.efficiency", "0.94"),
        ("gearbox.shift_time", "0.25 s"),
        ("gearbox.shift_engage", "0.08 s"),
        ("gearbox.shift_throttle", "0.05 s"),
        ("gearbox.flat_shift", "false"),
        ("car.rolling", "0.015"),
        ("car.pitch_time", "0.12 s"),
        ("car.axle", "independent"),
        ("tyre.peak_slip", "0.12"),
        ("tyre.sliding_share", "0.8"),
        ("tyre.relaxation", "250 mm"),
        ("tyre.damping_time", "0.004 s"),
        ("tyre.load_sensitivity", "0.1"),
        ("driver.throttle_time", "0.15 s"),
        ("driver.lift", "never lifts"),
        ("driver.launch_range", "1500 rpm to 7200 rpm"),
        ("driver.launch_sd", "200 rpm"),
        ("driver.hold_exponent", "1"),
        ("driver.release_sd", "0.15"),
        ("track.pressure", "101.325 kPa"),
        ("track.temperature", "15 °C"),
        ("track.humidity", "0"),
        ("track.grip", "1"),
        ("track.grip_sd", "0.03"),
        ("track.rollout", "0.3 m"),
        ("track.stage_depth", "0 m"),
        ("track.tolerance", "0.02 s"),
        ("track.stall_cost", "5 s"),
    ] {
        assert_eq!(default_of(&reading, key).as_deref(), Some(shown), "{key}");
    }
}

/// A driver who lifts: what is not said of it is common practice, and told.
#[test]
fn law_a_lift_takes_its_defaults_one_by_one() {
    let reading = accepted(&[("hold = \"foot\"", "hold = \"foot\"\nlift = { to = 0.4 }")]);
    for (key, shown) in [
        ("driver.lift", None),
        ("driver.lift.to", None),
        ("driver.lift.at", Some("10.8 km/h")),
        ("driver.lift.reaction", Some("0.25 s")),
        ("driver.lift.over", Some("0.1 s")),
    ] {
        assert_eq!(default_of(&reading, key).as_deref(), shown, "{key}");
    }
    let lift = reading.car.driver.lift.unwrap();
    assert!((lift.to() - 0.4).abs() < f64::EPSILON);
    assert!((lift.down_again_m_s() - 1.5).abs() < f64::EPSILON);
}

#[test]
fn law_a_limiter_hold_changes_its_defaults() {
    let reading = accepted(&[("hold = \"foot\"", "hold = \"limiter\"")]);
    assert_eq!(
        default_of(&reading, "driver.throttle_time").as_deref(),
        Some("0.02 s")
    );
    assert_eq!(
        default_of(&reading, "driver.hold_exponent").as_deref(),
        Some("1"),
        "the ripple of a limiter goes as 1/J, as a foot's does"
    );
}

/// The sweep puts back J·α: 0.15 kg·m² at 300 rpm/s is 4.712388980 N·m (arithmetic).
#[test]
fn reference_a_swept_curve_gets_its_torque_back() {
    let plain = accepted(&[]).car.engine.curve.peak_nm();
    let swept = accepted(&[(
        "limiter = \"7200 rpm\"",
        "limiter = \"7200 rpm\"\nsweep = { rate = \"300 rpm/s\", inertia = \"0.15 kg·m²\" }",
    )]);
    assert_relative_eq!(
        swept.car.engine.curve.peak_nm() - plain,
        4.712_388_98,
        max_relative = 1e-9
    );
}

/// ISO 2533 at 1,000 m: 89,874.57 Pa.
#[test]
fn reference_altitude_stands_for_pressure() {
    let reading = accepted(&[("pressure = \"100.6 kPa\"", "altitude = \"1000 m\"")]);
    assert_relative_eq!(
        reading.car.track.weather.pressure_pa(),
        89_874.57,
        max_relative = 1e-6
    );
    assert_eq!(default_of(&reading, "track.pressure"), None);
}

/// Files written for an earlier version must load for ever: this one only grows.
#[test]
fn regression_a_sheet_of_the_first_version_still_reads() {
    let reading =
        read(include_str!("every_key.toml")).unwrap_or_else(|refusal| panic!("{refusal}"));
    assert_eq!(reading.defaults, vec![]);
    assert_eq!(reading.car.flywheels.all().len(), 3);
}
