//! Any text at all, taken for a sheet: it is read or refused, and either way can be told.
#![no_main]

use flyheft::sheet::read_text;
use libfuzzer_sys::fuzz_target;
use std::path::Path;

fuzz_target!(|text: &str| {
    match read_text(Path::new("demo-data/fuzzed.toml"), text) {
        Ok(reading) => {
            for warning in &reading.warnings {
                assert!(!warning.to_string().is_empty());
            }
        }
        Err(refusal) => {
            assert!(!refusal.problems().is_empty());
            assert!(!refusal.render(false).is_empty());
        }
    }
});
