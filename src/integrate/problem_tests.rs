//! Smooth motions with a published or closed solution, and the hand-written second stepper.

use super::independent_stepper::{self, Control};
use super::test_motions::{Smooth, follow, tolerance};
use super::{Accuracy, Leg, State, Stepper, integrate_leg};

/// Arenstorf's mass ratio of moon to earth and moon together.
const MOON: f64 = 0.012_277_471;
/// Start of the orbit on the line through both bodies.
const ARENSTORF_START: [f64; 4] = [0.994, 0.0, 0.0, -2.001_585_106_379_082_5];
/// Its period.
const ARENSTORF_PERIOD: f64 = 17.065_216_560_157_964;

/// The restricted three-body problem in rotating axes (x, y, x', y').
fn three_body(_: f64, s: &State<4>) -> State<4> {
    let [x, y, vx, vy] = (*s).into();
    let earth = 1.0 - MOON;
    let to_earth = ((x + MOON).powi(2) + y * y).powf(1.5);
    let to_moon = ((x - earth).powi(2) + y * y).powf(1.5);
    State::from([
        vx,
        vy,
        x + 2.0 * vy - earth * (x + MOON) / to_earth - MOON * (x - earth) / to_moon,
        y - 2.0 * vx - earth * y / to_earth - MOON * y / to_moon,
    ])
}

fn furthest<const N: usize>(got: &[f64; N], want: &[f64; N]) -> f64 {
    got.iter()
        .zip(want)
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max)
}

/// The Arenstorf orbit comes home after one period (Hairer, Nørsett & Wanner I, sec. II.0:
/// constants seen; a 45th-order Taylor series in 45 digits returns within 6e-27: recomputed).
/// The orbit passes the moon so closely that a start a hair off ends ten million hairs off;
/// the tolerance is that many times the step tolerance.
#[test]
fn reference_arenstorf_orbit_comes_home() {
    let leg = follow(three_body, (0.0, ARENSTORF_START), ARENSTORF_PERIOD, 1e-13);
    let end: [f64; 4] = (*leg.end()).into();
    let error = furthest(&end, &ARENSTORF_START);
    assert!(error < 1e-6, "{error:e}");
}

/// States on the way, read from the dense output (recomputed by the same Taylor series).
#[test]
fn reference_arenstorf_orbit_on_the_way() {
    let leg = follow(three_body, (0.0, ARENSTORF_START), ARENSTORF_PERIOD, 1e-13);
    let half = ARENSTORF_PERIOD / 2.0;
    for (time, want) in [
        (
            5.0,
            [
                0.022_688_783_647_977_123,
                0.866_540_140_171_247_3,
                -0.117_736_478_640_864_4,
                -0.421_785_804_162_877_73,
            ],
        ),
        (
            half,
            [-1.244_822_052_026_569_7, 0.0, 0.0, 0.553_990_308_142_223],
        ),
        (
            10.0,
            [
                -0.839_807_166_338_986_5,
                0.446_831_417_098_472_1,
                0.373_742_535_614_393_83,
                -0.149_669_644_666_895_18,
            ],
        ),
    ] {
        let got: [f64; 4] = leg.at(time).into();
        let error = furthest(&got, &want);
        assert!(error < 1e-9, "at {time}: {error:e}");
    }
}

/// Jacobi's constant stays what it was at the start, 2.856412520209857845681631 (recomputed).
#[test]
fn law_arenstorf_orbit_keeps_the_jacobi_constant() {
    let leg = follow(three_body, (0.0, ARENSTORF_START), ARENSTORF_PERIOD, 1e-12);
    for (_, time) in leg.steps() {
        let [x, y, vx, vy] = leg.at(time).into();
        let to_earth = (x + MOON).hypot(y);
        let to_moon = (x - 1.0 + MOON).hypot(y);
        let constant = x * x + y * y + 2.0 * (1.0 - MOON) / to_earth + 2.0 * MOON / to_moon
            - vx * vx
            - vy * vy;
        assert!(
            (constant - 2.856_412_520_209_858).abs() < 1e-8,
            "{constant} at {time}"
        );
    }
}

