//! Laws that hold for any sensible car: random ones, all invented.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod common;
#[path = "common/random_cases.rs"]
mod random_cases;

use common::random::{Case, any_case, cases};
use common::watch::{EngineUntil, Rules};
use common::{curve, positive, rig, rpm, shape};
use flyheft::car::Car;
use flyheft::car::body::Drive;
use flyheft::car::clutch::Heating;
use flyheft::car::track::Mark;
use flyheft::launch::drive::{ACCURACY, drive};
use flyheft::launch::{Attempt, Launch, Rig, run};
use proptest::prelude::*;
use random_cases::same_every_time;

proptest! {
    #![proptest_config(same_every_time(32))]

    /// Over the whole quarter mile: a locked clutch never carries more than it holds, nor do its
    /// sides part; a slipping one never slips the wrong way; no car rolls backwards; every
    /// number is finite. Round-off apart: 1e-9 of speeds of hundreds.
    #[test]
    fn law_no_launch_breaks_the_rules_of_its_modes(case in any_case()) {
        let rig = rig(&case.car, 0);
        let mut rules = Rules::default();
        drive(&rig, &case.attempt, Mark::Ft1320, &ACCURACY, &mut rules).unwrap();
        prop_assert!(rules.locked_beyond_hold < 1e-9, "{rules:?}");
        prop_assert!(rules.locked_apart_rad_s < 1e-9, "{rules:?}");
        prop_assert!(rules.slip_against_mode_rad_s < 1e-9, "{rules:?}");
        prop_assert!(rules.backwards_m_s <= 0.0, "{rules:?}");
        prop_assert!(rules.not_finite == 0, "{rules:?}");
    }

    /// No launch, from any speed and with either wheel, is quicker than its grip and its power
    /// allow; nor is the time between the start of the clock and 60 ft.
    #[test]
    fn law_no_launch_beats_its_grip_and_power(case in any_case()) {
        for wheel in 0..2 {
            let rig = rig(&case.car, wheel);
            let launch = run(&rig, &case.attempt, Mark::Ft60).unwrap();
            let bound = Bound::of(&rig, &case.attempt);
            if let Some(passed) = launch.marks.first() {
                let staging = &case.car.track.staging;
                let least_s = bound.least_time_s(staging.trip_m(Mark::Ft60));
                prop_assert!(passed.since_bite_s >= least_s, "{} < {least_s}", passed.since_bite_s);
                let clock_s = launch.sixty_foot_s().unwrap();
                let (from_m, to_m) = (staging.clock_start_m(), staging.trip_m(Mark::Ft60));
                let least_s = bound.least_time_between_s(from_m, to_m);
                prop_assert!(clock_s >= least_s, "{clock_s} < {least_s}");
            }
        }
    }

    /// With torque that is the same at every speed and a clutch that does not fade, the car does
    /// not know which wheel is fitted as long as the clutch slips; so until either wheel's clutch
    /// locks, both engines have fallen (or flared) by the same impulse over their own inertia,
    /// and the heavier wheel has nowhere let the engine fall further.
    #[test]
    fn law_until_lock_up_a_heavier_wheel_droops_less_by_its_inertia(case in any_case()) {
        let mut case = case;
        flatten_torque(&mut case.car);
        let launch_rad_s = case.attempt.launch_speed_rad_s;
        let until_s = [0, 1].map(|wheel| slips_until_s(&case, wheel));
        let until_s = f64::min(until_s[0], until_s[1]);
        let [light, heavy] = [0, 1].map(|wheel| {
            let mut engine = EngineUntil::new(until_s, launch_rad_s);
            let rig = rig(&case.car, wheel);
            drive(&rig, &case.attempt, Mark::Ft60, &ACCURACY, &mut engine).unwrap();
            (engine, rig.crank_side_kg_m2 * (launch_rad_s - engine.last_rad_s))
        });
        prop_assert!(heavy.0.lowest_rad_s >= light.0.lowest_rad_s - SAME_SPEED_RAD_S);
        let apart = (heavy.1 - light.1).abs();
        prop_assert!(apart < SAME_IMPULSE_NM_S, "{} and {} N·m·s", light.1, heavy.1);
    }
}

