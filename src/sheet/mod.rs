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
use crate::car::meeting::Meeting;
use crate::units::{Kind, upsets_a_screen};
use diagnostics::{Diagnostics, Outcome};
use keys::Key;
use keys::sheet as sections;
use problem::{FileId, Place, Sort};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use table_reader::{TableReader, Text};
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use unknown::Known;
use unknown_key::header_of;
use words::listed;

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
    let outcome = diagnostics.close();
    Err(Refusal::new(outcome.sources, outcome.problems))
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
    let car = read_car(
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

fn read_car(
    diagnostics: &Diagnostics,
    table: &DeTable<'_>,
    text: Text<'_>,
    path: &Path,
    other_track: Option<Text<'_>>,
) -> Option<Car> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let top = TableReader::new(
        String::new(),
        Some(table),
        Place::whole(text.file),
        text,
        diagnostics,
    );
    let stem = path
        .file_stem()
        .map(|stem| stem.to_string_lossy().replace(upsets_a_screen, "\u{fffd}"));
    let stem = stem.unwrap_or_default();
    let title = top
        .words(sections::TITLE)
        .or_value(stem.clone(), Amount::Word(stem));
    let mut missing = Vec::new();
    diagnostics.look_ahead(Known::of(table));

    let t = section(&top, sections::ENGINE, &mut missing);
    let engine = engine::read(&t, folder);
    t.finish();
    let crank_side = parts::read_crank_side(entries(&top, sections::CRANK_SIDE, &mut missing));
    let wheels = flywheels::read(entries(&top, sections::FLYWHEEL, &mut missing));
    let t = section(&top, sections::CLUTCH, &mut missing);
    let clutch = clutch::read(&t);
    t.finish();
    let t = section(&top, sections::GEARBOX, &mut missing);
    let driveline = driveline::read(&t, engine.limiter.as_ref());
    t.finish();
    let t = section(&top, sections::CAR, &mut missing);
    let body = car_body::read(&t);
    t.finish();
    let t = section(&top, sections::TYRE, &mut missing);
    let tyre = tyre::read(&t);
    t.finish();
    let t = section(&top, sections::DRIVER, &mut missing);
    let driver = driver::read(&t, &engine, wheels.as_ref(), folder);
    t.finish();
    // All of the track has defaults: the section may be left out.
    let t = section(&top, sections::TRACK, &mut Vec::new());
    let track = if let Some(other) = other_track {
        // The sheet's own is left aside.
        other_track::read(diagnostics, other)
    } else {
        let track = track::read(&t);
        t.finish();
        track
    };
    let meetings = read_meetings(&top);
    let t = section(&top, sections::SEASON, &mut Vec::new());
    let season = season::read(&t);
    t.finish();
    let t = section(&top, sections::FITTED, &mut Vec::new());
    read_fitted(&t, folder);
    t.finish();
    top.finish();
    missing.retain(|key| !diagnostics.is_lost(key.name));
    note_missing(diagnostics, text.file, &missing);

    let clutch_place = clutch.as_ref().map(|clutch| clutch.place.clone());
    let car = Car {
        title: title?.value,
        engine: engine.engine?,
        crank_side: crank_side?,
        flywheels: wheels?,
        clutch: clutch?.value,
        driveline: driveline?,
        body: body?,
        tyre: tyre?,
        driver: driver?,
        track: track?,
        meetings: meetings?,
        season: season?,
    };
    check_clutch(diagnostics, &car, clutch_place.as_ref());
    Some(car)
}

/// A sheet need not have any.
fn read_meetings(top: &TableReader<'_>) -> Option<Vec<Meeting>> {
    let there = top.has(sections::MEETING) || top.misspelt(sections::MEETING).is_some();
    let entries = there.then(|| entries(top, sections::MEETING, &mut Vec::new()));
    meetings::read(top.diagnostics, entries.unwrap_or_default())
}

/// What a fit has learnt stands in place of the doubts that the sheet has of the same values.
fn read_fitted(t: &TableReader<'_>, folder: &Path) {
    if t.diagnostics.is_drawn() {
        t.has(keys::season::fitted::DRAWS);
    } else if let Some(fitted) = fitted::read(t, folder, &t.diagnostics.doubts()) {
        t.diagnostics.fitted(fitted);
    }
}

/// A section; where it is not there, a reader of nothing.
fn section<'a>(
    top: &TableReader<'a>,
    key: &'static Key,
    missing: &mut Vec<&'static Key>,
) -> TableReader<'a> {
    let value = top.value(key).or_else(|| top.misspelt(key));
    if value.is_none() {
        missing.push(key);
    }
    let table = value.and_then(|value| table_of(top, key, value));
    let header = value.map_or(top.header.clone(), |value| top.place(value.span()));
    TableReader::new(
        key.name.to_owned(),
        table,
        header,
        top.text,
        top.diagnostics,
    )
}

