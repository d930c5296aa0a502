//! Closed-form limits of the launch itself: clutch engagement, constant force, constant power.
//!
//! A textbook car hangs rigidly on its wheels; ours hangs on tyres. So each figure is computed
//! with ever stiffer grip: what is left must halve each time grip is doubled, and the figure
//! carried on to infinite grip must be the textbook's.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod common;

use approx::assert_relative_eq;
use common::ideal::Ideal;
use common::{non_negative, rig, rpm};
use flyheft::car::Car;
use flyheft::car::checked::Efficiency;
use flyheft::car::constants::STANDARD_GRAVITY_M_S2;
use flyheft::car::track::Mark;
use flyheft::launch::{Attempt, Launch, run};

/// Grip of the softer of two cars; the other has twice that.
const GRIP: f64 = 200.0;

/// Figures carried on to a rigid car: `2 f(2 grip) − f(grip)`, having checked that the rest
/// halves with doubled grip. `spread` is how far the halving may be off, as a share.
fn rigid<const N: usize>(figures: impl Fn(f64) -> [f64; N], spread: f64) -> [f64; N] {
    let [soft, middle, stiff] = [GRIP / 2.0, GRIP, 2.0 * GRIP].map(figures);
    std::array::from_fn(|i| {
        let halving = (middle[i] - soft[i]) / (stiff[i] - middle[i]);
        assert!(
            (halving - 2.0).abs() < 2.0 * spread,
            "the rest does not halve: {soft:?}, {middle:?}, {stiff:?}"
        );
        2.0 * stiff[i] - middle[i]
    })
}

fn launch(car: &Car, launch_rpm: f64, to: Mark) -> Launch {
    run(&rig(car, 0), &Attempt::from_speed(rpm(launch_rpm)), to).unwrap()
}

/// Time since first bite and speed at a mark.
fn at_mark(launch: &Launch, mark: Mark) -> [f64; 2] {
    let passed = launch
        .marks
        .iter()
        .find(|passed| passed.mark == mark)
        .unwrap();
    [passed.since_bite_s, passed.speed_m_s]
}

/// Two inertias: an engine of 0.25 kg·m² pulling 480 N·m from 6500 rpm, a car of 1500 kg on
/// wheels of 2 kg·m² at a ratio of 10, a clutch of 900 N·m. Slip dies out at the rate
/// (T−Te)/I1 + T/I2; heat is T Δω t/2 (plain mechanics). Losses in the driveline make the car
/// heavier by 1/η as the clutch sees it.
#[test]
fn reference_lock_up_time_and_heat_of_two_inertias() {
    for efficiency in [1.0, 0.9] {
        let figures = |grip: f64| {
            let ideal = Ideal {
                mass_kg: 1500.0,
                radius_m: 0.3,
                wheels_kg_m2: 2.0,
                overall_ratio: 10.0,
                crank_side_kg_m2: 0.25,
                capacity_nm: 900.0,
                grip,
            };
            let mut car = ideal.car(480.0);
            car.driveline.efficiency = Efficiency::new(efficiency).unwrap();
            let launch = launch(&car, 6500.0, Mark::Ft60);
            [launch.lock_at_s.unwrap(), launch.clutch_heat_j]
        };
        let apart = rpm(6500.0);
        let load_kg_m2 = (2.0 + 1500.0 * 0.3 * 0.3) / (10.0 * 10.0 * efficiency);
        let time_s = apart / ((900.0 - 480.0) / 0.25 + 900.0 / load_kg_m2);
        let [lock_s, heat_j] = rigid(figures, 0.01);
        assert_relative_eq!(lock_s, time_s, max_relative = 1e-6);
        assert_relative_eq!(heat_j, 900.0 * apart * time_s / 2.0, max_relative = 1e-6);
    }
}

/// A car that a slipping clutch pushes with one force for ever: the crank side is so heavy that
/// it never slows.
fn pushed(acceleration_m_s2: f64, grip: f64) -> Car {
    const MOVING_KG: f64 = 1500.0;
    const RADIUS_M: f64 = 0.3;
    const WHEELS_KG_M2: f64 = 20.0;
    const RATIO: f64 = 3.0;
    let ideal = Ideal {
        mass_kg: MOVING_KG - WHEELS_KG_M2 / (RADIUS_M * RADIUS_M),
        radius_m: RADIUS_M,
        wheels_kg_m2: WHEELS_KG_M2,
        overall_ratio: RATIO,
        crank_side_kg_m2: 1e6,
        capacity_nm: MOVING_KG * acceleration_m_s2 * RADIUS_M / RATIO,
        grip,
    };
    ideal.car(500.0)
}

