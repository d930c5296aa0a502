//! Whether 95 % intervals hold the truth: meetings made by the model, each with a truth of its own
//! drawn from what the sheet thought possible, and with the chances and readings of every run.

use super::{Fit, FitQuestion, fit};
use crate::car::Car;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::doubt::{Doubt, DoubtOrigin, DoubtedCar, DoubtedInput};
use crate::car::sample::live_axle_saloon;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::car::tyre::FrictionShape;
use crate::launch::Rig;
use crate::numerics::checked::Positive;
use crate::numerics::importance::WeightedDraws;
use crate::numerics::quantile::standard_normal;
use crate::study::Unwatched;
use crate::study::decide::own_aim::own_aim;
use crate::study::fit::model::{FOR_SLOPES, RunChances, TIMING_ERROR_S, predicted};
use crate::study::scatter::scattered_rig::ScatteredRig;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use std::ops::Range;

const KEYS: [&str; 2] = ["tyre.grip", "tyre.sliding_share"];
pub(super) const GRIP: (f64, f64) = (1.16, 0.05);
pub(super) const SLIDING_SHARE: (f64, f64) = (0.80, 0.04);
pub(super) const RUNS: usize = 8;
/// Launches for the draws of a fit: the ends of an interval from them are good to a tenth of its
/// width.
const LAUNCHES: usize = 6_000;
/// Launches for the draws of a fit where time counts: they make the fewest draws that a fit makes.
pub(super) const FEW_LAUNCHES: usize = 2_000;
/// What a missed shift costs before 330 ft, s.
const MISSED_SHIFT_S: f64 = 0.5;
/// Last digit of a slip, s.
const DIGIT_S: f64 = 0.001;

pub(super) fn with(grip: f64, sliding_share: f64) -> Option<Car> {
    let mut car = live_axle_saloon();
    car.tyre.grip = Positive::new(grip)?;
    let peak_slip = Positive::new(car.tyre.shape.peak_slip())?;
    car.tyre.shape = FrictionShape::new(peak_slip, Positive::new(sliding_share)?).ok()?;
    Some(car)
}

pub(super) fn doubted() -> DoubtedCar {
    let input = |key: &str, (nominal, deviation): (f64, f64)| DoubtedInput {
        key: key.into(),
        nominal,
        doubt: Doubt::Normal { deviation },
        origin: DoubtOrigin::Usual,
    };
    let inputs = vec![input(KEYS[0], GRIP), input(KEYS[1], SLIDING_SHARE)];
    DoubtedCar::new(
        with(GRIP.0, SLIDING_SHARE.0).expect("a car"),
        inputs,
        |values| with(*values.first()?, *values.get(1)?),
    )
}

pub(super) fn normal(chance: &mut ChaCha8Rng) -> f64 {
    let share = (f64::from(chance.next_u32()) + 0.5) / (f64::from(u32::MAX) + 1.0);
    standard_normal(share)
}

/// A run of a true car: launch speed as read, not as driven, times with the strip's error and
/// rounded.
pub(super) fn run(truth: &Car, row: usize, chance: &mut ChaCha8Rng) -> Slip {
    let rpm = 2600.0 + 120.0 * f64::from(u32::try_from(row).expect("small"));
    let speed = rpm * RAD_S_PER_RPM;
    let [release, grip, read] = std::array::from_fn(|_| normal(chance));
    let chances: RunChances = [release, grip, read, 0.0];
    let figure = |mark| SlipFigure {
        shown: Shown::Time(mark),
        value: 0.0,
        step: DIGIT_S,
    };
    let mut slip = Slip {
        row,
        wheel: 0,
        meeting: None,
        launch_speed_rad_s: Some(speed),
        figures: vec![figure(Mark::Ft60), figure(Mark::Ft330)],
        log: None,
        remark: None,
    };
    let times = predicted(truth, &slip, speed, &chances, &FOR_SLOPES).expect("a run to 330 ft");
    for (figure, time_s) in slip.figures.iter_mut().zip(times) {
        let read = time_s + TIMING_ERROR_S * normal(chance);
        figure.value = (read / DIGIT_S).round() * DIGIT_S;
    }
    slip
}

/// Mean sixty-foot time of a car with its first flywheel less that with its second, each at its
/// own aim: what the choice between them hangs on.
fn difference_s(car: &Car) -> f64 {
    let [first, second] = [0, 1].map(|wheel| {
        let wheel = &car.flywheels.all()[wheel];
        let rig = ScatteredRig::new(Rig::new(car, wheel));
        let aim = own_aim(&rig, &car.driver.launch_range).expect("launches");
        aim.expect("an aim").mean_s
    });
    first - second
}

/// [`difference_s`] over all that the sheet thinks possible, on a grid and straight in between.
struct Differences {
    at: Vec<Vec<f64>>,
}

/// The grid reaches so many standard deviations to either side, in so many steps.
const REACH: f64 = 4.0;
const STEPS: u32 = 16;

