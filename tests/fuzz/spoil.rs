//! Sheets spoilt as hands, editors and disks spoil them.

use rand_chacha::rand_core::Rng;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// A sheet of the tree, to be spoilt.
pub(crate) struct Whole {
    pub(crate) path: PathBuf,
    pub(crate) text: String,
}

/// Every sheet there is: the demo cars, the reference cars, the starter.
pub(crate) static SHEETS: LazyLock<Vec<Whole>> = LazyLock::new(|| {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = ["demo-data", "tests/reference/cars", "src/sheet/starter"];
    let mut paths: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(top.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    assert!(paths.len() > 10, "{paths:?}");
    paths
        .into_iter()
        .map(|path| Whole {
            text: std::fs::read_to_string(&path).unwrap(),
            path,
        })
        .collect()
});

/// What stands in a sheet between these is a token.
const BETWEEN: [char; 9] = [' ', '\n', '=', ',', '[', ']', '{', '}', '"'];

/// Values that readers trip over.
const AWKWARD: [&str; 36] = [
    "0",
    "-0",
    "-1",
    "1",
    "1e308",
    "-1e308",
    "1e-308",
    "5e-324",
    "1e999",
    "nan",
    "inf",
    "-inf",
    "9223372036854775808",
    "0x10",
    "1_000",
    "1.",
    ".5",
    "1,5",
    "1.234,5",
    "1/0",
    "10 1/4",
    "8'",
    "± 5 %",
    "0 to 0",
    "2 to 1",
    "exactly",
    "unknown",
    "",
    "rpm",
    "kg·m²",
    "%",
    "true",
    "1979-05-27",
    "\u{202e}",
    "\u{0}",
    "µ",
];

/// One of a list.
pub(crate) fn pick<'a, T>(random: &mut impl Rng, list: &'a [T]) -> &'a T {
    &list[below(random, list.len())]
}

/// A whole number below this one; evenly enough for lists of a few thousand.
pub(crate) fn below(random: &mut impl Rng, end: usize) -> usize {
    usize::try_from(random.next_u64() % u64::try_from(end.max(1)).unwrap()).unwrap()
}

/// A number from 0 to 1.
pub(crate) fn share(random: &mut impl Rng) -> f64 {
    f64::from(random.next_u32()) / f64::from(u32::MAX)
}

/// Where the tokens of a text stand.
fn tokens(text: &str) -> Vec<(usize, usize)> {
    let start_of = |piece: &str| piece.as_ptr() as usize - text.as_ptr() as usize;
    text.split(BETWEEN)
        .filter(|piece| !piece.is_empty())
        .map(|piece| (start_of(piece), start_of(piece) + piece.len()))
        .collect()
}

/// Bytes turned, cut out or put in; what is no UTF-8 then is made so, as an editor would.
pub(crate) fn bytes(random: &mut impl Rng, text: &mut String) {
    let mut bytes = std::mem::take(text).into_bytes();
    let at = below(random, bytes.len());
    match below(random, 4) {
        0 => bytes[at] ^= 1 << below(random, 8),
        1 => {
            let end = (at + below(random, 60)).min(bytes.len());
            bytes.drain(at..end);
        }
        2 => bytes.truncate(at),
        _ => {
            let end = (at + below(random, 200)).min(bytes.len());
            let again = bytes[at..end].to_vec();
            let to = below(random, bytes.len());
            bytes.splice(to..to, again);
        }
    }
    *text = String::from_utf8_lossy(&bytes).into_owned();
    if text.is_empty() {
        text.push(' ');
    }
}

/// A token in another's place, of this sheet or of any other, or an awkward value.
pub(crate) fn token(random: &mut impl Rng, text: &mut String) {
    let places = tokens(text);
    if places.is_empty() {
        return;
    }
    let (start, end) = *pick(random, &places);
    let by = if below(random, 2) == 0 {
        (*pick(random, &AWKWARD)).to_owned()
    } else {
        let other = &pick(random, &SHEETS).text;
        let (from, to) = *pick(random, &tokens(other));
        other[from..to].to_owned()
    };
    text.replace_range(start..end, &by);
}

/// A number in the sheet made larger or smaller, mostly by little, sometimes by powers of ten:
/// the sheet often stays one that reads.
pub(crate) fn number(random: &mut impl Rng, text: &mut String) {
    let places: Vec<(usize, usize, f64)> = tokens(text)
        .into_iter()
        .filter_map(|(start, end)| Some((start, end, text[start..end].parse().ok()?)))
        .filter(|(_, _, value): &(usize, usize, f64)| value.is_finite())
        .collect();
    if places.is_empty() {
        return;
    }
    let (start, end, value) = *pick(random, &places);
    let decades = if below(random, 4) == 0 { 3.0 } else { 0.5 };
    let factor = 10.0_f64.powf(decades * (2.0 * share(random) - 1.0));
    // Whole numbers stay whole, or counts would hardly ever read.
    let by = if text[start..end].contains('.') {
        format!("{:.6}", value * factor)
    } else {
        format!("{:.0}", value * factor)
    };
    text.replace_range(start..end, &by);
}
