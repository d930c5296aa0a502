//! Which flywheel to start with, on the demo cars.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::car::doubt::DoubtedCar;
use flyheft::sheet::{Reading, read};
use flyheft::study::Unwatched;
use flyheft::study::compare::study_wheels;
use flyheft::study::decide::{Decision, Depth, Question, decide};
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;
use std::path::Path;
use std::sync::OnceLock;

const AS_SUPPLIED: usize = 0;
const ALUMINIUM: usize = 3;
/// What a comparison of the bogger's four flywheels launches for its tables alone, to a hundred:
/// `flyheft compare demo-data/bogger.toml --json`, the four `launches` together.
const COMPARE_LAUNCHES: usize = 23_800;

fn bogger() -> &'static Reading {
    static READING: OnceLock<Reading> = OnceLock::new();
    READING.get_or_init(|| read(Path::new("demo-data/bogger.toml")).unwrap())
}

fn ask(doubted: &DoubtedCar, sheets: usize, seed: u32, depth: Depth) -> Decision {
    let question = Question {
        sheets,
        seed,
        depth,
        ..Question::default()
    };
    decide(doubted, question, &Unwatched).unwrap().unwrap()
}

/// The whole answer for the bogger with its usual doubts, worked out once.
fn whole() -> &'static Decision {
    static WHOLE: OnceLock<Decision> = OnceLock::new();
    WHOLE.get_or_init(|| ask(&bogger().doubted, 256, 1, Depth::Whole))
}

/// The bogger with nothing in doubt but one input, at a value.
fn with(key: &str, value: f64) -> DoubtedCar {
    let doubted = &bogger().doubted;
    let mut values: Vec<f64> = doubted.inputs().iter().map(|input| input.nominal).collect();
    values[doubted.position(key).unwrap()] = value;
    let car = doubted.with_values(&values).unwrap();
    DoubtedCar::new(car, Vec::new(), |_| None)
}

/// The asymmetry that decides: the lighter the wheel, the more it loses on average and in the
/// worst case of twenty, although none is far likelier than another to be the best. A trial of
/// 120 sheets with the usual doubts gave mean losses of 2, 4, 18 and 49 ms, 4, 22, 85 and 205 ms
/// in the worst 1 in 20, and chances of 23, 25, 32 and 21 %.
#[test]
fn law_the_wheel_likeliest_to_be_best_is_not_the_one_to_start_with() {
    let decision = whole();
    for pair in decision.wheels.windows(2) {
        assert!(pair[0].loss_mean_s < pair[1].loss_mean_s);
        assert!(pair[0].loss_p95_s < pair[1].loss_p95_s);
    }
    let first = &decision.wheels[AS_SUPPLIED].season;
    for wheel in &decision.wheels {
        assert!(first.loss_s <= wheel.season.loss_s, "{}", wheel.name);
        assert!((0.1..0.5).contains(&wheel.chance_best), "{}", wheel.name);
    }
    assert!(decision.wheels[AS_SUPPLIED].loss_p95_s < 0.012);
    assert!(decision.wheels[ALUMINIUM].loss_p95_s > 0.1);
    assert_eq!(decision.verdict.start_with, AS_SUPPLIED);
    assert!(decision.verdict.leave_metal_on);
}

/// Grip and sliding share carry nearly all that is worth knowing.
#[test]
fn law_the_tyre_is_what_to_find_out_first() {
    let found = &whole().find_out_first;
    let first: Vec<&str> = found
        .iter()
        .take(3)
        .map(|found| found.key.as_str())
        .collect();
    assert!(
        first.contains(&"tyre.grip") || first.contains(&"tyre.sliding_share"),
        "{first:?}"
    );
    for found in found {
        assert!(found.worth.value_s >= 0.0 && found.worth.value_s <= whole().everything_worth_s);
    }
}

/// The answer to 256 sheets takes at most four times a comparison's launches.
#[test]
fn law_a_decision_is_no_dearer_than_four_comparisons() {
    assert!(
        whole().launches <= 4 * COMPARE_LAUNCHES,
        "{}",
        whole().launches
    );
}

/// The verdict in short costs a comparison no more than half as much again.
#[test]
fn law_the_verdict_in_short_is_no_dearer_than_half_a_comparison() {
    let question = Question::in_short(&bogger().car, 1);
    let decision = decide(&bogger().doubted, question, &Unwatched)
        .unwrap()
        .unwrap();
    let launches = decision.launches;
    assert!(2 * launches <= COMPARE_LAUNCHES, "{launches}");
}

/// The verdict in short says by itself what could change it, and whatever the seed it is the tyre:
/// its grip and what is left of it when it spins, as the whole answer says of what to find out.
#[test]
fn law_the_tyre_is_what_moves_the_verdict_in_short() {
    for seed in 1..=3 {
        let question = Question::in_short(&bogger().car, seed);
        let decision = decide(&bogger().doubted, question, &Unwatched)
            .unwrap()
            .unwrap();
        let mut first: Vec<&str> = decision.moved[..2]
            .iter()
            .map(|moved| moved.key.as_str())
            .collect();
        first.sort_unstable();
        assert_eq!(first, ["tyre.grip", "tyre.sliding_share"], "seed {seed}");
        assert!(decision.moved[1].by_s > 0.001);
    }
}