/// One g for ever (plain mechanics, recomputed): 60 ft in 1.931247 s at 18.939061 m/s, 1320 ft
/// in 9.058350 s at 88.832070 m/s; the clock starts when 0.3 m have been rolled.
#[test]
fn reference_constant_force() {
    let figures = |grip: f64| {
        let launch = launch(&pushed(STANDARD_GRAVITY_M_S2, grip), 10_800.0, Mark::Ft1320);
        let [time_60_s, speed_60_m_s] = at_mark(&launch, Mark::Ft60);
        let [time_1320_s, speed_1320_m_s] = at_mark(&launch, Mark::Ft1320);
        let clock_s = launch.sixty_foot_s().unwrap();
        [
            time_60_s,
            speed_60_m_s,
            time_1320_s,
            speed_1320_m_s,
            clock_s,
        ]
    };
    let rolled_out_s = (2.0 * 0.3 / STANDARD_GRAVITY_M_S2).sqrt();
    let wanted = [
        1.931_247,
        18.939_061,
        9.058_350,
        88.832_070,
        1.931_247 - rolled_out_s,
    ];
    for (figure, want) in rigid(figures, 0.05).into_iter().zip(wanted) {
        assert_relative_eq!(figure, want, max_relative = 1e-6);
    }
}

/// Constant force against drag as speed squared, 6 m/s² at rest, 90 m/s at most: 660 ft in
/// 8.393580 s at 45.689380 m/s, 1320 ft in 12.163546 s at 60.307932 m/s (plain mechanics:
/// v = vt √(1 − exp(−2ax/vt²)), recomputed).
#[test]
fn reference_constant_force_against_drag() {
    let figures = |grip: f64| {
        let mut car = pushed(6.0, grip);
        let drag_kg_m = 1500.0 * 6.0 / (90.0 * 90.0);
        let density = car.track.weather.density_kg_m3();
        car.body.drag_area_m2 = non_negative(2.0 * drag_kg_m / density);
        let launch = launch(&car, 10_800.0, Mark::Ft1320);
        let [time_660_s, speed_660_m_s] = at_mark(&launch, Mark::Ft660);
        let [time_1320_s, speed_1320_m_s] = at_mark(&launch, Mark::Ft1320);
        [time_660_s, speed_660_m_s, time_1320_s, speed_1320_m_s]
    };
    let wanted = [8.393_580, 45.689_380, 12.163_546, 60.307_932];
    for (figure, want) in rigid(figures, 0.05).into_iter().zip(wanted) {
        assert_relative_eq!(figure, want, max_relative = 1e-6);
    }
}

/// Engine power of the constant-power cars, W.
const POWER_W: f64 = 300_000.0;
/// Moving mass of the constant-power cars while their clutch slips, kg.
const MOVING_KG: f64 = 1500.0;
/// Acceleration while their clutch slips, m/s².
const CAPPED_M_S2: f64 = 0.9 * STANDARD_GRAVITY_M_S2;

/// A car whose engine makes one power at every speed. Its clutch slips at that force which
/// gives 0.9 g, and the engine, launched at the speed where it makes just the clutch's torque,
/// stays there until the car has caught up; from then on the whole power drives the car, and
/// the engine's own inertia comes along. Returns the moving mass locked, kg.
fn one_power(grip: f64) -> (Car, f64, f64) {
    const RADIUS_M: f64 = 0.3;
    const WHEELS_KG_M2: f64 = 20.0;
    const RATIO: f64 = 4.0;
    const CRANK_KG_M2: f64 = 0.02;
    let ideal = Ideal {
        mass_kg: MOVING_KG - WHEELS_KG_M2 / (RADIUS_M * RADIUS_M),
        radius_m: RADIUS_M,
        wheels_kg_m2: WHEELS_KG_M2,
        overall_ratio: RATIO,
        crank_side_kg_m2: CRANK_KG_M2,
        capacity_nm: MOVING_KG * CAPPED_M_S2 * RADIUS_M / RATIO,
        grip,
    };
    let mut car = ideal.car(500.0);
    let points: Vec<(f64, f64)> = (100..=1100)
        .map(|tens| f64::from(tens) * 10.0)
        .map(|n| (n, POWER_W / rpm(n)))
        .collect();
    car.engine.curve = common::curve(&points);
    let launch_rad_s = POWER_W / ideal.capacity_nm;
    let locked_kg = MOVING_KG + CRANK_KG_M2 * (RATIO / RADIUS_M).powi(2);
    (car, launch_rad_s, locked_kg)
}

