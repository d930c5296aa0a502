//! The build sheet: what reads, what is refused, and in which words.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

mod docs;
mod doubts;
mod errors;
mod files;
mod form;
mod grammar;
mod machining;
mod mutations;
mod paper;
mod parts;
mod printout;
#[path = "../common/random_cases.rs"]
mod random_cases;
mod ranges;
mod reads;
mod renders;
mod said;
mod torque;
mod values;
mod warnings;

use flyheft::sheet::{self, Problem, Reading, Refusal, starter};
use std::path::Path;

/// The starter sheet with a driver whose foot stays down, its lines where they were: what a lift
/// may say is put in by the tests that are about it.
fn foot_down() -> String {
    let lift = |line: &&str| line.starts_with("lift = ");
    let line = starter::SHEET.lines().find(lift).expect("he lifts");
    starter::SHEET.replace(line, "# the foot stays down")
}

/// What the starter sheet says of the wheel its "machined" is turned from.
const CUT_FROM: &str = "cut_from = \"as supplied\" ";

/// The edit after which "machined" is drawn by itself and turned from nothing.
const OWN_DRAWING: (&str, &str) = (CUT_FROM, "# a wheel of its own ");

/// That sheet with some of its text replaced; each piece must be there exactly once.
fn edited(edits: &[(&str, &str)]) -> String {
    let mut text = foot_down();
    for (from, to) in edits {
        assert_eq!(text.matches(from).count(), 1, "{from:?} must be there once");
        text = text.replace(from, to);
    }
    text
}

/// Reads a text as a sheet beside the starter's torque file.
fn read(text: &str) -> Result<Reading, Refusal> {
    sheet::read_text(Path::new("src/sheet/starter/car.toml"), text)
}

fn accepted(edits: &[(&str, &str)]) -> Reading {
    read(&edited(edits)).unwrap_or_else(|refusal| panic!("{refusal}"))
}

/// Line and column of the `|` in a marked piece of text that is there exactly once.
fn place_of(text: &str, marked: &str) -> (usize, usize) {
    let (before, after) = marked.split_once('|').expect("a | marks the place");
    let piece = format!("{before}{after}");
    assert_eq!(
        text.matches(&piece).count(),
        1,
        "{piece:?} must be there once"
    );
    let at = text.find(&piece).unwrap() + before.len();
    let head = &text[..at];
    let line = head.matches('\n').count() + 1;
    (line, head.rsplit('\n').next().unwrap().chars().count() + 1)
}

/// All that a problem says.
fn words(problem: &Problem) -> String {
    let help = problem.help_texts().join(" / ");
    format!("{} / {} / {help}", problem.title(), problem.mark_text())
}

/// Asserts that a refusal is for one thing alone, in words that hold every one of these; hands
/// back its line and column (0 for the file as a whole).
fn only(refusal: &Refusal, said: &[&str]) -> (usize, usize) {
    let [problem] = refusal.problems() else {
        panic!("one problem expected\n{refusal}")
    };
    for piece in said {
        assert!(
            words(problem).contains(piece),
            "{piece:?} not in {}",
            words(problem)
        );
    }
    let location = refusal.location(problem);
    (location.line.unwrap_or(0), location.column.unwrap_or(0))
}

/// Asserts that a text is refused for one thing alone, at the place marked with `|`, in these
/// words.
fn refused_text(text: &str, marked: &str, said: &[&str]) {
    let refusal = read(text).expect_err("must be refused");
    assert_eq!(only(&refusal, said), place_of(text, marked), "{refusal}");
}

/// The same for the starter sheet with one piece replaced.
fn refused(from: &str, to: &str, marked: &str, said: &[&str]) {
    refused_text(&edited(&[(from, to)]), marked, said);
}