/// DETEST (Hull, Enright, Fellen & Sedgwick 1972), class A and B5, at t = 20; statements from
/// memory, values exact from closed forms (recomputed). A global error of a thousand step
/// tolerances is more than any of these eight makes.
#[test]
fn reference_detest_single_equations_and_rigid_body() {
    const STEP: f64 = 1e-11;
    let close = |name: &str, got: f64, want: f64| {
        assert!((got - want).abs() < 1e3 * STEP, "{name}: {got} for {want}");
    };
    let one = |rates: fn(f64, f64) -> f64, start: f64| {
        follow(
            |t, y: &State<1>| State::from([rates(t, y[0])]),
            (0.0, [start]),
            20.0,
            STEP,
        )
        .end()[0]
    };
    close("A1", one(|_, y| -y, 1.0), 2.061_153_622_4e-9);
    close("A2", one(|_, y| -y.powi(3) / 2.0, 1.0), 0.218_217_890_2);
    close("A3", one(|t, y| y * t.cos(), 1.0), 2.491_650_271_9);
    close(
        "A4",
        one(|_, y| y / 4.0 * (1.0 - y / 20.0), 1.0),
        17.730_166_481_3,
    );
    close(
        "A5",
        one(|t, y| (y - t) / (y + t), 4.0),
        -0.788_782_668_896_4,
    );
    let body = |_: f64, y: &State<3>| State::from([y[1] * y[2], -y[0] * y[2], -0.51 * y[0] * y[1]]);
    let leg = follow(body, (0.0, [0.0, 1.0, 1.0]), 20.0, STEP);
    close("B5 sn", leg.end()[0], -0.939_657_079_872_920_4);
    close("B5 cn", leg.end()[1], -0.342_117_775_400_074_9);
    close("B5 dn", leg.end()[2], 0.741_412_659_619_995_3);
}

/// Two bodies, (x, y, x', y').
fn kepler(_: f64, s: &State<4>) -> State<4> {
    let cube = s[0].hypot(s[1]).powi(3);
    State::from([s[2], s[3], -s[0] / cube, -s[1] / cube])
}

/// DETEST class D: Kepler orbits of eccentricity 0.1 to 0.9 at t = 20, from Kepler's equation
/// (recomputed; statements from memory). The error in phase grows with the number of passes
/// near the focus: ten thousand step tolerances for the roundest, a million for the longest.
#[test]
fn reference_detest_orbits() {
    const STEP: f64 = 1e-12;
    for (eccentricity, want) in [
        (
            0.1_f64,
            [
                0.219_883_535_200_839_65,
                0.942_707_684_634_181_3,
                -0.978_765_984_105_817_6,
                0.328_797_799_096_203_6,
            ],
        ),
        (
            0.3,
            [
                -0.177_702_735_714_041_15,
                0.946_778_471_990_589_3,
                -1.030_294_163_192_969_6,
                0.121_107_489_905_395_23,
            ],
        ),
        (
            0.5,
            [
                -0.578_043_295_303_536_1,
                0.863_384_000_919_419_2,
                -0.959_508_373_038_072_7,
                -0.065_049_151_267_120_9,
            ],
        ),
        (
            0.7,
            [
                -0.953_899_029_341_639_4,
                0.690_740_902_421_943_2,
                -0.821_267_427_087_743_4,
                -0.153_957_425_912_582_46,
            ],
        ),
        (
            0.9,
            [
                -1.295_266_250_987_574_4,
                0.400_393_896_379_232_1,
                -0.677_539_092_470_756_6,
                -0.127_083_815_427_868_6,
            ],
        ),
    ] {
        let fastest = ((1.0 + eccentricity) / (1.0 - eccentricity)).sqrt();
        let start = [1.0 - eccentricity, 0.0, 0.0, fastest];
        let got: [f64; 4] = (*follow(kepler, (0.0, start), 20.0, STEP).end()).into();
        let allowed = STEP * if eccentricity > 0.6 { 1e6 } else { 1e4 };
        let error = furthest(&got, &want);
        assert!(error < allowed, "e {eccentricity}: {error:e}");
    }
}