/// Below this two engine speeds count as one, rad/s: the integrator's error.
const SAME_SPEED_RAD_S: f64 = 1e-4;
/// Below this two impulses on the crank count as one, N·m·s: the same error, times inertia.
const SAME_IMPULSE_NM_S: f64 = 1e-4;

/// How long the clutch slips before it first locks, s.
fn slips_until_s(case: &Case, wheel: usize) -> f64 {
    let launch = run(&rig(&case.car, wheel), &case.attempt, Mark::Ft60).unwrap();
    launch.lock_at_s.unwrap_or(launch.ending.time_s)
}

fn flatten_torque(car: &mut Car) {
    let torque_nm = 0.8 * car.engine.curve.peak_nm();
    car.engine.curve = curve(&[0.002, 3000.0, 10_000.0, 100_000.0].map(|n| (n, torque_nm)));
    car.engine.stall_rad_s = positive(rpm(0.001));
    car.engine.limiter_rad_s = positive(rpm(99_000.0));
    car.clutch.heating = Heating::Unknown;
}

/// The law above needs both its premises. After the first lock-up a heavier wheel, which locks
/// later, can be caught by wheels that have stopped spinning meanwhile (18 of 6000 random cars).
/// And here is what rising torque does. Torque that rises with speed, a throttle quicker than the
/// clutch: before the clutch bites the light wheel lets the engine flare into strong torque, and
/// it never falls below the launch speed; the heavy one is caught where torque is weak, and bogs.
#[test]
fn law_where_torque_rises_with_speed_a_heavier_wheel_can_droop_more() {
    let mut car = common::coupe();
    car.engine.curve = curve(&[
        (1000.0, 90.0),
        (3000.0, 110.0),
        (4500.0, 300.0),
        (7000.0, 330.0),
    ]);
    car.flywheels = common::flywheels(&[0.06, 0.30]);
    car.clutch.release = common::release(&[(0.0, 0.0), (0.25, 0.1), (0.6, 0.75), (0.8, 1.0)]);
    car.tyre.grip = positive(1.8);
    let attempt = Attempt::from_speed(rpm(3000.0));
    let [light, heavy] = [0, 1].map(|wheel| run(&rig(&car, wheel), &attempt, Mark::Ft60).unwrap());
    assert!(light.droop_rad_s() < rpm(1.0));
    assert!(heavy.droop_rad_s() > rpm(100.0));
}

/// The energy account closes to a millionth of its largest term; a hundred cars, always the
/// same, since this is a claim about the integrator's accuracy.
#[test]
fn law_the_energy_account_closes_on_random_cars() {
    for (index, case) in cases(100).iter().enumerate() {
        let launch = run(&rig(&case.car, 0), &case.attempt, Mark::Ft60).unwrap();
        let gap = launch.energy.gap_j() / launch.energy.largest_j();
        assert!(gap.abs() < 1e-6, "car {index}: {gap:e}");
    }
}

/// A driver who dips the pedal again makes a locked clutch break away, at a slip of exactly
/// zero. Forty dips: every one breaks it away, and none lets it lock beyond what it holds.
#[test]
fn law_a_dipped_clutch_breaks_away() {
    let mut car = common::coupe();
    car.tyre.grip = positive(1.8);
    for dip in 0..40 {
        let share = 0.05 + 0.005 * f64::from(dip);
        car.clutch.release =
            common::release(&[(0.0, 0.0), (0.3, 1.0), (1.4, 1.0), (1.5, share), (2.5, 1.0)]);
        let rig = rig(&car, 0);
        let attempt = Attempt::from_speed(rpm(3000.0));
        let mut rules = Rules::default();
        drive(&rig, &attempt, Mark::Ft330, &ACCURACY, &mut rules).unwrap();
        assert!(rules.locked_beyond_hold < 1e-9, "dip to {share}: {rules:?}");
        assert!(rules.break_aways > 0, "dip to {share}");
    }
}

