//! Spoilt sheets are read or refused, and either way can be told.

use crate::spoil::{SHEETS, below, bytes, number, pick, token};
use flyheft::sheet::read_text;
use rand_chacha::rand_core::Rng;

/// Most spoilings of one sheet.
const MOST: usize = 6;

#[test]
fn law_a_spoilt_sheet_is_read_or_refused() {
    crate::try_cases("sheets", 400, one);
}

fn one(random: &mut impl Rng) -> &'static str {
    let whole = pick(random, &SHEETS);
    let mut text = whole.text.clone();
    for _ in 0..=below(random, MOST) {
        match below(random, 4) {
            0 => bytes(random, &mut text),
            1 => number(random, &mut text),
            _ => token(random, &mut text),
        }
    }
    match read_text(&whole.path, &text) {
        Ok(reading) => {
            for warning in &reading.warnings {
                assert!(!warning.to_string().is_empty());
            }
            "read"
        }
        Err(refusal) => {
            assert!(!refusal.problems().is_empty(), "{text}");
            assert!(!refusal.render(false).is_empty(), "{text}");
            "refused"
        }
    }
}