fn table_of<'a>(
    top: &TableReader<'a>,
    key: &'static Key,
    value: &'a Spanned<DeValue<'a>>,
) -> Option<&'a DeTable<'a>> {
    let place = top.place(value.span());
    match value.get_ref() {
        DeValue::Table(table) => Some(table),
        DeValue::Array(items) if items.iter().any(|item| item.get_ref().is_table()) => {
            top.diagnostics.problem(
                Problem::new(place, format!("there is one {key} only"))
                    .label("written as one of several")
                    .help(format!("write [{key}] with single brackets, once")),
            );
            items.iter().find_map(as_table)
        }
        _ => {
            top.diagnostics.problem(
                Problem::new(place, format!("{key} is a section, not a single value")).help(
                    format!("write [{key}] on a line of its own, and its keys below"),
                ),
            );
            None
        }
    }
}

fn as_table<'a>(value: &'a Spanned<DeValue<'a>>) -> Option<&'a DeTable<'a>> {
    match value.get_ref() {
        DeValue::Table(table) => Some(table),
        _ => None,
    }
}

/// The entries of a section that may come again.
fn entries<'a>(
    top: &TableReader<'a>,
    key: &'static Key,
    missing: &mut Vec<&'static Key>,
) -> Vec<TableReader<'a>> {
    let reader = |table, span| {
        TableReader::new(
            key.name.to_owned(),
            table,
            top.place(span),
            top.text,
            top.diagnostics,
        )
    };
    let Some(value) = top.value(key).or_else(|| top.misspelt(key)) else {
        missing.push(key);
        return vec![TableReader::new(
            key.name.to_owned(),
            None,
            top.header.clone(),
            top.text,
            top.diagnostics,
        )];
    };
    let wrong = |span| {
        top.diagnostics.problem(
            Problem::new(
                top.place(span),
                format!("{key} is a section that may come again, once for each"),
            )
            .help(format!(
                "write [[{key}]] with double brackets, and its keys below"
            )),
        );
    };
    let addressed = |number: usize, item: &'a Spanned<DeValue<'a>>| {
        let table = as_table(item);
        let name = table.and_then(|table| table.get("name")?.get_ref().as_str());
        let address = match name {
            Some(name) => format!("{key}.\"{}\"", name.trim()),
            None => format!("{key}.{number}"),
        };
        reader(table, item.span()).at(address)
    };
    match value.get_ref() {
        DeValue::Table(table) => {
            wrong(value.span());
            vec![reader(Some(table), value.span())]
        }
        DeValue::Array(items) if !items.is_empty() => (1..)
            .zip(items.iter())
            .map(|(number, item)| {
                if as_table(item).is_none() {
                    wrong(item.span());
                }
                addressed(number, item)
            })
            .collect(),
        _ => {
            wrong(value.span());
            vec![reader(None, value.span())]
        }
    }
}

fn note_missing(diagnostics: &Diagnostics, file: FileId, missing: &[&'static Key]) {
    if missing.is_empty() {
        return;
    }
    let headers: Vec<String> = missing.iter().map(|key| header_of(key.name)).collect();
    let headers: Vec<&str> = headers.iter().map(String::as_str).collect();
    let problem = Problem::new(
        Place::whole(file),
        format!("the sheet lacks {}", listed(&headers)),
    );
    let needs = missing.iter().map(|key| {
        let needed = keys::of_table(key.name).filter(|key| key.is_asked_for());
        let needed = needed.map(|key| format!("{} = {}", key.name, key.example));
        let needed: Vec<String> = needed.collect();
        format!("{} needs {}", header_of(key.name), needed.join(", "))
    });
    let problem = needs.fold(problem, Problem::help);
    diagnostics.problem(problem.help("`flyheft new` writes a sheet with every section"));
}

fn check_clutch(diagnostics: &Diagnostics, car: &Car, place: Option<&Place>) {
    let static_capacity_nm = car.clutch.static_ratio.get() * car.clutch.capacity.capacity_nm();
    let weather_factor = car.engine.stated_for.weather_factor(&car.track.weather);
    let peak_torque_nm = weather_factor * car.engine.curve.peak_nm();
    if static_capacity_nm < peak_torque_nm {
        let warning = Warning::ClutchUnderEngine {
            static_capacity_nm,
            peak_torque_nm,
        };
        diagnostics.warning(warning, place);
    }
}
