//! The file of a logged run.

use super::csv_table::{Cell, CsvTable, number};
use super::diagnostics::Diagnostics;
use super::file;
use super::problem::{Place, Problem, Refusal};
use crate::car::logged_run::{Channel, Logged, LoggedRun};
use crate::units::{self, Unit};
use std::path::Path;

const TIME: &str = "time_s";
/// Readings of a channel at least: fewer tell nothing of a run.
const FEWEST_READINGS: usize = 5;

/// A column that can be read.
struct Column {
    name: &'static str,
    channel: Channel,
    unit: &'static Unit,
    /// Most that its figures can be.
    most: f64,
}

/// Most that a shaft turns, rpm, and that a car does, in any of the speeds' units: guards
/// against a wrong column.
const MOST_RPM: f64 = 50_000.0;
const MOST_SPEED: f64 = 700.0;

const fn rpm(name: &'static str, channel: Channel) -> Column {
    Column {
        name,
        channel,
        unit: units::RPM,
        most: MOST_RPM,
    }
}

const fn speed(name: &'static str, unit: &'static Unit) -> Column {
    Column {
        name,
        channel: Channel::Car,
        unit,
        most: MOST_SPEED,
    }
}

static COLUMNS: [Column; 8] = [
    rpm("engine_rpm", Channel::Engine),
    rpm("input_rpm", Channel::InputShaft),
    rpm("wheel_rpm", Channel::DrivenWheels),
    speed("speed_m_s", units::M_S),
    speed("speed_ms", units::M_S),
    speed("speed_km_h", units::KM_H),
    speed("speed_kmh", units::KM_H),
    speed("speed_mph", units::MPH),
];

/// Reads a logged run: a column `time_s`, and any of `engine_rpm`, `input_rpm`, `wheel_rpm` (the
/// driven wheels) and the car's speed as `speed_m_s`, `speed_kmh` or `speed_mph`. An empty cell
/// is a gap; times rise, on any clock, at any rate.
///
/// # Errors
/// With everything that is wrong in the file.
pub fn read(path: &Path) -> Result<LoggedRun, Refusal> {
    let diagnostics = Diagnostics::default();
    let run =
        file::read_itself(&diagnostics, path, file::TABLE_LIMIT_BYTES).and_then(|(file, text)| {
            let table = CsvTable::parse(&diagnostics, file, &text, "time_s,engine_rpm")?;
            logged(&diagnostics, &table)
        });
    diagnostics.conclude(run)
}

/// Reads a logged run that another file names at this place.
pub(super) fn read_beside(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
) -> Option<LoggedRun> {
    let (file, text) = file::read_named(diagnostics, path, named_at)?;
    let table = CsvTable::parse(diagnostics, file, &text, "time_s,engine_rpm")?;
    logged(diagnostics, &table)
}

fn logged(diagnostics: &Diagnostics, table: &CsvTable) -> Option<LoggedRun> {
    if let Some(at) = table.column("speed") {
        let place = table.columns.get(at)?.place.clone();
        diagnostics.problem(
            Problem::new(place, "the column speed does not say its unit")
                .label("in what?")
                .help("call it speed_m_s, speed_kmh or speed_mph"),
        );
        return None;
    }
    let names: Vec<&'static str> = std::iter::once(TIME)
        .chain(COLUMNS.iter().map(|column| column.name))
        .collect();
    let meant = table.check_columns(diagnostics, &names);
    let time = table.needed_column(
        diagnostics,
        TIME,
        &meant,
        "the first line names the columns, such as time_s,engine_rpm,wheel_rpm,speed_kmh",
    )?;
    let times = times(diagnostics, table, time)?;
    let channels = channels(diagnostics, table, &times)?;
    if channels.is_empty() && meant.is_empty() {
        diagnostics.problem(
            Problem::new(table.header_place(), "nothing but time is logged here").help(
                "any of engine_rpm, input_rpm, wheel_rpm and speed_kmh says something of a launch",
            ),
        );
    }
    for logged in &channels {
        if logged.readings.len() < FEWEST_READINGS {
            let title = format!(
                "{} has fewer than {FEWEST_READINGS} readings",
                logged.channel.words()
            );
            diagnostics
                .problem(Problem::new(table.header_place(), title).help("leave the column out"));
        }
    }
    Some(LoggedRun { channels })
}

/// What was logged, each channel once.
fn channels(diagnostics: &Diagnostics, table: &CsvTable, times: &[f64]) -> Option<Vec<Logged>> {
    let mut channels: Vec<Logged> = Vec::new();
    for column in &COLUMNS {
        let Some(at) = table.column(column.name) else {
            continue;
        };
        let mut others = channels.iter();
        if others.any(|logged| logged.channel == column.channel) {
            let place = table.columns.get(at)?.place.clone();
            let title = format!("{} is there in two columns", column.channel.words());
            diagnostics.problem(Problem::new(place, title).help("keep one of the two"));
            continue;
        }
        channels.push(Logged {
            channel: column.channel,
            readings: readings(diagnostics, table, (column, at), times),
        });
    }
    Some(channels)
}

/// Times of the rows, s, rising.
fn times(diagnostics: &Diagnostics, table: &CsvTable, at: usize) -> Option<Vec<f64>> {
    let mut times: Vec<f64> = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        let cell = row.get(at)?;
        let time_s = number(diagnostics, TIME, cell)?;
        if times.last().is_some_and(|last| time_s <= *last) {
            let title = format!("{TIME} = {time_s} is not later than the row before");
            diagnostics.problem(
                Problem::new(cell.place.clone(), title)
                    .help("one row after another as the logger took them down, each time once"),
            );
            return None;
        }
        times.push(time_s);
    }
    Some(times)
}

fn readings(
    diagnostics: &Diagnostics,
    table: &CsvTable,
    (column, at): (&Column, usize),
    times: &[f64],
) -> Vec<(f64, f64)> {
    let cells = table.rows.iter().filter_map(|row| row.get(at));
    let there = cells.zip(times).filter(|(cell, _)| !cell.text.is_empty());
    there
        .filter_map(|(cell, time_s)| Some((*time_s, reading(diagnostics, column, cell)?)))
        .collect()
}

fn reading(diagnostics: &Diagnostics, column: &Column, cell: &Cell) -> Option<f64> {
    let read = number(diagnostics, column.name, cell)?;
    if read.abs() <= column.most {
        return Some(column.unit.to_si(read));
    }
    let title = format!("{} = {read} is out of range", column.name);
    let range = format!("must be from -{0} to {0}", column.most);
    diagnostics.problem(Problem::new(Place::clone(&cell.place), title).label(range));
    None
}