/// A sliding share of 0.7 or 0.9 in place of 0.8, the very ends of its usual doubt, all else as
/// stated, is within what was told: no wheel loses more than in the worst sheet drawn, and all
/// but the lightest no more than in their worst case of twenty, to two milliseconds of this one
/// sheet's own error. That the lightest does is no fault of the percentile: the end of a range is
/// rarer than one case in twenty.
#[test]
fn law_another_sliding_share_stays_within_what_was_told() {
    let told = whole();
    for share in [0.7, 0.9] {
        let turned = ask(&with("tyre.sliding_share", share), 32, 1, Depth::Verdict);
        for (place, (turned, told)) in turned.wheels.iter().zip(&told.wheels).enumerate() {
            let limit = if place == ALUMINIUM {
                told.loss_worst_s
            } else {
                told.loss_p95_s
            };
            assert!(
                turned.loss_mean_s <= limit + 0.002,
                "{} at {share}: {} over {limit}",
                told.name,
                turned.loss_mean_s
            );
        }
    }
}

/// Loss in the worst 1 in 20 of 256 sheets, with its interval, against that of four times as many
/// sheets of another seed, as large as their own intervals say.
#[test]
#[ignore = "a minute or two"]
fn reference_the_worst_of_twenty_is_what_more_sheets_say() {
    let more = ask(&bogger().doubted, 1024, 7, Depth::Verdict);
    for (told, more) in whole().wheels.iter().zip(&more.wheels) {
        let (own, other) = (&told.loss_p95_interval_s, &more.loss_p95_interval_s);
        assert!(
            own.low <= other.high && other.low <= own.high,
            "{}",
            told.name
        );
        println!(
            "{}: {} {own:?}, {} {other:?}",
            told.name, told.loss_p95_s, more.loss_p95_s
        );
    }
}

/// Over 20 seeds the start is the same, or it is not called sure; and what a start loses over the
/// season lies in each seed's own interval, told by the mean over all seeds, in 17 of 20 at least (a
/// true 95 % has a chance of 2 in 100 of less).
#[test]
#[ignore = "some minutes"]
fn law_twenty_seeds_agree_or_nothing_is_sure_and_their_intervals_hold() {
    const SEEDS: u32 = 20;
    let all: Vec<Decision> = (1..=SEEDS)
        .map(|seed| ask(&bogger().doubted, 64, seed, Depth::Verdict))
        .collect();
    let starts: Vec<usize> = all.iter().map(|one| one.verdict.start_with).collect();
    let sure = all.iter().filter(|one| one.verdict.sure).count();
    println!("starts {starts:?}, sure {sure}");
    let first = starts[0];
    assert!(
        all.iter()
            .all(|one| one.verdict.start_with == first || !one.verdict.sure)
    );
    if starts.iter().any(|start| *start != first) {
        assert_eq!(sure, 0, "{starts:?}");
    }
    for wheel in 0..all[0].wheels.len() {
        let seasons = || all.iter().map(|one| &one.wheels[wheel].season);
        let mean_s = seasons().map(|season| season.loss_s).sum::<f64>() / f64::from(SEEDS);
        let held = seasons()
            .filter(|season| season.interval_s.contains(mean_s))
            .count();
        println!("{}: {mean_s}, held in {held}", all[0].wheels[wheel].name);
        assert!(held >= 17, "{}: {held}", all[0].wheels[wheel].name);
    }
}

/// With nothing in doubt there is one sheet, and the means are those that a comparison finds
/// from thousands of launches: to 2 ms, where a few stalls in a thousand make that much of it.
#[test]
fn reference_with_nothing_in_doubt_it_says_what_compare_says() {
    let car = &bogger().car;
    let certain = DoubtedCar::new(car.clone(), Vec::new(), |_| None);
    let decision = ask(&certain, 256, 1, Depth::Verdict);
    assert_eq!(decision.drawn.sheets.len(), 1);
    let wheels: Vec<_> = car.flywheels.all().iter().collect();
    let studies = study_wheels(car, &wheels, &Unwatched).unwrap();
    let scatter = study_scatter(car, &studies, Draws::new(2048, 1), &Unwatched).unwrap();
    let compared: Vec<f64> = scatter
        .wheels
        .iter()
        .map(|wheel| wheel.aim.mean_s)
        .collect();
    for (wheel, mean_s) in decision.wheels.iter().zip(&compared) {
        let error = wheel.counted_mean_s() - mean_s;
        assert!(error.abs() < 0.002, "{}: {error}", wheel.name);
    }
    let best = compared.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(compared[decision.verdict.start_with] < best + 0.000_5);
}

/// Whatever the seed, few sheets or many, the start is the same, or it is not called sure.
#[test]
fn law_seeds_agree_or_nothing_is_sure() {
    for seed in 2..=5 {
        let verdict = ask(&bogger().doubted, 64, seed, Depth::Verdict).verdict;
        assert!(
            verdict.start_with == whole().verdict.start_with || !verdict.sure,
            "{seed}"
        );
    }
}
