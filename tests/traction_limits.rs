//! Closed-form limits of traction: weight transfer, the live axle, front drive, relaxation.
//!
//! Sources: T. D. Gillespie, *Fundamentals of Vehicle Dynamics* (SAE 1992), ch. 2 (the book was
//! not at hand: formulas and inputs from memory, and they reproduce the remembered answers);
//! H. B. Pacejka, *Tire and Vehicle Dynamics*, for the relaxation length.
//!
//! A spinning tyre keeps a share of its peak friction. With that share taken towards one, the
//! launch must come to the textbook's traction limit, where friction is the same at any slip.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::ideal::Ideal;
use common::{live_open, non_negative, positive, rig, rpm, shape};
use flyheft::car::Car;
use flyheft::car::body::{Axle, Drive};
use flyheft::car::checked::InnerShare;
use flyheft::car::constants::STANDARD_GRAVITY_M_S2;
use flyheft::car::engine::Band;
use flyheft::car::schedule::Ramp;
use flyheft::car::track::Mark;
use flyheft::integrate::{Accuracy, Leg, Motion, State, Stepper, integrate_leg};
use flyheft::launch::foot::Hears;
use flyheft::launch::forces::forces;
use flyheft::launch::mode::{Clutch, Mode, ShiftCall};
use flyheft::launch::rig::Rig;
use flyheft::launch::state::Instant;
use flyheft::launch::{Attempt, Launch, run};

/// A pound, N (exact by definition).
const POUND_N: f64 = 4.448_221_615_260_5;
/// An inch, m (exact by definition).
const INCH_M: f64 = 0.0254;

/// Weight on both axles, N, and where it stands, m.
struct Stand {
    front_n: f64,
    rear_n: f64,
    cg_height_m: f64,
    wheelbase_m: f64,
}

/// A car with far more torque than grip, standing like that.
fn spinning(stand: &Stand, drive: Drive, friction: f64, sliding_share: f64) -> Car {
    let weight_n = stand.front_n + stand.rear_n;
    let ideal = Ideal {
        mass_kg: weight_n / STANDARD_GRAVITY_M_S2,
        radius_m: 13.0 * INCH_M,
        wheels_kg_m2: 2.0,
        overall_ratio: 2.90,
        crank_side_kg_m2: 0.3,
        capacity_nm: 6000.0 * friction,
        grip: friction,
    };
    let mut car = ideal.car(4000.0 * friction);
    let body = &mut car.body;
    body.drive = drive;
    body.cg_height_m = positive(stand.cg_height_m);
    body.wheelbase_m = positive(stand.wheelbase_m);
    body.front_share = InnerShare::new(stand.front_n / weight_n).unwrap();
    car.tyre.shape = shape(0.02, sliding_share);
    car.driveline.final_drive = positive(2.90);
    car.driveline.ratios = common::ratios(&[1.0]);
    car
}

/// Steady acceleration from 60 to 330 ft, in g, of a launch that spins all the way.
fn steady_g(car: &Car) -> f64 {
    let launch = launch(car);
    let passed = |mark: Mark| {
        let passed = launch
            .marks
            .iter()
            .find(|passed| passed.mark == mark)
            .unwrap();
        passed.speed_m_s.powi(2) / 2.0
    };
    let way_m = Mark::Ft330.distance_m() - Mark::Ft60.distance_m();
    (passed(Mark::Ft330) - passed(Mark::Ft60)) / way_m / STANDARD_GRAVITY_M_S2
}

fn launch(car: &Car) -> Launch {
    run(&rig(car, 0), &Attempt::from_speed(rpm(5000.0)), Mark::Ft330).unwrap()
}

/// The acceleration, in g, carried on to a tyre that keeps all its grip, having checked that
/// what is missing falls tenfold with the missing share.
fn limit_g(stand: &Stand, drive: Drive, friction: f64) -> f64 {
    let [far, near, nearest] = [1e-2, 1e-3, 1e-4]
        .map(|missing| steady_g(&spinning(stand, drive, friction, 1.0 - missing)));
    let fall = (near - far) / (nearest - near);
    assert!((9.0..11.0).contains(&fall), "{far}, {near}, {nearest}");
    nearest + (nearest - near) / 9.0
}

