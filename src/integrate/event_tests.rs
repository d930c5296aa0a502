//! Hybrid motions with a closed solution: impacts, stick-slip, dry friction, clutches.
//!
//! All figures recomputed from the closed form stated with each test; the tolerance is 1e-8
//! unless said: a hundred times the step tolerance, since errors add up over the legs.

use super::independent_stepper::{self, Control};
use super::test_motions::{follow_guarded, tolerance};
use super::{Leg, State, Stop};
use approx::assert_abs_diff_eq;
use std::f64::consts::PI;

const STEP: f64 = 1e-10;
const CLOSE: f64 = 1e-8;

/// Follows rates until the one guard falls.
fn until<const N: usize>(
    rates: impl Fn(f64, &State<N>) -> State<N>,
    guard: impl Fn(f64, &State<N>) -> f64,
    from: (f64, [f64; N]),
) -> (f64, [f64; N]) {
    let leg = whole_leg(rates, guard, from);
    assert_eq!(leg.stop(), Stop::Guard(0));
    (leg.end_s(), (*leg.end()).into())
}

fn whole_leg<const N: usize>(
    rates: impl Fn(f64, &State<N>) -> State<N>,
    guard: impl Fn(f64, &State<N>) -> f64,
    from: (f64, [f64; N]),
) -> Leg<N, usize> {
    let guards = |t: f64, y: &State<N>| [guard(t, y)];
    follow_guarded(rates, guards, from, from.0 + 50.0, &tolerance(STEP)).unwrap()
}

mod bouncing_ball {
    use super::*;

    const GRAVITY: f64 = 9.81;
    const KEPT: f64 = 0.8;

    fn falls(_: f64, s: &State<2>) -> State<2> {
        State::from([s[1], -GRAVITY])
    }

    /// Time of the next impact and the speed just after it.
    fn impact(from: (f64, [f64; 2])) -> (f64, f64) {
        let (time, [_, speed]) = until(falls, |_, s| s[0], from);
        (time, -KEPT * speed)
    }

    /// Dropped from 1 m: each flight lasts 0.8 of the one before.
    #[test]
    fn reference_impacts_speeds_and_apexes() {
        let mut now = (0.0, [1.0, 0.0]);
        let mut speeds = vec![3.543_558, 2.834_846, 2.267_877, 1.814_301].into_iter();
        let mut apexes = vec![0.64, 0.4096, 0.262_144].into_iter();
        for want in [
            0.451_523_64,
            1.173_961_47,
            1.751_911_73,
            2.214_271_94,
            2.584_160_10,
            2.880_070_64,
            3.116_799_06,
            3.306_181_80,
        ] {
            let (time, speed) = impact(now);
            assert_abs_diff_eq!(time, want, epsilon = CLOSE);
            if let Some(want) = speeds.next() {
                assert_abs_diff_eq!(speed, want, epsilon = 5e-7);
            }
            now = (time, [0.0, speed]);
            let (_, [apex, _]) = until(falls, |_, s| s[1], now);
            if let Some(want) = apexes.next() {
                assert_abs_diff_eq!(apex, want, epsilon = CLOSE);
            }
        }
    }

    /// Infinitely many impacts by t0 (1+e)/(1−e); the hundredth is within 1e-9 of it. Flights
    /// get as short as a nanosecond, and each begins with its guard at exactly zero.
    #[test]
    fn reference_impacts_pile_up_where_they_should() {
        let mut now = (0.0, [1.0, 0.0]);
        for _ in 0..100 {
            let (time, speed) = impact(now);
            now = (time, [0.0, speed]);
        }
        assert_abs_diff_eq!(now.0, 4.063_712_77, epsilon = CLOSE);
    }
}

mod stick_slip {
    use super::*;

    const MASS: f64 = 1.0;
    const STIFFNESS: f64 = 100.0;
    const BELT: f64 = 0.1;
    const STATIC: f64 = 5.0;
    const KINETIC: f64 = 3.0;

    fn sticks(_: f64, _: &State<2>) -> State<2> {
        State::from([BELT, 0.0])
    }

    fn slips(_: f64, s: &State<2>) -> State<2> {
        State::from([s[1], (KINETIC - STIFFNESS * s[0]) / MASS])
    }

    /// A block on a moving belt, held by a spring: sticks to 5 N, slips at 3 N. With
    /// A = (Fs−Fk)/k the slip takes 2(π − atan(Aω/V))/ω and the stick 2A/V. It slips from a
    /// guard at exactly zero.
    #[test]
    fn reference_one_period() {
        let spring_left = |_: f64, s: &State<2>| STATIC - STIFFNESS * s[0];
        let (released, [_, _]) = until(sticks, spring_left, (0.0, [0.01, BELT]));
        assert_abs_diff_eq!(released, 0.4, epsilon = CLOSE);
        let from = (released, [STATIC / STIFFNESS, BELT]);

        let (caught, [x, _]) = until(slips, |_, s| BELT - s[1], from);
        assert_abs_diff_eq!(caught - released, 0.406_888_79, epsilon = CLOSE);
        assert_abs_diff_eq!(x, 0.01, epsilon = CLOSE);

        let (furthest_at, [furthest, _]) = until(slips, |_, s| s[1], from);
        assert_abs_diff_eq!(furthest, 0.052_360_68, epsilon = CLOSE);
        let back = (furthest_at, [furthest, 0.0]);
        let (_, [_, slowest]) = until(slips, |_, s| STIFFNESS * s[0] - KINETIC, back);
        assert_abs_diff_eq!(slowest, -0.223_606_80, epsilon = CLOSE);
        let (_, [nearest, _]) = until(slips, |_, s| -s[1], back);
        assert_abs_diff_eq!(nearest, 0.007_639_32, epsilon = CLOSE);
    }
}

