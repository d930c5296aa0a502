//! How many cases a random test tries, and from which seed.

use proptest::prelude::ProptestConfig;
use proptest::test_runner::RngSeed;

/// Asks for a long run: so many cases in each random test, new ones every time
/// (`FLYHEFT_RANDOM_CASES=20000 cargo test law_`).
const LONG_RUN: &str = "FLYHEFT_RANDOM_CASES";
/// Seed of every other run; any number does.
const SEED: u64 = 1;

/// So many cases, the same at every run, so that a test that passed passes again; a failure prints
/// its case, which becomes a test of its own.
pub(crate) fn same_every_time(cases: u32) -> ProptestConfig {
    let asked: Option<u32> = std::env::var(LONG_RUN)
        .ok()
        .and_then(|text| text.parse().ok());
    ProptestConfig {
        cases: asked.unwrap_or(cases),
        rng_seed: match asked {
            Some(_) => RngSeed::Random,
            None => RngSeed::Fixed(SEED),
        },
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}