impl Differences {
    fn new() -> Self {
        let steps = || (0..=STEPS).map(f64::from);
        let value = |(mean, sd): (f64, f64), step: f64| {
            mean + REACH * sd * (2.0 * step / f64::from(STEPS) - 1.0)
        };
        let difference = |grip: f64, share: f64| {
            let car = with(value(GRIP, grip), value(SLIDING_SHARE, share));
            difference_s(&car.expect("a car"))
        };
        let row = |grip: f64| steps().map(|share| difference(grip, share)).collect();
        Self {
            at: steps().map(row).collect(),
        }
    }

    fn of(&self, values: &[f64]) -> f64 {
        let place = |value: f64, (mean, sd): (f64, f64)| {
            let last = f64::from(STEPS);
            let steps = (0.5 * last * (1.0 + (value - mean) / (REACH * sd))).clamp(0.0, last);
            let cell = (0..STEPS - 1)
                .take_while(|cell| f64::from(cell + 1) < steps)
                .count();
            (cell, steps - f64::from(u32::try_from(cell).expect("few")))
        };
        let (row, down) = place(values[0], GRIP);
        let (column, across) = place(values[1], SLIDING_SHARE);
        let along = |row: &[f64]| row[column] * (1.0 - across) + row[column + 1] * across;
        along(&self.at[row]) * (1.0 - down) + along(&self.at[row + 1]) * down
    }

    /// The 95 % interval that a fit leaves.
    fn interval(&self, fit: &Fit) -> (f64, f64) {
        let draws = fit.draws.draws.iter();
        let differences = WeightedDraws {
            draws: draws.map(|values| vec![self.of(values)]).collect(),
            weights: fit.draws.weights.clone(),
        };
        (
            differences.quantile(0, 0.025),
            differences.quantile(0, 0.975),
        )
    }
}

/// The grid's step is half a standard deviation. In the middle of its cells it is good to 2 ms,
/// which counts for the truth and for the draws about it alike.
#[test]
fn reference_differences_off_the_grid() {
    let differences = Differences::new();
    for (grip, share) in [(1.1225, 0.79), (1.1725, 0.83), (1.2225, 0.71)] {
        let right = difference_s(&with(grip, share).expect("a car"));
        let grid = differences.of(&[grip, share]);
        assert!((right - grid).abs() < 0.002, "{right} {grid}");
    }
}

/// What happened at a meeting that the model cannot know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mishap {
    None,
    /// Half a second lost in a shift of one run.
    MissedShift,
}

/// How many of so many meetings have grip, sliding share and the flywheels' difference within
/// their 95 % intervals.
fn covered(meetings: Range<u64>, mishap: Mishap, launches: usize) -> [usize; 3] {
    let mut within = [0; 3];
    let doubted = doubted();
    let differences = Differences::new();
    for seed in meetings.clone() {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let truth = [GRIP, SLIDING_SHARE].map(|(mean, sd)| mean + sd * normal(&mut chance));
        let car = with(truth[0], truth[1]).expect("a car");
        let mut slips: Vec<Slip> = (1..=RUNS).map(|row| run(&car, row, &mut chance)).collect();
        if mishap == Mishap::MissedShift {
            slips[3].figures[1].value += MISSED_SHIFT_S;
        }
        let fit = fit(&doubted, &slips, &question(launches), &Unwatched).expect("a fit");
        let intervals = [
            fit.unknowns[0].interval,
            fit.unknowns[1].interval,
            differences.interval(&fit),
        ];
        let truths = [truth[0], truth[1], differences.of(&truth)];
        for (((low, high), truth), count) in intervals.iter().zip(truths).zip(&mut within) {
            *count += usize::from((*low..=*high).contains(&truth));
        }
    }
    println!(
        "meetings {meetings:?}, {mishap:?}: {within:?} of grip, sliding share, difference held"
    );
    within
}

pub(super) fn question(launches_for_draws: usize) -> FitQuestion {
    FitQuestion {
        launches_for_draws,
        ..FitQuestion::new(KEYS.map(String::from).to_vec(), 1)
    }
}

/// Of thirty intervals of 95 %, fewer than 25 hold the truth once in 300 (binomial): this finds
/// intervals that are plainly too narrow; the long run below finds the rest.
#[test]
fn law_most_intervals_hold_the_truth() {
    for held in covered(0..30, Mishap::MissedShift, FEW_LAUNCHES) {
        assert!(held >= 25, "{held} of 30");
    }
}

/// 200 meetings: 90 to 98 of 100 intervals hold the truth, with a missed shift and without.
#[test]
#[ignore = "takes many minutes; run on request"]
fn law_intervals_of_95_percent_hold_the_truth_in_90_to_98_of_100() {
    hold_as_they_should(0..200);
}

/// What the slips may say was chosen on the meetings above: these had no part in it.
#[test]
#[ignore = "takes many minutes; run on request"]
fn law_intervals_of_95_percent_hold_the_truth_of_other_meetings() {
    hold_as_they_should(1000..1200);
}

fn hold_as_they_should(meetings: Range<u64>) {
    let all = [Mishap::None, Mishap::MissedShift]
        .map(|mishap| covered(meetings.clone(), mishap, LAUNCHES));
    for held in all.into_iter().flatten() {
        assert!((180..=196).contains(&held), "{held} of 200");
    }
}
