//! Random but sensible cars and attempts, all invented.

use super::{
    coupe, curve, flywheels, live_open, non_negative, part, plate, positive, ratios, release, rpm,
    shape, staging, throttle,
};
use flyheft::car::Car;
use flyheft::car::body::{Axle, Drive};
use flyheft::car::checked::{AtLeastOne, Efficiency, InnerShare};
use flyheft::car::clutch::{Capacity, Heating};
use flyheft::car::driveline::ShiftStyle;
use flyheft::car::schedule::Schedule;
use flyheft::launch::Attempt;
use proptest::prelude::*;
use proptest::strategy::ValueTree;

/// A car and an attempt that suits it.
#[derive(Debug, Clone)]
pub struct Case {
    pub car: Car,
    pub attempt: Attempt,
}

/// Any sensible car: every kind of drive, release and throttle, with and without fade.
pub fn any_case() -> impl Strategy<Value = Case> {
    (
        engines(),
        clutches(),
        drivelines(),
        bodies(),
        tyres(),
        feet(),
        attempts(),
    )
        .prop_map(|(engine, clutch, driveline, body, tyre, feet, attempt)| {
            let mut car = coupe();
            engine.fit(&mut car);
            clutch.fit(&mut car, engine.peak_nm);
            driveline.fit(&mut car, &engine);
            body.fit(&mut car);
            tyre.fit(&mut car);
            feet.fit(&mut car);
            Case {
                attempt: attempt.of(&engine),
                car,
            }
        })
}

#[derive(Debug, Clone)]
struct EngineDraw {
    peak_nm: f64,
    first_rpm: f64,
    limiter_rpm: f64,
    stall_rpm: f64,
    shares: Vec<f64>,
    crank_kg_m2: f64,
    wheels_kg_m2: [f64; 2],
}

fn engines() -> impl Strategy<Value = EngineDraw> {
    (
        90.0..800.0,
        800.0..1400.0,
        4800.0..9500.0,
        300.0..700.0,
        prop::collection::vec(0.5..1.0, 6),
        0.03..0.16,
        (0.03..0.2, 1.1..3.0),
    )
        .prop_map(
            |(peak_nm, first_rpm, limiter_rpm, stall_rpm, shares, crank_kg_m2, (light, ratio))| {
                EngineDraw {
                    peak_nm,
                    first_rpm,
                    limiter_rpm,
                    stall_rpm,
                    shares,
                    crank_kg_m2,
                    wheels_kg_m2: [light, light * ratio],
                }
            },
        )
}

impl EngineDraw {
    fn fit(&self, car: &mut Car) {
        let last = f64::from(u32::try_from(self.shares.len()).unwrap_or(1)) - 1.0;
        let points: Vec<(f64, f64)> = (0u32..)
            .zip(&self.shares)
            .map(|(index, share)| {
                let way = f64::from(index) / last;
                let n = self.first_rpm + way * (self.limiter_rpm - self.first_rpm);
                (n, share * self.peak_nm)
            })
            .collect();
        car.engine.curve = curve(&points);
        car.engine.limiter_rad_s = positive(rpm(self.limiter_rpm));
        car.engine.stall_rad_s = positive(rpm(self.stall_rpm));
        car.engine.motoring_nm = non_negative(0.12 * self.peak_nm);
        car.crank_side = vec![part("crankshaft and cover", self.crank_kg_m2)];
        car.flywheels = flywheels(&self.wheels_kg_m2);
    }
}

#[derive(Debug, Clone)]
struct ClutchDraw {
    over_peak: f64,
    static_ratio: f64,
    disc_kg_m2: f64,
    heat: HeatDraw,
}

#[derive(Debug, Clone, Copy)]
enum HeatDraw {
    Unknown,
    Steady,
    Fading { plate_kg: f64, per_100_k: f64 },
}

fn clutches() -> impl Strategy<Value = ClutchDraw> {
    let heat = prop_oneof![
        Just(HeatDraw::Unknown),
        Just(HeatDraw::Steady),
        (2.0..8.0, 0.02..0.4).prop_map(|(plate_kg, per_100_k)| HeatDraw::Fading {
            plate_kg,
            per_100_k
        }),
    ];
    (1.05..2.2, 1.0..1.3, 0.004..0.02, heat).prop_map(
        |(over_peak, static_ratio, disc_kg_m2, heat)| ClutchDraw {
            over_peak,
            static_ratio,
            disc_kg_m2,
            heat,
        },
    )
}

