//! How long one launch takes to compute: an invented car that hooks up, and the same car
//! spinning its tyres, to 60 ft and over the quarter mile.

use divan::{Bencher, black_box};
use flyheft::car::track::Mark;
use flyheft::launch::{ACCURACY, Attempt, run, sixty_foot};

#[path = "../common/mod.rs"]
mod common;

fn main() {
    divan::main();
}

/// What the tyres do.
#[derive(Debug, Clone, Copy)]
enum Tyres {
    /// Launched low: they grip, the clutch slips.
    Grip,
    /// Launched high: they spin almost to 60 ft.
    Spin,
}

impl Tyres {
    const ALL: [Self; 2] = [Self::Grip, Self::Spin];

    fn attempt(self) -> Attempt {
        Attempt::from_speed(common::rpm(match self {
            Self::Grip => 2600.0,
            Self::Spin => 5800.0,
        }))
    }
}

/// The short form that studies use.
#[divan::bench(args = Tyres::ALL)]
fn sixty_foot_time(bencher: Bencher, tyres: Tyres) {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    bencher.bench_local(|| sixty_foot(black_box(&rig), &tyres.attempt(), &ACCURACY));
}

/// The full report, energy account and all.
#[divan::bench(args = Tyres::ALL)]
fn report_to_sixty_foot(bencher: Bencher, tyres: Tyres) {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    bencher.bench_local(|| run(black_box(&rig), &tyres.attempt(), Mark::Ft60));
}

/// The full report over the quarter mile, shifts included.
#[divan::bench(args = Tyres::ALL)]
fn report_to_quarter_mile(bencher: Bencher, tyres: Tyres) {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    bencher.bench_local(|| run(black_box(&rig), &tyres.attempt(), Mark::Ft1320));
}
