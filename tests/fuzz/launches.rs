//! Whatever car the reader accepts, and whatever sensible car is drawn: a launch ends, and every
//! number that it reports is one.

use crate::common::random::any_case;
use crate::common::rig;
use crate::spoil::{SHEETS, below, number, pick, share};
use flyheft::car::Car;
use flyheft::car::track::Mark;
use flyheft::launch::{Attempt, Outcome, run};
use flyheft::sheet::read_text;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use rand_chacha::rand_core::Rng;

/// Most numbers changed in one sheet.
const MOST: usize = 12;

#[test]
fn law_a_launch_of_any_car_that_the_reader_accepts_ends_in_numbers() {
    crate::try_cases("launches of spoilt sheets", 200, |random| {
        let whole = pick(random, &SHEETS);
        let mut text = whole.text.clone();
        for _ in 0..=below(random, MOST) {
            number(random, &mut text);
        }
        let Ok(reading) = read_text(&whole.path, &text) else {
            return "refused";
        };
        let car = &reading.car;
        let wheel = below(random, car.flywheels.all().len());
        let range = &car.driver.launch_range;
        let (low, high) = (range.low_rad_s(), range.high_rad_s());
        let attempt = Attempt::from_speed(low + share(random) * (high - low));
        launched(car, wheel, &attempt, Mark::Ft60)
    });
}

#[test]
fn law_a_launch_of_any_car_drawn_ends_in_numbers() {
    crate::try_cases("launches of drawn cars", 200, |random| {
        let mut seed = [0; 32];
        random.fill_bytes(&mut seed);
        let chance = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
        let mut runner = TestRunner::new_with_rng(Config::default(), chance);
        let case = any_case().new_tree(&mut runner).unwrap().current();
        launched(&case.car, below(random, 2), &case.attempt, Mark::Ft60)
    });
}

/// One launch, every figure of its report looked at.
fn launched(car: &Car, wheel: usize, attempt: &Attempt, to: Mark) -> &'static str {
    let launch = run(&rig(car, wheel), attempt, to).unwrap_or_else(|error| {
        panic!("{error}\n{car:#?}\n{attempt:?}");
    });
    // What is no number, and what is beyond all numbers, is written so and never otherwise:
    // names come from the sheets of the tree, which hold neither.
    let told = format!("{launch:?}");
    let words = told.split(|letter: char| !letter.is_alphanumeric());
    for word in words {
        assert!(
            word != "NaN" && word != "inf",
            "{told}\n{car:#?}\n{attempt:?}"
        );
    }
    if let Some(time_s) = launch.sixty_foot_s() {
        assert!(time_s > 0.0, "{time_s} s\n{car:#?}\n{attempt:?}");
    }
    match launch.ending.outcome {
        Outcome::Finished => "finished",
        Outcome::Stalled => "stalled",
        Outcome::DidNotFinish => "did not finish",
    }
}
