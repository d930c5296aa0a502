//! Any text at all, taken for each kind of table that a builder has: slips, practice, a dyno
//! printout, a logged run, splits. Each is read or refused, and a refusal can be told.
#![no_main]

use flyheft::car::Car;
use flyheft::sheet::printout::{Picked, look};
use flyheft::sheet::{Refusal, practice, read_text, slips, splits, trace_file};
use libfuzzer_sys::fuzz_target;
use std::io::Write;
use std::path::Path;
use std::sync::LazyLock;

/// The car whose slips they are said to be.
static CAR: LazyLock<Car> = LazyLock::new(|| {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../demo-data/bogger.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    read_text(&path, &text).unwrap().car
});

fuzz_target!(|input: (u8, &str)| {
    let (kind, text) = input;
    match kind % 5 {
        0 => told(slips::read_text(Path::new("slips.csv"), text, &CAR)),
        1 => told(practice::read_text("practice.csv", text)),
        2 => {
            look("dyno.csv", text, Picked::default());
        }
        3 => told(in_a_file(text, trace_file::read)),
        _ => told(in_a_file(text, splits::read)),
    }
});

/// What reads only files is given one.
fn in_a_file<T>(text: &str, read: impl Fn(&Path) -> Result<T, Refusal>) -> Result<T, Refusal> {
    let mut file = tempfile::Builder::new().suffix(".csv").tempfile().unwrap();
    file.write_all(text.as_bytes()).unwrap();
    read(file.path())
}

fn told<T>(read: Result<T, Refusal>) {
    if let Err(refusal) = read {
        assert!(!refusal.problems().is_empty());
        assert!(!refusal.render(false).is_empty());
    }
}