/// Free decay with Coulomb friction (k 100, F 3, m 1): each half period π/ω loses 2F/k = 0.06,
/// and it stops at 0.02 m, within F/k, after 17 of them.
#[test]
fn reference_coulomb_decay_stops_where_friction_holds() {
    let mut now = (0.0, [1.0, 0.0]);
    let mut half_periods = 0_u32;
    while 100.0 * f64::abs(now.1[0]) > 3.0 {
        let side = now.1[0].signum();
        let rates = move |_: f64, s: &State<2>| State::from([s[1], -100.0 * s[0] + 3.0 * side]);
        let (time, [x, _]) = until(rates, move |_, s| -side * s[1], now);
        half_periods += 1;
        let left = 1.0 - 0.06 * f64::from(half_periods);
        assert_abs_diff_eq!(x, -side * left, epsilon = CLOSE);
        now = (time, [x, 0.0]);
    }
    assert_eq!(half_periods, 17);
    assert_abs_diff_eq!(now.0, 5.340_707_51, epsilon = CLOSE);
    assert_abs_diff_eq!(now.1[0].abs(), 0.02, epsilon = CLOSE);
}

mod forced_oscillator {
    use super::*;

    const DAMPING: f64 = 0.1;
    const FRICTION: f64 = 4.0;
    const FORCE: f64 = 2.0;

    /// What friction must hold for the mass to stand.
    fn load(t: f64, y: f64) -> f64 {
        FORCE * (PI * t).cos() - y
    }

    fn slides(direction: f64) -> impl Fn(f64, &State<2>) -> State<2> {
        move |t, s| {
            let pull = load(t, s[0]) - 2.0 * DAMPING * s[1] - FRICTION * direction;
            State::from([s[1], pull])
        }
    }

    fn stands(_: f64, _: &State<2>) -> State<2> {
        State::from([0.0, 0.0])
    }

    /// y'' + 2Dy' + μ sign y' + y = A cos ωt with D 0.1, μ 4, A 2, ω π, from y 3, y' 4 (Hairer,
    /// Nørsett & Wanner I, sec. II.6; statement from memory). One crossing, then three sticks
    /// and releases; the exact solution is piecewise linear.
    #[test]
    fn reference_sticks_and_releases() {
        let (crossed, [y, _]) = until(slides(1.0), |_, s| s[1], (0.0, [3.0, 4.0]));
        assert_abs_diff_eq!(crossed, 0.562_805_325_2, epsilon = CLOSE);
        assert_abs_diff_eq!(y, 4.203_433_333_8, epsilon = CLOSE);
        assert!(load(crossed, y) < -FRICTION, "it slides back at once");

        let mut now = (crossed, [y, 0.0]);
        for (stuck, rest, released) in [
            (2.035_200_434_0, Some(3.216_519_827_9), 2.628_126_755_8),
            (3.727_196_522_7, Some(2.902_573_199_2), 4.684_882_175_4),
            (5.617_946_465_6, None, 6.719_353_686_2),
        ] {
            let direction = load(now.0, now.1[0]).signum();
            let (time, [y, _]) = until(slides(direction), move |_, s| direction * s[1], now);
            assert_abs_diff_eq!(time, stuck, epsilon = CLOSE);
            if let Some(want) = rest {
                assert_abs_diff_eq!(y, want, epsilon = CLOSE);
            }
            let holds = |t: f64, s: &State<2>| FRICTION - load(t, s[0]).abs();
            let (time, _) = until(stands, holds, (time, [y, 0.0]));
            assert_abs_diff_eq!(time, released, epsilon = CLOSE);
            now = (time, [y, 0.0]);
        }
        let direction = load(now.0, now.1[0]).signum();
        let (time, _) = until(slides(direction), move |_, s| direction * s[1], now);
        assert_abs_diff_eq!(time, 7.551_351_894_2, epsilon = CLOSE);
    }
}

mod two_inertia_clutch {
    use super::*;

    const ENGINE_KG_M2: f64 = 0.25;
    const LOAD_KG_M2: f64 = 1.6;
    const START_RAD_S: f64 = 6500.0 * PI / 30.0;