impl ClutchDraw {
    fn fit(&self, car: &mut Car, peak_nm: f64) {
        car.clutch.capacity = Capacity::Given(positive(self.over_peak * peak_nm));
        car.clutch.static_ratio =
            AtLeastOne::new(self.static_ratio).unwrap_or(car.clutch.static_ratio);
        car.clutch.disc_inertia_kg_m2 = positive(self.disc_kg_m2);
        car.clutch.heating = match self.heat {
            HeatDraw::Unknown => Heating::Unknown,
            HeatDraw::Steady => Heating::Steady(plate(5.0)),
            HeatDraw::Fading {
                plate_kg,
                per_100_k,
            } => Heating::Fading(plate(plate_kg), positive(per_100_k)),
        };
    }
}

#[derive(Debug, Clone)]
struct DrivelineDraw {
    first: f64,
    spread: f64,
    gears: u32,
    final_drive: f64,
    efficiency: f64,
    shift_share: f64,
    times_s: (f64, f64, f64),
    style: ShiftStyle,
}

fn drivelines() -> impl Strategy<Value = DrivelineDraw> {
    (
        2.2..3.8,
        0.6..0.8,
        1u32..6,
        2.7..4.9,
        0.85..=1.0,
        0.6..0.97,
        (0.05..0.4, 0.02..0.2, 0.01..0.2),
        prop_oneof![Just(ShiftStyle::Lift), Just(ShiftStyle::Flat)],
    )
        .prop_map(
            |(first, spread, gears, final_drive, efficiency, shift_share, times_s, style)| {
                DrivelineDraw {
                    first,
                    spread,
                    gears,
                    final_drive,
                    efficiency,
                    shift_share,
                    times_s,
                    style,
                }
            },
        )
}

impl DrivelineDraw {
    fn fit(&self, car: &mut Car, engine: &EngineDraw) {
        let gears: Vec<f64> = (0..self.gears)
            .map(|gear| self.first * self.spread.powf(f64::from(gear)))
            .collect();
        let line = &mut car.driveline;
        line.ratios = ratios(&gears);
        line.final_drive = positive(self.final_drive);
        line.efficiency = Efficiency::new(self.efficiency).unwrap_or(line.efficiency);
        line.shift.at_rad_s = positive(rpm(self.shift_share * engine.limiter_rpm));
        let (open_s, engage_s, throttle_s) = self.times_s;
        line.shift.open_s = positive(open_s);
        line.shift.engage_s = positive(engage_s);
        line.shift.throttle_s = positive(throttle_s);
        line.shift.style = self.style;
    }
}

#[derive(Debug, Clone)]
struct BodyDraw {
    mass_kg: f64,
    drive: Drive,
    wheelbase_m: f64,
    cg_height_m: f64,
    front_share: f64,
    drag_area_m2: f64,
    rolling: f64,
    wheels_kg_m2: (f64, f64),
    pitch_time_s: f64,
}

fn bodies() -> impl Strategy<Value = BodyDraw> {
    let drive = prop_oneof![
        Just(Drive::Front),
        Just(Drive::Rear(Axle::Even)),
        (1.2..1.7, 0.4..0.9).prop_map(|(track, front)| live_open(track, front)),
    ];
    (
        600.0..1900.0,
        drive,
        2.2..2.9,
        0.3..0.65,
        0.4..0.65,
        0.4..1.0,
        0.008..0.025,
        (1.0..6.0, 0.0..4.0),
        0.05..0.3,
    )
        .prop_map(
            |(
                mass_kg,
                drive,
                wheelbase_m,
                cg_height_m,
                front_share,
                drag_area_m2,
                rolling,
                wheels_kg_m2,
                pitch_time_s,
            )| BodyDraw {
                mass_kg,
                drive,
                wheelbase_m,
                cg_height_m,
                front_share,
                drag_area_m2,
                rolling,
                wheels_kg_m2,
                pitch_time_s,
            },
        )
}

impl BodyDraw {
    fn fit(&self, car: &mut Car) {
        let body = &mut car.body;
        body.mass_kg = positive(self.mass_kg);
        body.drive = self.drive;
        body.wheelbase_m = positive(self.wheelbase_m);
        body.cg_height_m = positive(self.cg_height_m);
        body.front_share = InnerShare::new(self.front_share).unwrap_or(body.front_share);
        body.drag_area_m2 = non_negative(self.drag_area_m2);
        body.rolling = non_negative(self.rolling);
        body.driven_wheels_kg_m2 = positive(self.wheels_kg_m2.0);
        body.undriven_wheels_kg_m2 = non_negative(self.wheels_kg_m2.1);
        body.pitch_time_s = positive(self.pitch_time_s);
    }
}

