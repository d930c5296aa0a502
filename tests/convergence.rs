//! The convergence study behind the launch's accuracy, and the claims drawn from it.
//!
//! The table of `docs/numerics.md` is printed by
//! `CASES=600 cargo test --release --test convergence -- --nocapture`.
#![expect(clippy::unwrap_used, reason = "helpers of tests may fail as tests do")]

mod common;

use common::random::{Case, cases};
use common::watch::Meter;
use common::{coupe, rig, rpm};
use flyheft::car::track::Mark;
use flyheft::integrate::Accuracy;
use flyheft::launch::drive::{ACCURACY, drive};
use flyheft::launch::marks::Clock;
use flyheft::launch::{Attempt, run_with};
use std::time::Instant;

/// Random cars in the ordinary run of the tests.
const FEW_CASES: usize = 20;
/// A sixty-foot time beyond this, s, is an engine that all but stalled: what little drive it
/// has left grows exponentially, and so does any error.
const BOGGED_S: f64 = 4.0;

/// Both tolerances over those in use; steps no longer than half as long.
fn finer(times: f64) -> Accuracy {
    Accuracy {
        relative: ACCURACY.relative / times,
        absolute: ACCURACY.absolute / times,
        longest_step_s: ACCURACY.longest_step_s / 2.0,
    }
}

/// The tolerances over those in use; the longest step as it is.
fn coarser(times: f64) -> Accuracy {
    Accuracy {
        relative: ACCURACY.relative * times,
        absolute: ACCURACY.absolute * times,
        ..ACCURACY
    }
}

/// The invented coupé from low to high speeds, and random cars.
fn all_cases() -> Vec<Case> {
    let asked = std::env::var("CASES").ok().and_then(|n| n.parse().ok());
    let coupes = [2000.0, 2600.0, 3500.0, 4500.0, 5800.0, 6800.0].map(|n| Case {
        car: coupe(),
        attempt: Attempt::from_speed(rpm(n)),
    });
    let random = cases(asked.unwrap_or(FEW_CASES));
    coupes.into_iter().chain(random).collect()
}

/// Sixty-foot times, evaluations, microseconds a launch, energy gaps.
struct Row {
    times_s: Vec<Option<f64>>,
    evaluations: f64,
    micros: f64,
    gap: f64,
}

fn row(cases: &[Case], accuracy: &Accuracy) -> Row {
    let (mut evaluations, mut gap) = (0.0, 0.0_f64);
    let begun = Instant::now();
    let times_s = cases
        .iter()
        .map(|case| {
            let mut meter = Meter::new(Clock::new(Mark::Ft60));
            let rig = rig(&case.car, 0);
            drive(&rig, &case.attempt, Mark::Ft60, accuracy, &mut meter).unwrap();
            evaluations += f64::from(meter.evaluations);
            meter.clock.time_s(Mark::Ft60)
        })
        .collect::<Vec<_>>();
    let micros = begun.elapsed().as_secs_f64() * 1e6;
    for case in cases {
        let rig = rig(&case.car, 0);
        let energy = run_with(&rig, &case.attempt, Mark::Ft60, accuracy)
            .unwrap()
            .energy;
        gap = gap.max(energy.gap_j().abs() / energy.largest_j());
    }
    let launches = f64::from(u32::try_from(cases.len()).unwrap());
    Row {
        times_s,
        evaluations: evaluations / launches,
        micros: micros / launches,
        gap,
    }
}

/// How far times are from those of the finest row: the worst of those that did not bog, the
/// median, and the worst of all. `None` where a launch that stalls in one does not in the other.
fn apart(row: &Row, finest: &Row) -> Option<[f64; 3]> {
    let mut all = Vec::new();
    let mut worst = 0.0_f64;
    for pair in row.times_s.iter().zip(&finest.times_s) {
        match pair {
            (Some(time_s), Some(finest_s)) => {
                let apart_s = (time_s - finest_s).abs();
                all.push(apart_s);
                if *finest_s < BOGGED_S {
                    worst = worst.max(apart_s);
                }
            }
            (None, None) => {}
            _ => return None,
        }
    }
    all.sort_by(f64::total_cmp);
    Some([worst, *all.get(all.len() / 2)?, *all.last()?])
}

/// Tightening both tolerances a hundredfold and halving the longest step moves no sixty-foot
/// time below 4 s by a microsecond, and none at all by a tenth of a millisecond; the energy
/// account closes to a millionth. Ten times the tolerances would break the first and the last.
#[test]
fn law_sixty_foot_times_have_converged() {
    let cases = all_cases();
    let finest = row(&cases, &finer(1000.0));
    println!("relative  worst < 4 s     median      worst   energy gap  evaluations   µs");
    for (times, accuracy) in [
        (100.0, coarser(100.0)),
        (10.0, coarser(10.0)),
        (1.0, ACCURACY),
        (0.1, finer(10.0)),
        (0.01, finer(100.0)),
    ] {
        let row = row(&cases, &accuracy);
        let [worst, median, all] = apart(&row, &finest).unwrap();
        println!(
            "{:8.0e} {worst:12.1e} {median:10.1e} {all:10.1e} {:12.1e} {:12.0} {:4.0}",
            accuracy.relative, row.gap, row.evaluations, row.micros
        );
        if times <= 1.0 {
            assert!(worst < 1e-6 && all < 1e-4, "{worst:e}, {all:e}");
            assert!(row.gap < 1e-6, "{:e}", row.gap);
        }
    }
}