fn in_pounds_and_inches(front: f64, rear: f64, height: f64, wheelbase: f64) -> Stand {
    Stand {
        front_n: front * POUND_N,
        rear_n: rear * POUND_N,
        cg_height_m: height * INCH_M,
        wheelbase_m: wheelbase * INCH_M,
    }
}

/// Gillespie's worked example: 2100 and 1850 lb, cg 21 in up, wheelbase 108 in, μ 0.62, final
/// drive 2.90, track 59 in, tyre radius 13 in, roll stiffness 1150 front and 280 rear. Open live
/// axle: 0.30399544 g (the book's 0.304, matches memory); locked: 0.33018544 g (0.330).
#[test]
fn reference_live_axle_open_and_locked() {
    let stand = in_pounds_and_inches(2100.0, 1850.0, 21.0, 108.0);
    let open = live_open(59.0 * INCH_M, 1150.0 / (1150.0 + 280.0));
    assert_relative_eq!(
        limit_g(&stand, open, 0.62),
        0.303_995_44,
        max_relative = 1e-6
    );
    let locked = Drive::Rear(Axle::Even);
    assert_relative_eq!(
        limit_g(&stand, locked, 0.62),
        0.330_185_44,
        max_relative = 1e-6
    );
}

/// The same chapter, front drive: 1950 and 1150 lb, cg 19 in, wheelbase 105 in, μ 0.62:
/// 0.35065936 g (recomputed).
#[test]
fn reference_front_drive() {
    let stand = in_pounds_and_inches(1950.0, 1150.0, 19.0, 105.0);
    assert_relative_eq!(
        limit_g(&stand, Drive::Front, 0.62),
        0.350_659_36,
        max_relative = 1e-6
    );
}

/// A car of 1500 kg, 54 % on the front axle, cg 0.52 m up, wheelbase 2.70 m.
fn plain_stand() -> Stand {
    let weight_n = 1500.0 * STANDARD_GRAVITY_M_S2;
    Stand {
        front_n: 0.54 * weight_n,
        rear_n: 0.46 * weight_n,
        cg_height_m: 0.52,
        wheelbase_m: 2.70,
    }
}

/// The same formulas at three frictions (recomputed, five decimals).
#[test]
fn reference_rear_and_front_drive_at_three_frictions() {
    for (friction, rear_g, front_g) in [
        (0.8, 0.435_03, 0.374_33),
        (1.1, 0.642_01, 0.490_16),
        (1.5, 0.970_31, 0.628_45),
    ] {
        let rear = limit_g(&plain_stand(), Drive::Rear(Axle::Even), friction);
        assert_abs_diff_eq!(rear, rear_g, epsilon = 6e-6);
        let front = limit_g(&plain_stand(), Drive::Front, friction);
        assert_abs_diff_eq!(front, front_g, epsilon = 6e-6);
    }
}

/// The front wheels leave the ground at a/g = Wf L/(W h) = 2.80385 (recomputed); with all weight
/// then on the rear axle, that is also the friction it takes. A tenth of a per cent on either
/// side decides.
#[test]
fn reference_front_wheels_lift_at_their_limit() {
    for (friction, lifts) in [(2.80385 * 0.999, false), (2.80385 * 1.001, true)] {
        let car = spinning(
            &plain_stand(),
            Drive::Rear(Axle::Even),
            friction,
            1.0 - 1e-6,
        );
        assert_eq!(launch(&car).front_wheels_lifted, lifts, "at {friction}");
    }
}

/// Tread deflection alone, car and wheel turning at speeds that are given.
struct Tread<'r, S> {
    rig: &'r Rig<'r>,
    wheel_rad_s: S,
    speed_m_s: f64,
}

