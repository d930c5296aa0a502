//! No text at all makes the reader fail otherwise than by a refusal.

use crate::random_cases::same_every_time;
use crate::read;
use flyheft::sheet::starter;
use proptest::prelude::*;
use std::path::Path;

/// The text with a range of its characters replaced.
fn mutated(text: &str, at: prop::sample::Index, length: usize, by: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let start = at.index(chars.len());
    let end = (start + length).min(chars.len());
    chars[..start]
        .iter()
        .copied()
        .chain(by.chars())
        .chain(chars[end..].iter().copied())
        .collect()
}

/// Whatever comes out can be shown.
fn shown(text: &str) -> String {
    match read(text) {
        Ok(reading) => reading.warnings.iter().map(ToString::to_string).collect(),
        Err(refusal) => {
            assert!(!refusal.problems().is_empty());
            refusal.render(true) + &refusal.render(false)
        }
    }
}

proptest! {
    #![proptest_config(same_every_time(400))]

    /// A piece of the sheet cut out or written over.
    #[test]
    fn law_a_mutilated_sheet_is_read_or_refused(
        at in any::<prop::sample::Index>(),
        length in 0..40usize,
        by in prop_oneof![Just(String::new()), "[\\[\\]{}=\",#\n.0-9a-z·²-]{0,6}", "\\PC{0,4}"],
    ) {
        shown(&mutated(starter::SHEET, at, length, &by));
    }

    /// Two pieces at once, far from each other.
    #[test]
    fn law_a_sheet_mutilated_twice_is_read_or_refused(
        first in any::<prop::sample::Index>(),
        second in any::<prop::sample::Index>(),
        by in "[\\[\\]{}=\",#\n0-9e.-]{0,3}",
    ) {
        let once = mutated(starter::SHEET, first, 3, &by);
        shown(&mutated(&once, second, 3, ""));
    }

    /// The practice file and the torque file share their reader; bytes of any sort go in here.
    #[test]
    fn law_a_mutilated_table_is_read_or_refused(
        at in any::<prop::sample::Index>(),
        length in 0..20usize,
        by in prop::collection::vec(any::<u8>(), 0..5),
    ) {
        let mut bytes = starter::TORQUE.replace("torque_nm", "order").into_bytes();
        let start = at.index(bytes.len());
        let end = (start + length).min(bytes.len());
        bytes.splice(start..end, by);
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("p.csv");
        std::fs::write(&path, bytes).unwrap();
        if let Err(refusal) = flyheft::sheet::practice::read(Path::new(&path)) {
            prop_assert!(!refusal.render(true).is_empty());
        }
    }
}