/// The error goes down with the tolerance: at least a thousandfold for ten thousand.
#[test]
fn law_the_error_follows_the_tolerance() {
    let want = [
        -0.578_043_295_303_536_1,
        0.863_384_000_919_419_2,
        -0.959_508_373_038_072_7,
        -0.065_049_151_267_120_9,
    ];
    let start = [0.5, 0.0, 0.0, 3.0_f64.sqrt()];
    let error = |both: f64| {
        let got: [f64; 4] = (*follow(kepler, (0.0, start), 20.0, both).end()).into();
        furthest(&got, &want)
    };
    let (loose, tight) = (error(1e-6), error(1e-10));
    assert!(tight < loose / 1e3, "{loose:e} to {tight:e}");
}

/// With the same first step both steppers take the very same steps, and agree to round-off
/// at every step's end and within it. Round-off of 1e-16 grows a few hundredfold over this orbit.
#[test]
fn reference_the_hand_written_stepper_takes_the_same_steps() {
    const BOTH: f64 = 1e-7;
    let start = [0.5, 0.0, 0.0, 3.0_f64.sqrt()];
    let leg = follow(kepler, (0.0, start), 6.0, BOTH);
    let (_, first_step_s) = leg.steps().next().unwrap();
    let control = Control {
        both_tolerances: BOTH,
        first_step_s,
        longest_step_s: 6.0,
    };
    let plain = |t: f64, y: &[f64; 4]| kepler(t, &State::from(*y)).into();
    let path = independent_stepper::follow(plain, (0.0, start), 6.0, &control);
    assert_eq!(path.len(), leg.steps().count());
    for (from, to) in leg.steps() {
        for time in [to, f64::midpoint(from, to), from + 0.2 * (to - from)] {
            let error = furthest(&leg.at(time).into(), &path.at(time));
            assert!(error < 1e-12, "at {time}: {error:e}");
        }
    }
}

/// `ode_solvers` judges our own stepper: on a long orbit close to the focus both take the same
/// number of steps, from the first that each chose itself. Rounding moves an error estimate at
/// this tolerance by some 1e-8 of itself, and the length of a step by a tenth of that; over the
/// orbit it grows some hundredfold.
#[test]
fn reference_both_steppers_take_the_same_steps() {
    for (eccentricity, both) in [(0.3_f64, 1e-5), (0.5, 1e-7), (0.9, 1e-9)] {
        let fastest = ((1.0 + eccentricity) / (1.0 - eccentricity)).sqrt();
        let start = State::from([1.0 - eccentricity, 0.0, 0.0, fastest]);
        let with = |stepper| -> Leg<4, usize> {
            let accuracy = Accuracy {
                stepper,
                ..tolerance(both)
            };
            integrate_leg::<4, 0, _>(&Smooth(kepler), (0.0, start), 20.0, None, &accuracy).unwrap()
        };
        let (judge, ours) = (with(Stepper::OdeSolvers), with(Stepper::FixedArrays));
        assert!(judge.steps().count() > 20);
        assert_eq!(judge.steps().count(), ours.steps().count());
        for (judged, tried) in judge.steps().zip(ours.steps()) {
            let length_s = judged.1 - judged.0;
            assert!(
                (judged.0 - tried.0).abs() < 1e-6 * length_s,
                "{judged:?} {tried:?}"
            );
            let inside_s = judged.0 + 0.3 * length_s;
            let apart = furthest(&judge.at(inside_s).into(), &ours.at(inside_s).into());
            assert!(apart < 1e-9, "{apart:e}");
        }
    }
}
