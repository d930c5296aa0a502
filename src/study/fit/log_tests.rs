//! Logs made by the model with a known truth, on clocks of their own, with errors and gaps.

use super::coverage_tests::normal;
use super::logs::with_log;
use super::model::{FOR_SLOPES, SPEED_READ_ERROR_RAD_S, predicted};
use super::{Fit, FitQuestion, fit};
use crate::car::Car;
use crate::car::clutch::Capacity;
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::doubt::{Doubt, DoubtOrigin, DoubtedCar, DoubtedInput};
use crate::car::logged_run::{Channel, Logged, LoggedRun};
use crate::car::sample::live_axle_saloon;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::launch::trace::TracePoint;
use crate::launch::{Rig, trace};
use crate::numerics::checked::Positive;
use crate::study::Unwatched;
use crate::study::scatter::scattered_rig::ScatteredRig;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;

/// What is in doubt: value and standard deviation.
const GRIP: (f64, f64) = (1.16, 0.05);
const CAPACITY_NM: (f64, f64) = (340.0, 25.0);
/// Launches for the draws of a fit: a thousand draws, and a third of that where only the middle of
/// what is learnt counts and not the ends of its interval, which come out too narrow so.
const LAUNCHES: usize = 3_000;
const FEW_LAUNCHES: usize = 1_000;
/// Runs of a meeting, all logged.
const RUNS: usize = 3;

fn with(grip: f64, capacity_nm: f64) -> Option<Car> {
    let mut car = live_axle_saloon();
    car.tyre.grip = Positive::new(grip)?;
    car.clutch.capacity = Capacity::Given(Positive::new(capacity_nm)?);
    Some(car)
}

fn doubted() -> DoubtedCar {
    let input = |key: &str, (nominal, deviation): (f64, f64)| DoubtedInput {
        key: key.into(),
        nominal,
        doubt: Doubt::Normal { deviation },
        origin: DoubtOrigin::Usual,
    };
    let inputs = vec![
        input("tyre.grip", GRIP),
        input("clutch.capacity", CAPACITY_NM),
    ];
    let nominal = with(GRIP.0, CAPACITY_NM.0).expect("a car");
    DoubtedCar::new(nominal, inputs, |values| {
        with(*values.first()?, *values.get(1)?)
    })
}

/// How a logger takes down a run.
#[derive(Clone, Copy)]
struct Logger {
    /// Readings are so far apart, s.
    every_s: f64,
    /// Its clock at first bite, s.
    bite_at_s: f64,
    /// From when to when after first bite nothing was taken down, s.
    gap_s: Option<(f64, f64)>,
}

const AT_100_HZ: Logger = Logger {
    every_s: 0.01,
    bite_at_s: 3.21,
    gap_s: None,
};

impl Logger {
    fn channel(
        self,
        channel: Channel,
        (before, points): (f64, &[TracePoint]),
        error: &mut dyn FnMut() -> f64,
    ) -> Logged {
        let mut readings = Vec::new();
        let mut time_s = -1.0;
        let last_s = points.last().map_or(0.0, |point| point.time_s);
        while time_s < last_s {
            // Points lie a millisecond apart.
            let place = points.partition_point(|point| point.time_s < time_s);
            let value = match points.get(place) {
                Some(point) if time_s >= 0.0 => point.reading(channel),
                _ => before,
            };
            if self
                .gap_s
                .is_none_or(|(from, to)| !(from..to).contains(&time_s))
            {
                readings.push((self.bite_at_s + time_s, value + error()));
            }
            time_s += self.every_s;
        }
        Logged { channel, readings }
    }
}

/// A run with its slip to 60 ft and its log of engine and input shaft.
fn logged(truth: &Car, row: usize, logger: Logger, chance: &mut ChaCha8Rng) -> Slip {
    let speed = (2800.0 + 200.0 * f64::from(u32::try_from(row).expect("small"))) * RAD_S_PER_RPM;
    let [release, grip] = std::array::from_fn(|_| normal(chance));
    let rig = ScatteredRig::new(Rig::new(truth, &truth.flywheels.all()[0]));
    let attempt = rig.law.attempt(speed, release, grip);
    let points = trace(&rig.rig, &attempt, Mark::Ft60, 0.001).expect("a launch");
    let mut error = || SPEED_READ_ERROR_RAD_S * normal(chance);
    let channels = [(Channel::Engine, speed), (Channel::InputShaft, 0.0)]
        .map(|(channel, before)| logger.channel(channel, (before, &points), &mut error));
    let mut slip = Slip {
        row,
        wheel: 0,
        meeting: None,
        launch_speed_rad_s: Some(speed),
        figures: vec![SlipFigure {
            shown: Shown::Time(Mark::Ft60),
            value: 0.0,
            step: 0.001,
        }],
        log: Some(LoggedRun {
            channels: channels.to_vec(),
        }),
        remark: None,
    };
    let times = predicted(truth, &slip, speed, &[release, grip, 0.0, 0.0], &FOR_SLOPES);
    slip.figures[0].value = times.expect("a run to 60 ft")[0];
    slip
}

fn meeting(truth: &Car, logger: Logger, seed: u64) -> Vec<Slip> {
    let mut chance = ChaCha8Rng::seed_from_u64(seed);
    (1..=RUNS)
        .map(|row| logged(truth, row, logger, &mut chance))
        .collect()
}