impl<S: Fn(f64) -> f64> Tread<'_, S> {
    fn instant(&self, time_s: f64, deflection_m: f64) -> Instant {
        Instant {
            engine_rad_s: rpm(3000.0),
            wheel_rad_s: (self.wheel_rad_s)(time_s),
            speed_m_s: self.speed_m_s,
            deflection_m,
            ..Instant::default()
        }
    }

    fn mode(&self) -> Mode {
        Mode {
            gear: self.rig.gears[0],
            clutch: Clutch::Open,
            engagement: Ramp::constant(0.0),
            throttle: Ramp::constant(0.0),
            foot: Ramp::constant(1.0),
            hears: Hears::Nothing,
            closed_throttle_nm: 0.0,
            grip_factor: 1.0,
            band: Band::OnCurve,
            shift: ShiftCall::NotListened,
            finish_m: 1000.0,
        }
    }

    /// Transient slip after a time.
    fn slip_after(&self, time_s: f64) -> f64 {
        let accuracy = Accuracy {
            relative: 1e-10,
            absolute: 1e-12,
            longest_step_s: 0.01,
            stepper: Stepper::FixedArrays,
        };
        let start = (0.0, State::from([0.0]));
        let leg: Leg<1, ()> = integrate_leg(self, start, time_s, None, &accuracy).unwrap();
        let end = self.instant(time_s, leg.end()[0]);
        forces(self.rig, &self.mode(), time_s, &end).slip
    }
}

impl<S: Fn(f64) -> f64> Motion<1, 0> for Tread<'_, S> {
    type Guard = ();
    const GUARDS: [(); 0] = [];

    fn rates(&self, time_s: f64, state: &State<1>, rates: &mut State<1>) {
        let now = self.instant(time_s, state[0]);
        rates[0] = forces(self.rig, &self.mode(), time_s, &now)
            .rates
            .deflection_m;
    }

    fn guards(&self, _: f64, _: &State<1>) -> [f64; 0] {
        []
    }
}

/// A tyre of relaxation length 0.3 m without carcass damping.
fn relaxing() -> Car {
    let mut car = common::coupe();
    car.tyre.relaxation_m = positive(0.3);
    car.tyre.damping_time_s = non_negative(0.0);
    car
}

/// A step of slip builds up over travel: 63.212056, 86.466472, 95.021293 % after one, two and
/// three relaxation lengths (σκ' + Vκ = Vκss; Pacejka, form; recomputed).
#[test]
fn reference_slip_builds_up_over_the_relaxation_length() {
    let car = relaxing();
    let rig = rig(&car, 0);
    let (car_m_s, tread_m_s) = (5.0, 4.8);
    let radius_m = car.tyre.radius_m.get();
    let tread = Tread {
        rig: &rig,
        wheel_rad_s: |_| tread_m_s / radius_m,
        speed_m_s: car_m_s,
    };
    let steady = (tread_m_s - car_m_s) / car_m_s;
    for (lengths, share) in [
        (1.0, 0.632_120_56),
        (2.0, 0.864_664_72),
        (3.0, 0.950_212_93),
    ] {
        let slip = tread.slip_after(lengths * 0.3 / car_m_s);
        assert_relative_eq!(slip / steady, share, max_relative = 1e-7);
    }
}

/// Slip that swings at 2 Hz at 5 m/s: gain 0.79847116, phase −37.015645° (same equation,
/// recomputed). Read off at two quarter periods after ten swings, when the start is forgotten.
#[test]
fn reference_slip_lags_a_swing() {
    let car = relaxing();
    let rig = rig(&car, 0);
    let (car_m_s, swing_m_s, hertz) = (5.0, 0.1, 2.0);
    let radius_m = car.tyre.radius_m.get();
    let swing = |t: f64| swing_m_s * (2.0 * std::f64::consts::PI * hertz * t).sin();
    let tread = Tread {
        rig: &rig,
        wheel_rad_s: |t| (car_m_s - 2.0 * swing_m_s + swing(t)) / radius_m,
        speed_m_s: car_m_s,
    };
    let middle = -2.0 * swing_m_s / car_m_s;
    let at = |swings: f64| (tread.slip_after(swings / hertz) - middle) / (swing_m_s / car_m_s);
    let (in_phase, behind) = (at(10.25), at(10.0));
    assert_relative_eq!(in_phase.hypot(behind), 0.798_471_16, max_relative = 1e-6);
    assert_relative_eq!(
        behind.atan2(in_phase).to_degrees(),
        -37.015_645,
        max_relative = 1e-6
    );
}
