//! Sheets spoilt at random and cars drawn at random: nothing panics, hangs or comes out as no
//! number.
//!
//! Every run of the tests tries the same few hundred. A long run is asked for by
//! `FLYHEFT_FUZZ_CASES` (how many), `FLYHEFT_FUZZ_SEED` (which; a case is the same whenever its
//! seed and number are) and goes on where `FLYHEFT_FUZZ_FROM` says. How many were tried in the
//! past, and what they found, stands in `docs/reliability.md`.
#![expect(
    clippy::panic,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is wrong"
)]

#[path = "../common/mod.rs"]
mod common;
mod launches;
mod sheets;
mod spoil;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

/// Longer than any one case may take, even on a busy machine without optimisation: a sheet is
/// read in about a millisecond, a launch driven in some ten.
const HANGS: Duration = Duration::from_secs(20);
/// How often a long run says how far it is.
const TOLD_EVERY: u64 = 10_000;

/// A number from the surroundings, or what stands in for it.
fn asked(name: &str, otherwise: u64) -> u64 {
    let text = std::env::var(name).ok();
    text.and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Tries so many cases, each with random numbers of its own; `one` says in a word what came of
/// its case. Fails with the case's number where one panics or takes too long.
fn try_cases(what: &str, few: u64, one: impl Fn(&mut ChaCha8Rng) -> &'static str) {
    let seed = asked("FLYHEFT_FUZZ_SEED", 1);
    let from = asked("FLYHEFT_FUZZ_FROM", 0);
    let cases = asked("FLYHEFT_FUZZ_CASES", few);
    let mut came_of_it = std::collections::BTreeMap::<&str, u64>::new();
    for case in from..from + cases {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        random.set_stream(case);
        let began = Instant::now();
        let came = catch_unwind(AssertUnwindSafe(|| one(&mut random)));
        let took = began.elapsed();
        let name = format!("{what}: case {case} of seed {seed}");
        let Ok(came) = came else {
            panic!("{name} panicked")
        };
        assert!(took < HANGS, "{name} took {took:?}");
        *came_of_it.entry(came).or_default() += 1;
        if (case + 1 - from).is_multiple_of(TOLD_EVERY) {
            eprintln!("{name} done: {came_of_it:?}");
        }
    }
    println!("{what}: {came_of_it:?}");
}
