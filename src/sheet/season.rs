//! `[season]`: what the builder decides for.

use super::keys::{Key, season as key};
use super::table_reader::TableReader;
use super::value::Amount;
use crate::car::season::{Counts, DEFAULT_LAUNCHES, DEFAULT_MEETING, Season};
use std::num::NonZeroU32;

/// Reads the section; all of it has defaults, told only where the sheet speaks of a season.
pub(super) fn read(t: &TableReader<'_>) -> Option<Season> {
    let launches = |key: &'static Key, usual: NonZeroU32| {
        let answer = t.count(key);
        if t.is_there() {
            let shown = Amount::Number(f64::from(usual.get()));
            answer.or_value(usual, shown).map(|found| found.value)
        } else {
            Some(usual)
        }
    };
    let meeting = launches(key::MEETING, DEFAULT_MEETING);
    let season = launches(key::LAUNCHES, DEFAULT_LAUNCHES);
    let counts = t.choice(key::COUNTS, &Counts::ALL, Counts::name);
    let counts = if t.is_there() {
        counts.or_word(Counts::default()).map(|found| found.value)
    } else {
        Some(Counts::default())
    };
    Some(Season {
        meeting: meeting?,
        launches: season?,
        counts: counts?,
    })
}
