//! Puts every small fault into a folder of the program, all at once and each behind a switch, so
//! that the program is built once and not a thousand times; then runs, for each fault, the tests
//! that reach it until one fails.
//!
//!     cargo run --release -- plant study        (a copy with the faults of src/study, built)
//!     cargo run --release -- survey             (which test reaches which fault, and its time)
//!     cargo run --release -- hunt               (goes on where it was stopped)
//!     cargo run --release -- report             (how many are caught, and which are not)
//!
//! In the same way it finds which branches no test reaches: `plant --branches .`, `survey`,
//! `unreached`.
//!
//! The copy, and all that is found, lies in `--in`; the project itself is not touched.

mod branches;
mod faults;
mod hunt;
mod plant;
mod report;
mod survey;

use clap::{Parser, Subcommand};
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::Duration;

type Result<T> = std::result::Result<T, Box<dyn Error>>;

#[derive(Parser)]
struct Asked {
    /// Where the copy is made and what is found is kept.
    #[arg(long = "in", default_value_os_t = std::env::temp_dir().join("flyheft-mutants"), global = true)]
    folder: PathBuf,
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Copies the project and puts the faults in.
    Plant {
        /// Folders of `src`; `.` is all of it.
        #[arg(required = true)]
        parts: Vec<String>,
        /// No faults: only find out which branches are reached.
        #[arg(long)]
        branches: bool,
    },
    /// Runs every test once, to learn which faults it reaches; goes on where it was stopped.
    Survey {
        /// Tests that take longer are left out, s.
        #[arg(long, default_value_t = 120)]
        longest: u64,
        /// Only tests whose names begin so: a part of the program by its own tests, in minutes.
        #[arg(long, default_value = "")]
        only: String,
    },
    /// Runs the tests that reach a fault until one fails, fault by fault in a random order.
    Hunt {
        /// As much time of tests as is spent on one fault, s.
        #[arg(long, default_value_t = 60.0)]
        budget: f64,
        /// Stop after so many faults.
        #[arg(long)]
        most: Option<usize>,
    },
    /// Says what was found.
    Report,
    /// Says which of what was put in no test reaches.
    Unreached,
}

/// A fault that was put in.
#[derive(Serialize, Deserialize)]
struct Fault {
    id: u32,
    file: String,
    line: usize,
    function: String,
    now: String,
    instead: String,
}

/// A test, and the faults that it reaches.
#[derive(Serialize, Deserialize)]
struct Test {
    program: PathBuf,
    name: String,
    seconds: f64,
    reaches: Vec<u32>,
}

/// What came of a fault.
#[derive(Serialize, Deserialize)]
struct Found {
    id: u32,
    outcome: Outcome,
    /// The test that failed.
    by: Option<String>,
}

#[derive(Serialize, Deserialize, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Outcome {
    /// A test failed.
    Caught,
    /// A test did not end.
    Hangs,
    /// Every test that reaches it passed.
    Missed,
    /// As many tests passed as there was time for.
    OutOfTime,
    /// No test comes that way.
    NotReached,
}

fn main() -> Result<()> {
    let asked = Asked::parse();
    let folder = &asked.folder;
    match asked.what {
        What::Plant { parts, branches } => plant::plant(folder, &parts, branches),
        What::Unreached => report::unreached(folder),
        What::Survey { longest, only } => {
            survey::survey(folder, Duration::from_secs(longest), &only)
        }
        What::Hunt { budget, most } => hunt::hunt(folder, budget, most),
        What::Report => report::report(folder),
    }
}

/// The project that this package stands in.
fn project() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

/// The copy with the faults in it.
fn copy_in(folder: &Path) -> PathBuf {
    folder.join("project")
}

fn read<T: for<'d> Deserialize<'d>>(path: &Path) -> Result<T> {
    let text = std::fs::read_to_string(path).map_err(|e| format!("{}: {e}", path.display()))?;
    Ok(serde_json::from_str(&text)?)
}

/// Values a line each; none where there is no such file yet.
fn read_lines<T: for<'d> Deserialize<'d>>(path: &Path) -> Result<Vec<T>> {
    let text = std::fs::read_to_string(path).unwrap_or_default();
    Ok(text
        .lines()
        .map(serde_json::from_str)
        .collect::<std::result::Result<_, _>>()?)
}

fn write(path: &Path, value: &impl Serialize) -> Result<()> {
    Ok(std::fs::write(path, serde_json::to_string(value)?)?)
}