#[derive(Debug, Clone)]
struct TyreDraw {
    radius_m: f64,
    grip: f64,
    peak_slip: f64,
    sliding_share: f64,
    relaxation_m: f64,
    damping_time_s: f64,
    load_sensitivity: f64,
    rollout_m: f64,
    depth_m: f64,
}

fn tyres() -> impl Strategy<Value = TyreDraw> {
    (
        0.27..0.38,
        0.7..2.6,
        0.06..0.25,
        0.6..0.95,
        0.1..0.5,
        0.0..0.008,
        0.0..0.2,
        0.25..0.35,
        0.0..0.15,
    )
        .prop_map(
            |(
                radius_m,
                grip,
                peak_slip,
                sliding_share,
                relaxation_m,
                damping_time_s,
                load_sensitivity,
                rollout_m,
                depth_m,
            )| TyreDraw {
                radius_m,
                grip,
                peak_slip,
                sliding_share,
                relaxation_m,
                damping_time_s,
                load_sensitivity,
                rollout_m,
                depth_m,
            },
        )
}

impl TyreDraw {
    fn fit(&self, car: &mut Car) {
        let tyre = &mut car.tyre;
        tyre.radius_m = positive(self.radius_m);
        tyre.grip = positive(self.grip);
        tyre.shape = shape(self.peak_slip, self.sliding_share);
        tyre.relaxation_m = positive(self.relaxation_m);
        tyre.damping_time_s = non_negative(self.damping_time_s);
        tyre.load_sensitivity = non_negative(self.load_sensitivity);
        car.track.staging = staging(self.rollout_m, self.depth_m);
    }
}

#[derive(Debug, Clone)]
struct FeetDraw {
    release: Vec<(f64, f64)>,
    throttle: Vec<(f64, f64)>,
}

/// A ramp, or a table whose times rise and whose shares may fall in between.
fn tables(longest_s: f64) -> impl Strategy<Value = Vec<(f64, f64)>> {
    let ramp = (0.02..longest_s).prop_map(|whole_s| vec![(0.0, 0.0), (whole_s, 1.0)]);
    let table = prop::collection::vec((0.02..longest_s / 2.0, 0.2..=1.0f64), 2..5).prop_map(
        |spans_and_shares| {
            let mut time_s = 0.0;
            let mut points = vec![(0.0, 0.0)];
            for (span_s, share) in spans_and_shares {
                time_s += span_s;
                points.push((time_s, share));
            }
            points
        },
    );
    prop_oneof![ramp, table]
}

fn feet() -> impl Strategy<Value = FeetDraw> {
    (tables(0.8), tables(0.5)).prop_map(|(release, throttle)| FeetDraw { release, throttle })
}

impl FeetDraw {
    fn fit(&self, car: &mut Car) {
        car.clutch.release = release(&self.release);
        car.driver.throttle = match self.throttle.as_slice() {
            [_, (whole_s, _)] => Schedule::ramp(positive(*whole_s)),
            points => throttle(points),
        };
    }
}

#[derive(Debug, Clone)]
struct AttemptDraw {
    way_up: f64,
    release_stretch: f64,
    grip_factor: f64,
}

fn attempts() -> impl Strategy<Value = AttemptDraw> {
    (0.0..=1.0, 0.7..1.4, 0.9..1.1).prop_map(|(way_up, release_stretch, grip_factor)| AttemptDraw {
        way_up,
        release_stretch,
        grip_factor,
    })
}

impl AttemptDraw {
    fn of(&self, engine: &EngineDraw) -> Attempt {
        let lowest_rpm = f64::max(1500.0, 2.0 * engine.stall_rpm);
        let launch_rpm = lowest_rpm + self.way_up * (engine.limiter_rpm - lowest_rpm);
        Attempt {
            launch_speed_rad_s: rpm(launch_rpm),
            release_stretch: self.release_stretch,
            grip_factor: self.grip_factor,
        }
    }
}

/// So many cases, or as many as a long run asks for (`FLYHEFT_RANDOM_CASES=5000`).
pub fn as_many_as_asked(usual: usize) -> usize {
    let asked = std::env::var("FLYHEFT_RANDOM_CASES").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// The same so many cases every time.
pub fn cases(count: usize) -> Vec<Case> {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = any_case();
    std::iter::repeat_with(|| strategy.new_tree(&mut runner))
        .filter_map(Result::ok)
        .map(|tree| tree.current())
        .take(count)
        .collect()
}