fn fitted(slips: &[Slip], launches_for_draws: usize) -> Fit {
    let doubted = doubted();
    let told: Vec<Slip> = slips
        .iter()
        .map(|slip| with_log(doubted.nominal(), slip).expect("a launch"))
        .collect();
    let question = FitQuestion {
        launches_for_draws,
        ..FitQuestion::new(vec!["tyre.grip".into(), "clutch.capacity".into()], 1)
    };
    fit(&doubted, &told, &question, &Unwatched).expect("a fit")
}

fn truth() -> Car {
    with(1.19, 360.0).expect("a car")
}

/// Slips alone know next to nothing of the clutch; a log of the engine's fall and the input
/// shaft's rise does.
#[test]
fn law_a_log_tells_of_the_clutch_what_slips_cannot() {
    let slips = meeting(&truth(), AT_100_HZ, 5);
    let bare: Vec<Slip> = slips
        .iter()
        .map(|slip| Slip {
            log: None,
            ..slip.clone()
        })
        .collect();
    let [with, without] =
        [&slips, &bare].map(|slips| fitted(slips, FEW_LAUNCHES).unknowns[1].posterior_sd);
    assert!(with < 0.8 * without, "{with} N·m with, {without} without");
}

/// A logger that was switched on an hour ago takes down the same run. Times on its clock are
/// rounded otherwise in their last digits, and readings are told apart to a microsecond.
#[test]
fn law_what_a_loggers_clock_shows_does_not_matter() {
    let late = Logger {
        bite_at_s: 3600.0 + 3.21,
        ..AT_100_HZ
    };
    let [one, other] =
        [AT_100_HZ, late].map(|logger| fitted(&meeting(&truth(), logger, 5), FEW_LAUNCHES));
    for (a, b) in one.unknowns.iter().zip(&other.unknowns) {
        assert!((a.posterior - b.posterior).abs() < 1e-3 * a.posterior_sd);
    }
}

/// A gap and a slow logger leave fewer readings, and none is made up for them.
#[test]
fn law_only_what_was_read_counts() {
    let count = |logger: Logger| {
        let slips = meeting(&truth(), logger, 5);
        let told = with_log(&truth(), &slips[0]).expect("a launch");
        let read = told
            .figures
            .iter()
            .filter(|figure| figure.shown.logged_at().is_some());
        read.count()
    };
    let gap_s = Some((0.15, 1.0));
    let gapped = Logger { gap_s, ..AT_100_HZ };
    let slow = Logger {
        every_s: 0.2,
        ..AT_100_HZ
    };
    let whole = count(AT_100_HZ);
    assert_eq!(whole, 6);
    assert!((2..whole).contains(&count(gapped)), "{}", count(gapped));
    assert!(count(slow) < whole, "{}", count(slow));
}

/// A reading gone wild every third of a second does not move what is learnt.
#[test]
fn law_a_wild_reading_does_no_harm() {
    let slips = meeting(&truth(), AT_100_HZ, 5);
    let mut wild = slips.clone();
    let log = wild[0].log.as_mut().expect("a log");
    let engine = &mut log.channels[0].readings;
    for (_, value) in engine.iter_mut().skip(100).step_by(33) {
        *value += 300.0;
    }
    let [quiet, wild] = [&slips, &wild].map(|slips| fitted(slips, FEW_LAUNCHES));
    for (a, b) in quiet.unknowns.iter().zip(&wild.unknowns) {
        let moved = (a.posterior - b.posterior).abs();
        assert!(moved < a.posterior_sd, "{}: {moved}", a.input.key);
    }
}

/// How many of so many meetings have grip and capacity within their 95 % intervals.
fn covered(meetings: u64) -> [usize; 2] {
    let mut within = [0; 2];
    for seed in 0..meetings {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let truth = [GRIP, CAPACITY_NM].map(|(mean, sd)| mean + sd * normal(&mut chance));
        let car = with(truth[0], truth[1]).expect("a car");
        let logger = Logger {
            every_s: [0.01, 0.02, 0.05][usize::try_from(seed % 3).expect("small")],
            bite_at_s: 2.0 + normal(&mut chance).abs(),
            gap_s: (seed % 4 == 0).then_some((0.5, 0.9)),
        };
        let fit = fitted(&meeting(&car, logger, 1000 + seed), LAUNCHES);
        for ((unknown, truth), count) in fit.unknowns.iter().zip(truth).zip(&mut within) {
            let (low, high) = unknown.interval;
            *count += usize::from((low..=high).contains(&truth));
        }
    }
    println!("{meetings} meetings with logs: {within:?} of grip, capacity held");
    within
}

/// Of six intervals of 95 %, fewer than four hold the truth once in 450 (binomial): this finds
/// intervals that are plainly too narrow; the long run below finds the rest.
#[test]
fn law_most_intervals_from_logs_hold_the_truth() {
    for held in covered(6) {
        assert!(held >= 4, "{held} of 6");
    }
}

/// 200 meetings: 90 to 98 of 100 intervals hold the truth.
#[test]
#[ignore = "takes many minutes; run on request"]
fn law_intervals_from_logs_hold_the_truth_in_90_to_98_of_100() {
    for held in covered(200) {
        assert!((180..=196).contains(&held), "{held} of 200");
    }
}