/// What a launch could do at best: constant grip with all the weight transfer there can be, and
/// the engine's greatest power all the time, with the flywheel's energy on top.
struct Bound {
    acceleration_m_s2: f64,
    power_w: f64,
    stored_j: f64,
    moving_kg: f64,
}

impl Bound {
    fn of(rig: &Rig, attempt: &Attempt) -> Self {
        let (car, engine) = (rig.car, &rig.car.engine);
        let friction = car.tyre.grip.get() * car.track.grip.get() * attempt.grip_factor;
        let lost = 1.0 + friction * rig.torque_reaction;
        let most_n = friction * rig.weight_n / lost;
        let force_n = match car.body.drive {
            Drive::Front => friction * rig.static_driven_n,
            Drive::Rear(_) => {
                let gained = friction * rig.transfer_kg / rig.moving_mass_kg;
                let share = friction * rig.static_driven_n / (lost - gained);
                if lost > gained {
                    share.min(most_n)
                } else {
                    most_n
                }
            }
        };
        let power_w = (0..=2000)
            .map(|part| engine.limiter_rad_s.get() * f64::from(part) / 2000.0)
            .map(|speed| speed * engine.full_throttle_nm(speed, rig.weather_factor))
            .fold(0.0, f64::max);
        Self {
            acceleration_m_s2: force_n / rig.moving_mass_kg,
            // Between two of the speeds looked at power may be a little higher.
            power_w: 1.001 * power_w,
            stored_j: 0.5 * rig.crank_side_kg_m2 * attempt.launch_speed_rad_s.powi(2),
            moving_kg: rig.moving_mass_kg,
        }
    }

    /// Least time from rest over a distance: `v = min(at, √(2(E + Pt)/m))`, summed up in steps
    /// of a millisecond, each with the speed at its end.
    fn least_time_s(&self, distance_m: f64) -> f64 {
        const STEP_S: f64 = 1e-3;
        let (mut time_s, mut way_m) = (0.0, 0.0);
        loop {
            let end_s = time_s + STEP_S;
            let by_energy = (2.0 * (self.stored_j + self.power_w * end_s) / self.moving_kg).sqrt();
            way_m += STEP_S * by_energy.min(self.acceleration_m_s2 * end_s);
            if way_m > distance_m {
                return time_s;
            }
            time_s = end_s;
        }
    }

    /// Least time between two distances from rest, by grip alone: `v ≤ √(2ax)`.
    fn least_time_between_s(&self, from_m: f64, to_m: f64) -> f64 {
        let time_s = |way_m: f64| (2.0 * way_m / self.acceleration_m_s2).sqrt();
        time_s(to_m) - time_s(from_m)
    }
}

/// The bound is no idle one: tyres that keep their grip at any slip, a body that takes its
/// pitch at once and an engine with power to spare come within two per cent of it.
#[test]
fn law_the_bound_is_nearly_reached_by_a_car_without_faults() {
    let mut car = common::coupe();
    car.tyre.shape = shape(0.03, 0.999);
    car.tyre.load_sensitivity = common::non_negative(0.0);
    car.tyre.relaxation_m = positive(0.02);
    car.body.pitch_time_s = positive(0.005);
    car.body.rolling = common::non_negative(0.0);
    car.clutch.release = common::release(&[(0.0, 1.0)]);
    car.driver.throttle = common::throttle(&[(0.0, 1.0)]);
    let attempt = Attempt::from_speed(rpm(5000.0));
    let rig = rig(&car, 0);
    let launch: Launch = run(&rig, &attempt, Mark::Ft60).unwrap();
    let least_s = Bound::of(&rig, &attempt).least_time_s(Mark::Ft60.distance_m());
    let over = launch.marks[0].since_bite_s / least_s;
    assert!((1.0..1.02).contains(&over), "{over}");
}
