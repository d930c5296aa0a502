//! Invented cars for unit tests.

use super::body::{Axle, Body, Drive};
use super::checked::{AtLeastOne, Efficiency, InnerShare, NonNegative, Positive, Share};
use super::clutch::{Capacity, Clutch, Heating, Plate};
use super::constants::{RAD_S_PER_RPM, ZERO_CELSIUS_K};
use super::driveline::{Driveline, Ratios, Shift, ShiftStyle};
use super::driver::{Driver, Hold, SpeedRange, Unsteadiness};
use super::engine::{Engine, TorqueCurve};
use super::inertia::{Description, Part};
use super::schedule::Schedule;
use super::track::{Staging, Track};
use super::tyre::{FrictionShape, Tyre};
use super::weather::{Standard, StatedFor, Weather};
use super::{Car, Flywheel, Flywheels};

pub(crate) fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

pub(crate) fn non_negative(value: f64) -> NonNegative {
    NonNegative::new(value).unwrap()
}

pub(crate) fn rpm(value: f64) -> f64 {
    value * RAD_S_PER_RPM
}

pub(crate) fn wheel(name: &str, inertia_kg_m2: f64) -> Flywheel {
    Flywheel {
        part: Part {
            name: name.to_owned(),
            description: Description::Given(positive(inertia_kg_m2)),
        },
        material: None,
        machining: super::machining::Machining::default(),
        swing_check: None,
        cut_from: None,
    }
}

/// An invented saloon with a 3.2-litre straight six, a live axle and an open differential.
// Over sixty lines: one car, its values in their order.
pub(crate) fn live_axle_saloon() -> Car {
    Car {
        title: "Live axle, open differential (invented)".into(),
        meetings: Vec::new(),
        season: super::season::Season::default(),
        engine: engine(),
        crank_side: vec![
            wheel("crankshaft", 0.083).part,
            Part {
                name: "cover".into(),
                description: Description::Gyration {
                    mass_kg: positive(7.4),
                    radius_m: positive(0.092),
                },
            },
        ],
        flywheels: Flywheels::new(vec![
            (wheel("works wheel", 0.231), true),
            (wheel("middle cut", 0.152), false),
            (wheel("deep cut", 0.098), false),
        ])
        .unwrap(),
        clutch: Clutch {
            capacity: Capacity::Given(positive(430.0)),
            disc_inertia_kg_m2: positive(0.0093),
            release: Schedule::ramp(positive(0.28)),
            static_ratio: AtLeastOne::new(1.1).unwrap(),
            heating: Heating::Steady(Plate {
                mass_kg: positive(6.1),
                specific_heat_j_kg_k: positive(490.0),
            }),
        },
        driveline: Driveline {
            ratios: Ratios::new([2.98, 1.87, 1.32, 1.00].map(positive).to_vec()).unwrap(),
            final_drive: positive(3.55),
            efficiency: Efficiency::new(0.93).unwrap(),
            input_inertia_kg_m2: non_negative(0.0018),
            propshaft_inertia_kg_m2: non_negative(0.0045),
            shift: Shift {
                at_rad_s: positive(rpm(5950.0)),
                open_s: positive(0.28),
                engage_s: positive(0.09),
                throttle_s: positive(0.05),
                style: ShiftStyle::Lift,
            },
        },
        body: body(),
        tyre: Tyre {
            radius_m: positive(0.312),
            grip: positive(1.16),
            shape: FrictionShape::new(positive(0.13), positive(0.82)).unwrap(),
            relaxation_m: positive(0.25),
            damping_time_s: non_negative(0.004),
            load_sensitivity: non_negative(0.09),
        },
        driver: Driver {
            hold: Hold::Foot,
            throttle: Schedule::ramp(positive(0.16)),
            lift: None,
            launch_range: SpeedRange::new(rpm(1500.0), rpm(5800.0)).unwrap(),
            release_range: None,
            unsteadiness: Unsteadiness {
                launch_sd_rad_s: non_negative(rpm(260.0)),
                hold_exponent: non_negative(1.0),
                release_sd: non_negative(0.15),
            },
            practice: None,
        },
        track: Track {
            weather: Weather::new(
                positive(99_973.980_6),
                positive(12.0 + ZERO_CELSIUS_K),
                Share::new(0.7).unwrap(),
            )
            .unwrap(),
            grip: positive(1.02),
            grip_sd: non_negative(0.03),
            staging: Staging::new(positive(0.30), non_negative(0.0)).unwrap(),
            tolerance_s: positive(0.02),
            stall_cost_s: positive(5.0),
        },
    }
}

fn engine() -> Engine {
    let points = [
        (900.0, 178.0),
        (1600.0, 232.0),
        (2400.0, 268.0),
        (3200.0, 284.0),
        (3900.0, 288.0),
        (4600.0, 279.0),
        (5300.0, 258.0),
        (5900.0, 229.0),
        (6300.0, 203.0),
    ];
    Engine {
        curve: TorqueCurve::new(points.iter().map(|&(n, t)| (rpm(n), t)).collect()).unwrap(),
        stated_for: StatedFor::Standard(Standard::SaeJ1349),
        limiter_rad_s: positive(rpm(6200.0)),
        stall_rad_s: positive(rpm(450.0)),
        motoring_nm: non_negative(38.0),
    }
}

fn body() -> Body {
    Body {
        mass_kg: positive(1235.0),
        drive: Drive::Rear(Axle::LiveOpen {
            track_width_m: positive(1.34),
            front_roll_share: Share::new(0.66).unwrap(),
        }),
        wheelbase_m: positive(2.49),
        cg_height_m: positive(0.55),
        front_share: InnerShare::new(0.535).unwrap(),
        drag_area_m2: non_negative(0.78),
        rolling: non_negative(0.017),
        driven_wheels_kg_m2: positive(2.3),
        undriven_wheels_kg_m2: non_negative(2.0),
        pitch_time_s: positive(0.16),
    }
}