/// Time and speed at a distance, m, of a car pushed at `CAPPED_M_S2` up to the speed where that
/// takes all of the power, and with all of the power from there: `v³ = v0³ + 3P(x−x0)/m`,
/// `t = t0 + m(v²−v0²)/(2P)`.
fn capped_then_power(distance_m: f64, locked_kg: f64) -> [f64; 2] {
    let v0 = POWER_W / (MOVING_KG * CAPPED_M_S2);
    let x0 = v0 * v0 / (2.0 * CAPPED_M_S2);
    if distance_m <= x0 {
        let v = (2.0 * CAPPED_M_S2 * distance_m).sqrt();
        return [v / CAPPED_M_S2, v];
    }
    let v = (v0.powi(3) + 3.0 * POWER_W * (distance_m - x0) / locked_kg).cbrt();
    let since_s = locked_kg * (v * v - v0 * v0) / (2.0 * POWER_W);
    [v0 / CAPPED_M_S2 + since_s, v]
}

/// The closed form above for 1500 kg and 300 kW with no engine inertia (plain mechanics,
/// recomputed twice).
#[test]
fn reference_closed_form_of_capped_power() {
    for (mark, time_s, speed_m_s) in [
        (Mark::Ft60, 2.035_713, 17.967_171),
        (Mark::Ft330, 4.878_822, 37.921_455),
        (Mark::Ft660, 7.191_770, 48.612_922),
        (Mark::Ft1000, 9.166_708, 56.153_284),
        (Mark::Ft1320, 10.819_814, 61.761_103),
    ] {
        let [time, speed] = capped_then_power(mark.distance_m(), MOVING_KG);
        assert_relative_eq!(time, time_s, max_relative = 1e-6);
        assert_relative_eq!(speed, speed_m_s, max_relative = 1e-6);
    }
}

/// 0.9 g while the clutch slips, 300 kW once it has locked, over the whole quarter mile; the
/// lock-up comes at the speed where the two meet (plain mechanics). The engine's torque curve
/// is 1/ω through points 10 rpm apart: good to 1e-7.
#[test]
fn reference_constant_force_then_constant_power() {
    let figures = |grip: f64| {
        let (car, launch_rad_s, _) = one_power(grip);
        let attempt = Attempt::from_speed(launch_rad_s);
        let launch = run(&rig(&car, 0), &attempt, Mark::Ft1320).unwrap();
        let [time_60_s, speed_60_m_s] = at_mark(&launch, Mark::Ft60);
        let [time_1320_s, speed_1320_m_s] = at_mark(&launch, Mark::Ft1320);
        let lock_s = launch.lock_at_s.unwrap();
        [time_60_s, speed_60_m_s, time_1320_s, speed_1320_m_s, lock_s]
    };
    let (_, _, locked_kg) = one_power(GRIP);
    let [near_s, near_m_s] = capped_then_power(Mark::Ft60.distance_m(), locked_kg);
    let [far_s, far_m_s] = capped_then_power(Mark::Ft1320.distance_m(), locked_kg);
    let meet_s = POWER_W / (MOVING_KG * CAPPED_M_S2 * CAPPED_M_S2);
    let wanted = [near_s, near_m_s, far_s, far_m_s, meet_s];
    for (figure, want) in rigid(figures, 0.05).into_iter().zip(wanted) {
        assert_relative_eq!(figure, want, max_relative = 1e-6);
    }
}

/// Constant power against drag 0.45 kg/m times speed squared, from 330 ft on:
/// `v³ = vm³ − (vm³ − v1³) exp(−3k(x−x1)/m)` with `vm³ = P/k` (plain mechanics).
#[test]
fn reference_constant_power_against_drag() {
    const DRAG_KG_M: f64 = 0.45;
    let speeds = |grip: f64| {
        let (mut car, launch_rad_s, _) = one_power(grip);
        let density = car.track.weather.density_kg_m3();
        car.body.drag_area_m2 = non_negative(2.0 * DRAG_KG_M / density);
        let attempt = Attempt::from_speed(launch_rad_s);
        let launch = run(&rig(&car, 0), &attempt, Mark::Ft1320).unwrap();
        [Mark::Ft330, Mark::Ft1320].map(|mark| at_mark(&launch, mark)[1])
    };
    let (_, _, locked_kg) = one_power(GRIP);
    let most = POWER_W / DRAG_KG_M;
    let way_m = Mark::Ft1320.distance_m() - Mark::Ft330.distance_m();
    let fades = (-3.0 * DRAG_KG_M * way_m / locked_kg).exp();
    let over_closed_form = |grip: f64| {
        let [before, after] = speeds(grip);
        [after / (most - (most - before.powi(3)) * fades).cbrt()]
    };
    let [over] = rigid(over_closed_form, 0.2);
    assert_relative_eq!(over, 1.0, max_relative = 1e-6);
}
