//! The build sheet: text in, a checked [`Car`] out, or everything that is wrong with it.
//!
//! [`read`] takes a sheet and the files it names. What the sheet does not say is taken from
//! defaults, each of them told in [`Reading::defaults`]; what is no error but worth a second
//! look is told in [`Reading::warnings`]. A sheet with anything wrong gives no car but a
//! [`Refusal`] with all of it at once, each with its place and what would be right.
//!
//! ```
//! use flyheft::sheet;
//!
//! let reading = sheet::read("demo-data/bogger.toml".as_ref())?;
//! assert_eq!(reading.car.flywheels.all().len(), 4);
//!
//! let text = std::fs::read_to_string("demo-data/bogger.toml")?;
//! let wrong = text.replace(r#"limiter = "7300 rpm""#, r#"limitter = "7300 rpm""#);
//! let refusal = sheet::read_text("demo-data/bogger.toml".as_ref(), &wrong).unwrap_err();
//! assert!(refusal.to_string().contains("limitter"));
//! assert!(refusal.to_string().contains("bogger.toml:14:1"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod all_sections;
mod answer;
mod built_up;
mod car_body;
mod clutch;
mod csv_table;
mod cut_from;
mod diagnostics;
mod doubted;
mod drawn;
mod driveline;
mod driver;
mod dyno;
mod dyno_columns;
mod engine;
mod file;
mod fitted;
mod fitted_draws;
pub mod fitted_sheet;
mod flywheels;
pub mod form;
mod geometry;
mod grammar;
pub mod keys;
mod lift;
mod machining;
mod material;
mod meetings;
mod named_keys;
mod other_track;
pub mod part_file;
mod parts;
pub mod practice;
pub mod printout;
mod problem;
mod reciprocating;
mod season;
mod sections;
pub mod slips;
pub mod splits;
pub mod starter;
mod steps;
mod table_reader;
mod torque_file;
pub mod trace_file;
mod track;
mod typed;
mod tyre;
mod tyre_size;
mod unknown;
mod unknown_key;
mod usual_doubt;
mod value;
mod warnings;
mod weather;
mod words;

pub use diagnostics::DefaultUsed;
pub use drawn::ValueDoubt;
pub use problem::{Location, Problem, Refusal};
pub use value::Amount;
pub use warnings::{PartWarning, PlacedWarning, Warning};

use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::units::Kind;
use diagnostics::{Diagnostics, Outcome};
use problem::Sort;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use table_reader::Text;
use toml::de::DeTable;

/// A sheet read without error.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The car.
    pub car: Car,
    /// Every value that the sheet did not give.
    pub defaults: Vec<DefaultUsed>,
    /// What is worth a second look.
    pub warnings: Vec<PlacedWarning>,
    /// Every file that was read for it.
    pub files: Vec<PathBuf>,
    /// Every key that the reader asked for, with its table: `engine.stall`.
    pub keys_asked: BTreeSet<String>,
    /// Every value in doubt, in the sheet's order: those of [`doubted`](Self::doubted)'s inputs.
    pub doubts: Vec<ValueDoubt>,
    /// The car with what is not known of it.
    pub doubted: DoubtedCar,
}

impl Reading {
    /// What a doubted value measures, by its key; `None` for a bare number.
    pub fn kind_of(&self, key: &str) -> Option<Kind> {
        let doubt = self.doubts.iter().find(|doubt| doubt.input.key == key)?;
        doubt.kind
    }
}

/// Reads a build sheet and the files it names, which lie beside it.
///
/// # Errors
/// With everything that is wrong in the sheet and its files.
pub fn read(path: &Path) -> Result<Reading, Refusal> {
    read_file(path, None)
}

/// Reads a build sheet with the `[track]` of another file in place of its own.
///
/// # Errors
/// As [`read`].
pub fn read_on_track(path: &Path, track: &Path) -> Result<Reading, Refusal> {
    read_file(path, Some(track))
}

fn read_file(path: &Path, track: Option<&Path>) -> Result<Reading, Refusal> {
    let diagnostics = Diagnostics::default();
    if let Some((_, text)) = file::read_itself(&diagnostics, path, file::SHEET_LIMIT_BYTES) {
        let mut reading = read_all(path, &text, track)?;
        reading.files.insert(0, path.to_owned());
        return Ok(reading);
    }
    diagnostics.conclude(None)
}

/// Reads a sheet from its text, as if it lay at a path.
///
/// # Errors
/// As [`read`].
pub fn read_text(path: &Path, text: &str) -> Result<Reading, Refusal> {
    read_all(path, text, None)
}

fn read_all(path: &Path, text: &str, track: Option<&Path>) -> Result<Reading, Refusal> {
    let diagnostics = Diagnostics::default();
    let file = diagnostics.source(&path.display().to_string(), text);
    let track = track.and_then(|track| other_track::open(&diagnostics, track));
    let mended = grammar::mend(file, text);
    diagnostics.lost(mended.lost);
    let text = mended.text.as_str();
    let (table, _) = DeTable::parse_recoverable(text);
    let other = track.as_ref().map(other_track::OtherTrack::as_text);
    let car = all_sections::read_car(
        &diagnostics,
        table.get_ref(),
        Text { file, text },
        path,
        other,
    );
    let Outcome {
        sources,
        files,
        mut problems,
        warnings,
        defaults,
        keys,
        doubts,
        fitted,
        memory,
    } = diagnostics.close();
    if !mended.problems.is_empty() {
        // What a broken line held is not missing, only lost.
        problems.retain(|problem| !mended.headers_lost && problem.sort != Sort::Missing);
        problems.extend(mended.problems);
    }
    match car {
        Some(car) if problems.is_empty() => Ok(Reading {
            doubted: doubted::car(
                &car,
                &doubts,
                fitted.as_ref(),
                doubted::Again {
                    text: text.to_owned(),
                    track: track.map(|track| track.text),
                    path: path.to_owned(),
                    memory: Arc::new(memory),
                },
            ),
            doubts,
            car,
            defaults,
            warnings,
            files,
            keys_asked: keys,
        }),
        _ => Err(Refusal::new(sources, problems)),
    }
}
