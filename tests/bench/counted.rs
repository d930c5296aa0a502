//! What the work costs, counted and not timed: the machine this runs on has no say in it.
//!
//! `cargo bench --bench counted` prints launches, evaluations, steps, legs and allocations.
//! `cargo bench --bench counted -- NAME TIMES` does one piece of work so many times and nothing
//! else; the script `count` beside this file runs that under callgrind.
#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a benchmark stops at the first thing that is not there"
)]

#[path = "../common/mod.rs"]
mod common;
#[path = "rates.rs"]
mod rates;

use allocation_counter::measure;
use common::watch::Meter;
use flyheft::car::track::Mark;
use flyheft::car::{Car, Flywheel};
use flyheft::integrate::{Accuracy, Stepper};
use flyheft::launch::drive::drive;
use flyheft::launch::marks::Clock;
use flyheft::launch::{ACCURACY, Attempt, Rig, SCATTER_ACCURACY, SEARCH_ACCURACY, run, sixty_foot};
use flyheft::study::Progress;
use flyheft::study::compare::study_wheels;
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;
use rates::{Order, Passed};
use std::hint::black_box;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

/// The launch counted: the invented bogger on its fitted flywheel, rpm.
const LAUNCH_RPM: f64 = 3925.0;
/// Draws of the comparison counted.
const DRAWS: usize = 2048;

fn bogger() -> Car {
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/bogger.toml");
    match flyheft::sheet::read(&sheet) {
        Ok(reading) => reading.car,
        Err(refusal) => panic!("{}", refusal.render(false)),
    }
}

/// Counts launches as a study announces them.
#[derive(Default)]
struct Launches(AtomicUsize);

impl Progress for Launches {
    fn advance(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }
}

fn compare(car: &Car) -> usize {
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    let launches = Launches::default();
    let studies = study_wheels(car, &wheels, &launches).unwrap();
    let scatter = study_scatter(car, &studies, Draws::new(DRAWS, 1), &launches).unwrap();
    assert!(!scatter.pairs.is_empty());
    launches.0.into_inner()
}

fn main() {
    let mut asked = std::env::args().skip(1).filter(|word| word != "--bench");
    let car = bogger();
    let rig = Rig::new(&car, car.flywheels.fitted().expect("a fitted flywheel"));
    let attempt = Attempt::from_speed(common::rpm(LAUNCH_RPM));
    let (name, times) = (asked.next(), asked.next());
    let Some(name) = name else {
        return table(&car, &rig, &attempt);
    };
    if name == "precision" {
        let words: Vec<String> = times.into_iter().chain(asked).collect();
        return precision(&words);
    }
    let times: u32 = times.map_or(1, |times| times.parse().expect("how many times"));
    let mut passed = Passed::default();
    drive(&rig, &attempt, Mark::Ft60, &SEARCH_ACCURACY, &mut passed).unwrap();
    let short = |accuracy: &Accuracy| {
        black_box(sixty_foot(black_box(&rig), &attempt, accuracy).unwrap());
    };
    for _ in 0..times {
        match name.as_str() {
            "nothing" => {}
            "rates" => {
                black_box(passed.right_hand_sides(&rig, Order::Loop));
            }
            "chained" => {
                black_box(passed.right_hand_sides(&rig, Order::Chained));
            }
            "search" => short(&SEARCH_ACCURACY),
            "scatter" => short(&SCATTER_ACCURACY),
            "shown" => short(&ACCURACY),
            "report" => {
                black_box(run(black_box(&rig), &attempt, Mark::Ft60).unwrap());
            }
            "compare" => {
                black_box(compare(&car));
            }
            other => panic!("no work is called {other}"),
        }
    }
}

/// Times taken of each launch; the least counts.
const REPEATS: u32 = 40;

/// Error against cost of both steppers, for `peers.py`: a sheet, a flywheel, a launch speed in
/// rpm, and the true time from first bite to the mark, s.
fn precision(words: &[String]) {
    let [sheet, wheel, launch_rpm, true_s] = words else {
        panic!("a sheet, a flywheel, a speed in rpm and a time in s");
    };
    let Ok(reading) = flyheft::sheet::read(Path::new(sheet)) else {
        panic!("{sheet} cannot be read");
    };
    let wheel = reading.car.flywheels.named(wheel).expect("the flywheel");
    let rig = Rig::new(&reading.car, wheel);
    let attempt = Attempt::from_speed(common::rpm(launch_rpm.parse().expect("a speed")));
    let true_s: f64 = true_s.parse().expect("a time");
    for (name, stepper) in [
        ("ours", Stepper::FixedArrays),
        ("ode_solvers", Stepper::OdeSolvers),
    ] {
        for relative in [1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10] {
            let accuracy = Accuracy {
                relative,
                absolute: relative / 10.0,
                stepper,
                ..ACCURACY
            };
            let mut meter = Meter::new(Clock::new(Mark::Ft60));
            drive(&rig, &attempt, Mark::Ft60, &accuracy, &mut meter).unwrap();
            let error_s = meter.clock.since_bite_s(Mark::Ft60).unwrap() - true_s;
            let least = (0..REPEATS).map(|_| {
                let begun = Instant::now();
                black_box(sixty_foot(&rig, &attempt, &accuracy).unwrap());
                begun.elapsed()
            });
            let micros = least.min().unwrap().as_secs_f64() * 1e6;
            println!(
                "{name} {relative:e} {:e} {} {micros}",
                error_s.abs(),
                meter.evaluations
            );
        }
    }
}

/// Legs, steps, evaluations and allocations of one launch, and of a comparison.
fn table(car: &Car, rig: &Rig, attempt: &Attempt) {
    println!("bogger, fitted flywheel, {LAUNCH_RPM} rpm, to 60 ft");
    println!("launch                    legs  steps  evaluations  allocations");
    for (name, accuracy) in [
        ("short, scatter", SCATTER_ACCURACY),
        ("short, search", SEARCH_ACCURACY),
        ("short, as shown", ACCURACY),
    ] {
        let mut meter = Meter::new(Clock::new(Mark::Ft60));
        drive(rig, attempt, Mark::Ft60, &accuracy, &mut meter).unwrap();
        let seen = measure(|| {
            black_box(sixty_foot(rig, attempt, &accuracy).unwrap());
        });
        println!(
            "{name:24} {:5} {:6} {:12} {:12}",
            meter.legs, meter.steps, meter.evaluations, seen.count_total
        );
    }
    let seen = measure(|| {
        black_box(run(rig, attempt, Mark::Ft60).unwrap());
    });
    println!("{:24} {:38}", "full report, as shown", seen.count_total);
    // On this thread alone, so that every allocation is counted.
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(1)
        .use_current_thread()
        .build()
        .unwrap();
    let mut launches = 0;
    let seen = measure(|| launches = pool.install(|| compare(car)));
    println!(
        "compare, {} flywheels, {DRAWS} draws: {launches} launches announced, {} allocations",
        car.flywheels.all().len(),
        seen.count_total
    );
}
