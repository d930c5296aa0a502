//! Sheets of the tree with some of their numbers changed: whatever car the reader still accepts is
//! launched, the launch ends, and every figure of its report is a number.
#![no_main]

use flyheft::car::track::Mark;
use flyheft::launch::{Attempt, Rig, run};
use flyheft::sheet::read_text;
use libfuzzer_sys::arbitrary::{self, Arbitrary};
use libfuzzer_sys::fuzz_target;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// As many numbers as are changed in one sheet.
const MOST: usize = 12;
/// The most a number is changed by, powers of ten.
const DECADES: f64 = 3.0;
/// What stands in a sheet between these is a word or a number.
const BETWEEN: [char; 9] = [' ', '\n', '=', ',', '[', ']', '{', '}', '"'];

/// Where the numbers of a text stand.
type Places = Vec<(usize, usize, f64)>;

/// Every sheet there is: the demo cars, the reference cars, the starters.
static SHEETS: LazyLock<Vec<(PathBuf, String, Places)>> = LazyLock::new(|| {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../..");
    let folders = ["demo-data", "tests/reference/cars", "src/sheet/starter"];
    let mut paths: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(top.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    let with_text = paths.into_iter().map(|path| {
        let text = std::fs::read_to_string(&path).unwrap();
        let places = numbers(&text);
        (path, text, places)
    });
    with_text.collect()
});

/// Which sheet, what is changed in it, and how it is launched.
#[derive(Debug, Arbitrary)]
struct Case {
    sheet: u8,
    wheel: u8,
    speed: u8,
    changes: Vec<(u16, i8)>,
}

fuzz_target!(|case: Case| {
    let (path, text, places) = &SHEETS[usize::from(case.sheet) % SHEETS.len()];
    let Ok(reading) = read_text(path, &changed(text, places, &case.changes)) else {
        return;
    };
    let car = &reading.car;
    let wheels = car.flywheels.all();
    let wheel = &wheels[usize::from(case.wheel) % wheels.len()];
    let range = &car.driver.launch_range;
    let (low, high) = (range.low_rad_s(), range.high_rad_s());
    let attempt = Attempt::from_speed(low + f64::from(case.speed) / 255.0 * (high - low));
    let launch = run(&Rig::new(car, wheel), &attempt, Mark::Ft60).unwrap();
    // Names come from the sheets of the tree, which hold neither word.
    let told = format!("{launch:?}");
    let mut words = told.split(|letter: char| !letter.is_alphanumeric());
    assert!(words.all(|word| word != "NaN" && word != "inf"), "{told}");
    assert!(launch.sixty_foot_s().is_none_or(|time_s| time_s > 0.0));
});

fn numbers(text: &str) -> Places {
    let start_of = |piece: &str| piece.as_ptr() as usize - text.as_ptr() as usize;
    text.split(BETWEEN)
        .filter_map(|piece| Some((start_of(piece), piece.len(), piece.parse().ok()?)))
        .map(|(start, length, value)| (start, start + length, value))
        .collect()
}

/// The text with some numbers larger or smaller; whole numbers stay whole.
fn changed(text: &str, places: &Places, changes: &[(u16, i8)]) -> String {
    let mut changes: Vec<(usize, i8)> = changes
        .iter()
        .take(MOST)
        .map(|&(place, by)| (usize::from(place) % places.len(), by))
        .collect();
    changes.sort_unstable();
    changes.dedup_by_key(|change| change.0);
    let mut text = text.to_owned();
    for (place, by) in changes.into_iter().rev() {
        let (start, end, value) = places[place];
        let value = value * 10.0_f64.powf(DECADES * f64::from(by) / f64::from(i8::MAX));
        let by = if text[start..end].contains('.') {
            format!("{value:.6}")
        } else {
            format!("{value:.0}")
        };
        text.replace_range(start..end, &by);
    }
    text
}
