//! How long one launch takes to compute: an invented car that hooks up, and the same car
//! spinning its tyres, to 60 ft and over the quarter mile.

use divan::{Bencher, black_box};
use flyheft::car::track::Mark;
use flyheft::integrate::Accuracy;
use flyheft::launch::drive::drive;
use flyheft::launch::{ACCURACY, Attempt, SCATTER_ACCURACY, SEARCH_ACCURACY, run, sixty_foot};

#[path = "../common/mod.rs"]
mod common;
#[path = "rates.rs"]
mod rates;

use rates::{Order, Passed};

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

/// How finely: behind a mean, behind a quickest launch, shown by itself.
#[derive(Debug, Clone, Copy)]
enum Fine {
    Scatter,
    Search,
    Shown,
}

impl Fine {
    const ALL: [Self; 3] = [Self::Scatter, Self::Search, Self::Shown];

    fn accuracy(self) -> Accuracy {
        match self {
            Self::Scatter => SCATTER_ACCURACY,
            Self::Search => SEARCH_ACCURACY,
            Self::Shown => ACCURACY,
        }
    }
}

/// The short form that studies use, from low speed.
#[divan::bench(args = Fine::ALL)]
fn sixty_foot_time(bencher: Bencher, fine: Fine) {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    let accuracy = fine.accuracy();
    bencher.bench_local(|| sixty_foot(black_box(&rig), &Tyres::Grip.attempt(), &accuracy));
}

/// The right-hand sides of that launch at a search's accuracy, and nothing else.
#[divan::bench(args = [Order::Loop, Order::Chained])]
fn right_hand_sides(bencher: Bencher, order: Order) {
    let car = common::coupe();
    let rig = common::rig(&car, 1);
    let mut passed = Passed::default();
    let attempt = Tyres::Grip.attempt();
    if drive(&rig, &attempt, Mark::Ft60, &SEARCH_ACCURACY, &mut passed).is_ok() {
        bencher.bench_local(|| passed.right_hand_sides(black_box(&rig), order));
    }
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
