//! Invented cars for tests and benchmarks, built through the public car types.
#![allow(
    dead_code,
    unreachable_pub,
    reason = "each test file uses its own part of this"
)]
#![expect(
    clippy::unwrap_used,
    reason = "numbers written here keep the rules of their types"
)]

pub mod ideal;
pub mod random;
pub mod watch;

use flyheft::car::body::{Axle, Body, Drive};
use flyheft::car::checked::{AtLeastOne, Efficiency, InnerShare, NonNegative, Positive, Share};
use flyheft::car::clutch::{Capacity, Clutch, Heating, Plate};
use flyheft::car::constants::{RAD_S_PER_RPM, ZERO_CELSIUS_K};
use flyheft::car::driveline::{Driveline, Ratios, Shift, ShiftStyle};
use flyheft::car::driver::{Driver, Hold, SpeedRange, Unsteadiness};
use flyheft::car::engine::{Engine, TorqueCurve};
use flyheft::car::inertia::{Description, Part};
use flyheft::car::machining::Machining;
use flyheft::car::schedule::Schedule;
use flyheft::car::track::{Staging, Track};
use flyheft::car::tyre::{FrictionShape, Tyre};
use flyheft::car::weather::{StatedFor, Weather};
use flyheft::car::{Car, Flywheel, Flywheels};
use flyheft::launch::Rig;

/// A car with one of its flywheels.
pub fn rig(car: &Car, wheel: usize) -> Rig<'_> {
    Rig::new(car, car.flywheels.all().get(wheel).unwrap())
}

pub fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

pub fn non_negative(value: f64) -> NonNegative {
    NonNegative::new(value).unwrap()
}

pub fn share(value: f64) -> Share {
    Share::new(value).unwrap()
}

pub fn rpm(value: f64) -> f64 {
    value * RAD_S_PER_RPM
}

pub fn part(name: &str, inertia_kg_m2: f64) -> Part {
    Part {
        name: name.to_owned(),
        description: Description::Given(positive(inertia_kg_m2)),
    }
}

/// Flywheels of these inertias, the first of them fitted.
pub fn flywheels(inertias_kg_m2: &[f64]) -> Flywheels {
    let candidates = inertias_kg_m2
        .iter()
        .enumerate()
        .map(|(index, &inertia_kg_m2)| {
            let wheel = Flywheel {
                part: part(&format!("wheel {index}"), inertia_kg_m2),
                material: None,
                machining: Machining::default(),
                swing_check: None,
                cut_from: None,
            };
            (wheel, index == 0)
        })
        .collect();
    Flywheels::new(candidates).unwrap()
}

/// A torque curve from (rpm, N·m).
pub fn curve(points_rpm_nm: &[(f64, f64)]) -> TorqueCurve {
    TorqueCurve::new(points_rpm_nm.iter().map(|&(n, t)| (rpm(n), t)).collect()).unwrap()
}

/// A table of (s, share).
pub fn table(points: &[(f64, f64)]) -> Vec<(NonNegative, Share)> {
    points
        .iter()
        .map(|&(t, s)| (non_negative(t), share(s)))
        .collect()
}

pub fn release(points: &[(f64, f64)]) -> Schedule {
    Schedule::release(&table(points)).unwrap()
}

pub fn throttle(points: &[(f64, f64)]) -> Schedule {
    Schedule::throttle(&table(points)).unwrap()
}

pub fn ratios(list: &[f64]) -> Ratios {
    Ratios::new(list.iter().map(|&ratio| positive(ratio)).collect()).unwrap()
}

pub fn shape(peak_slip: f64, sliding_share: f64) -> FrictionShape {
    FrictionShape::new(positive(peak_slip), positive(sliding_share)).unwrap()
}

pub fn staging(rollout_m: f64, depth_m: f64) -> Staging {
    Staging::new(positive(rollout_m), non_negative(depth_m)).unwrap()
}

pub fn fair_weather() -> Weather {
    Weather::new(
        positive(100_000.0),
        positive(18.0 + ZERO_CELSIUS_K),
        share(0.5),
    )
    .unwrap()
}