    /// Engine speed, load speed, heat, with the clutch's torque at a time.
    fn slips(
        clutch_nm: impl Fn(f64) -> f64,
        engine_nm: f64,
        load_nm: f64,
    ) -> impl Fn(f64, &State<3>) -> State<3> {
        move |t, s| {
            let torque = clutch_nm(t);
            State::from([
                (engine_nm - torque) / ENGINE_KG_M2,
                (torque - load_nm) / LOAD_KG_M2,
                torque * (s[0] - s[1]),
            ])
        }
    }

    fn apart(_: f64, s: &State<3>) -> f64 {
        s[0] - s[1]
    }

    const START: (f64, [f64; 3]) = (0.0, [START_RAD_S, 0.0, 0.0]);

    /// The engine keeps pulling (480 N·m) against a load (60 N·m) while 900 N·m slip: lock-up
    /// after Δω/((T−Te)/I1 + (T−TL)/I2), heat T Δω t/2, and both engine work and kinetic energy
    /// accounted for. Relative tolerance 1e-10: the audit's own.
    #[test]
    fn reference_lock_time_heat_and_audit() {
        let (time, [engine, load, heat]) = until(slips(|_| 900.0, 480.0, 60.0), apart, START);
        assert_abs_diff_eq!(time, 0.308_697_690_828_93, epsilon = 1e-12);
        assert_abs_diff_eq!(engine, 162.066_288, epsilon = 5e-7);
        assert_abs_diff_eq!(engine, load, epsilon = 1e-10);
        assert_abs_diff_eq!(heat, 94_555.733_775, epsilon = 1e-5);
        let engine_work = 480.0 * (START_RAD_S + engine) / 2.0 * time;
        let load_work = 60.0 * load / 2.0 * time;
        let gained = 0.5
            * (ENGINE_KG_M2 * (engine * engine - START_RAD_S * START_RAD_S)
                + LOAD_KG_M2 * load * load);
        let gap = engine_work - load_work - heat - gained;
        assert!(gap.abs() < 1e-10 * heat, "{gap:e}");
    }

    /// A clutch let in as T = 3000 t, nothing else pulling: lock-up at 0.31323443 s, and heat
    /// and common speed are those of any other engagement: Ie Δω²/2 with Ie = I1 I2/(I1+I2).
    #[test]
    fn reference_ramp_and_the_heat_that_no_ramp_changes() {
        let (time, [engine, _, heat]) = until(slips(|t| 3000.0 * t, 0.0, 0.0), apart, START);
        assert_abs_diff_eq!(time, 0.313_234_43, epsilon = CLOSE);
        assert_abs_diff_eq!(engine, 91.983_569, epsilon = 5e-7);
        assert_abs_diff_eq!(heat, 50_088.983, epsilon = 5e-4);
        let (time, [_, _, heat]) = until(slips(|_| 900.0, 0.0, 0.0), apart, START);
        assert_abs_diff_eq!(time, 0.163_526, epsilon = 5e-7);
        assert_abs_diff_eq!(heat, 50_088.983, epsilon = 5e-4);
    }

    /// V. B. Bhandari, *Design of Machine Elements*, example 11.14 (figures seen in a companion
    /// text, recomputed): 10 kW at 2000 rpm, 20 kg at 75 mm and 35 kg at 125 mm; slip for
    /// 0.409285 s, heat 2046.4227 J, common speed 35.733755 rad/s.
    #[test]
    fn reference_textbook_engagement() {
        let (driver_kg_m2, driven_kg_m2) = (20.0 * 0.075 * 0.075, 35.0 * 0.125 * 0.125);
        let speed = 2000.0 * PI / 30.0;
        let torque = 10_000.0 / speed;
        let rates = |_: f64, s: &State<3>| {
            let slip = s[0] - s[1];
            State::from([-torque / driver_kg_m2, torque / driven_kg_m2, torque * slip])
        };
        let (time, [common, _, heat]) = until(rates, apart, (0.0, [speed, 0.0, 0.0]));
        assert_abs_diff_eq!(time, 0.409_284_54, epsilon = CLOSE);
        assert_abs_diff_eq!(heat, 2_046.422_71, epsilon = 5e-6);
        assert_abs_diff_eq!(common, 35.733_755, epsilon = 5e-7);
    }

    /// The hand-written stepper, halving its way to the same lock-up. Both stop within
    /// round-off of 0.3 s.
    #[test]
    fn reference_the_hand_written_stepper_locks_at_the_same_time() {
        let rates = slips(|t| 3000.0 * t, 480.0, 60.0);
        let (time, state) = until(&rates, apart, START);
        let control = Control {
            both_tolerances: STEP,
            first_step_s: 1e-3,
            longest_step_s: 1.0,
        };
        let plain = |t: f64, y: &[f64; 3]| rates(t, &State::from(*y)).into();
        let path = independent_stepper::follow(plain, START, 1.0, &control);
        let (other, other_state) = path.first_fall(|_, s| s[0] - s[1]);
        assert_abs_diff_eq!(time, other, epsilon = 1e-11);
        assert_abs_diff_eq!(state[2], other_state[2], epsilon = 1e-5);
    }
}