/// An invented rear-drive coupé, 2.7-litre straight six, independent rear suspension; three
/// flywheels. From low speeds it hooks up, from high speeds it spins its tyres.
pub fn coupe() -> Car {
    Car {
        title: "Coupé (invented)".into(),
        meetings: Vec::new(),
        season: flyheft::car::season::Season::default(),
        engine: engine(),
        crank_side: vec![part("crankshaft and cover", 0.128)],
        flywheels: flywheels(&[0.19, 0.13, 0.08]),
        clutch: Clutch {
            capacity: Capacity::Given(positive(390.0)),
            disc_inertia_kg_m2: positive(0.008),
            release: Schedule::ramp(positive(0.3)),
            static_ratio: AtLeastOne::new(1.1).unwrap(),
            heating: Heating::Fading(plate(5.2), positive(0.04)),
        },
        driveline: driveline(),
        body: body(),
        tyre: Tyre {
            radius_m: positive(0.305),
            grip: positive(1.1),
            shape: shape(0.12, 0.8),
            relaxation_m: positive(0.25),
            damping_time_s: non_negative(0.004),
            load_sensitivity: non_negative(0.1),
        },
        driver: Driver {
            hold: Hold::Foot,
            throttle: Schedule::ramp(positive(0.15)),
            lift: None,
            launch_range: SpeedRange::new(rpm(1500.0), rpm(6800.0)).unwrap(),
            release_range: None,
            unsteadiness: Unsteadiness {
                launch_sd_rad_s: non_negative(rpm(200.0)),
                hold_exponent: non_negative(1.0),
                release_sd: non_negative(0.15),
            },
            practice: None,
        },
        track: Track {
            weather: fair_weather(),
            grip: positive(1.0),
            grip_sd: non_negative(0.03),
            staging: staging(0.3, 0.0),
            tolerance_s: positive(0.02),
            stall_cost_s: positive(5.0),
        },
    }
}

pub fn plate(mass_kg: f64) -> Plate {
    Plate {
        mass_kg: positive(mass_kg),
        specific_heat_j_kg_k: positive(490.0),
    }
}

fn engine() -> Engine {
    Engine {
        curve: curve(&[
            (1000.0, 150.0),
            (2000.0, 195.0),
            (3000.0, 228.0),
            (4000.0, 246.0),
            (5000.0, 250.0),
            (6000.0, 236.0),
            (7000.0, 205.0),
        ]),
        stated_for: StatedFor::AsMeasured(fair_weather()),
        limiter_rad_s: positive(rpm(6900.0)),
        stall_rad_s: positive(rpm(500.0)),
        motoring_nm: non_negative(30.0),
    }
}

fn driveline() -> Driveline {
    Driveline {
        ratios: ratios(&[3.3, 2.05, 1.4, 1.0]),
        final_drive: positive(3.7),
        efficiency: Efficiency::new(0.94).unwrap(),
        input_inertia_kg_m2: non_negative(0.002),
        propshaft_inertia_kg_m2: non_negative(0.004),
        shift: Shift {
            at_rad_s: positive(rpm(6600.0)),
            open_s: positive(0.25),
            engage_s: positive(0.08),
            throttle_s: positive(0.05),
            style: ShiftStyle::Lift,
        },
    }
}

fn body() -> Body {
    Body {
        mass_kg: positive(1180.0),
        drive: Drive::Rear(Axle::Even),
        wheelbase_m: positive(2.45),
        cg_height_m: positive(0.5),
        front_share: InnerShare::new(0.52).unwrap(),
        drag_area_m2: non_negative(0.66),
        rolling: non_negative(0.015),
        driven_wheels_kg_m2: positive(2.1),
        undriven_wheels_kg_m2: non_negative(1.9),
        pitch_time_s: positive(0.13),
    }
}

pub fn live_open(track_width_m: f64, front_roll_share: f64) -> Drive {
    Drive::Rear(Axle::LiveOpen {
        track_width_m: positive(track_width_m),
        front_roll_share: share(front_roll_share),
    })
}
