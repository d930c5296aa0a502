//! The torque curve's file.

use super::csv_table::{Cell, CsvTable, number, speed_in_range};
use super::diagnostics::Diagnostics;
use super::dyno_columns::{self, Column, Columns, Named, Readable};
use super::file;
use super::problem::{FileId, Place, Problem};
use super::warnings::Warning;
use super::words::counted;
use crate::car::engine::{LEAST_CURVE_POINTS, TorqueCurve, TorqueCurveError};
use crate::units::{self, quote};
use std::path::Path;

/// Share by which torque and power of one row may disagree: two roundings make less (common
/// practice, no source).
const POWER_DISAGREES: f64 = 0.01;

/// Reads the curve that a sheet names; everything wrong is noted. `named_at` is the place in
/// the sheet that names it.
pub(super) fn read(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
    named: &Named,
) -> Option<TorqueCurve> {
    diagnostics.curve(path, || read_file(diagnostics, path, named_at, named))
}

fn read_file(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
    named: &Named,
) -> Option<TorqueCurve> {
    let (file, text) = file::read_named(diagnostics, path, named_at)?;
    read_text(diagnostics, file, &text, named)
}

/// The curve of a torque file's text; everything wrong is noted.
pub(super) fn read_text(
    diagnostics: &Diagnostics,
    file: FileId,
    text: &str,
    named: &Named,
) -> Option<TorqueCurve> {
    let before = diagnostics.problem_count();
    let (mut table, units) = table(diagnostics, file, text)?;
    let columns = match dyno_columns::find(&table, units.as_deref(), named) {
        Ok(columns) => columns,
        Err(problem) => {
            diagnostics.problem(problem);
            return None;
        }
    };
    if separator(text) != ',' {
        decimal_points(diagnostics, &mut table, &columns);
    }
    let points = points(diagnostics, &table, &columns)?;
    // A point left out for its own fault must not be told again as a fault of the curve.
    if diagnostics.problem_count() > before {
        return None;
    }
    curve(diagnostics, &table, points)
}

/// The columns of a torque file's text, each with what it may be read as.
pub(super) fn columns(text: &str) -> Vec<Readable> {
    let aside = Diagnostics::default();
    let file = aside.source("", text);
    table(&aside, file, text).map_or_else(Vec::new, |(table, units)| {
        dyno_columns::readable(&table, units.as_deref())
    })
}

/// The cells of a torque file, and the row of units under its names, where it has one.
fn table(
    diagnostics: &Diagnostics,
    file: FileId,
    text: &str,
) -> Option<(CsvTable, Option<Vec<Cell>>)> {
    let header = "speed_rpm,torque_nm";
    let mut table = CsvTable::parse_by(diagnostics, file, text, header, separator(text))?;
    let units = units_row(&mut table);
    Some((table, units))
}

/// What parts the cells: a semicolon or a tab where the line of names has one, else a comma.
fn separator(text: &str) -> char {
    let names = text
        .lines()
        .find(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#'))
        .unwrap_or_default();
    [';', '\t']
        .into_iter()
        .find(|separator| names.trim().contains(*separator))
        .unwrap_or(',')
}

/// The row under the names, taken out of the table, where it holds units rather than figures.
fn units_row(table: &mut CsvTable) -> Option<Vec<Cell>> {
    let first = table.rows.first()?;
    let figure = |cell: &Cell| {
        cell.text
            .starts_with(|c: char| c.is_ascii_digit() || c == '-')
    };
    let says_a_unit = |cell: &Cell| {
        let unit = cell.text.trim_matches(['[', ']', '(', ')', ' ']);
        dyno_columns::is_unit(unit)
    };
    (!first.iter().any(figure) && first.iter().any(says_a_unit)).then(|| table.rows.remove(0))
}

/// Decimal commas of the columns read become points. A comma with three digits behind it could
/// as well mark thousands: where no other figure settles it, that is a problem.
fn decimal_points(diagnostics: &Diagnostics, table: &mut CsvTable, columns: &Columns) {
    let read: Vec<usize> = [
        Some(&columns.speed),
        columns.torque.as_ref(),
        columns.power.as_ref(),
    ]
    .into_iter()
    .flatten()
    .map(|column| column.at)
    .collect();
    let mut either = None;
    let mut settled = false;
    for row in &mut table.rows {
        for at in &read {
            let Some(cell) = row.get_mut(*at) else {
                continue;
            };
            let Some((whole, decimals)) = cell.text.split_once(',') else {
                continue;
            };
            if decimals.len() == 3 && !matches!(whole, "0" | "-0" | "") {
                either.get_or_insert_with(|| (cell.place.clone(), quote(&cell.text)));
            } else {
                settled = true;
            }
            cell.text = format!("{whole}.{decimals}");
        }
    }
    if let Some((place, read)) = either.filter(|_| !settled) {
        diagnostics.problem(
            Problem::new(place, format!("\"{read}\" can be read in two ways"))
                .label("does its comma mark decimals or thousands?")
                .help("save the file with points as decimal marks, or without marks for thousands"),
        );
    }
}

fn points(
    diagnostics: &Diagnostics,
    table: &CsvTable,
    columns: &Columns,
) -> Option<Vec<(f64, f64)>> {
    let mut points: Vec<(f64, f64)> = Vec::with_capacity(table.rows.len());
    let mut worst: Option<(f64, f64)> = None;
    for row in &table.rows {
        let value = |column: &Column| {
            let cell = row.get(column.at)?;
            Some(column.to_si * value(diagnostics, &column.name, cell)?)
        };
        let torque = columns.torque.as_ref().map(value);
        let power = columns.power.as_ref().map(value);
        let last = points.last().map(|point| point.0);
        let speed_cell = row.get(columns.speed.at)?;
        let Some(speed_rad_s) = speed_value(diagnostics, &columns.speed, speed_cell, last) else {
            continue;
        };
        let by_power = power.flatten().map(|power| power / speed_rad_s);
        let torque_nm = torque.map_or(by_power, |torque| torque);
        if let (Some(torque), Some(by_power)) = (torque.flatten(), by_power) {
            let apart = torque / by_power - 1.0;
            if apart.abs() > worst.map_or(POWER_DISAGREES, |(worst, _)| worst.abs()) {
                worst = Some((apart, speed_rad_s));
            }
        }
        points.push((speed_rad_s, torque_nm.unwrap_or(f64::NAN)));
    }
    if let Some((share, speed_rad_s)) = worst {
        let warning = Warning::TorqueAgainstPower { share, speed_rad_s };
        diagnostics.warning(warning, Some(&table.header_place()));
    }
    Some(points)
}

fn value(diagnostics: &Diagnostics, name: &str, cell: &Cell) -> Option<f64> {
    let value = number(diagnostics, name, cell)?;
    if value < 0.0 {
        let title = format!("{name} = {value} is out of range");
        diagnostics.problem(Problem::new(cell.place.clone(), title).label("must be zero or above"));
    }
    Some(value)
}

/// A row's speed in rad/s, held against the row before it.
fn speed_value(
    diagnostics: &Diagnostics,
    column: &Column,
    cell: &Cell,
    last_rad_s: Option<f64>,
) -> Option<f64> {
    let rpm = units::RPM.of_si(column.to_si * number(diagnostics, &column.name, cell)?);
    let speed_rad_s = speed_in_range(diagnostics, &column.name, rpm, cell)?;
    if let Some(last) = last_rad_s.filter(|last| speed_rad_s <= *last) {
        let last = units::plain(units::RPM.of_si(last));
        let title = format!("speed does not rise: {} after {last}", quote(&cell.text));
        diagnostics.problem(
            Problem::new(cell.place.clone(), title)
                .label("must be above the row before")
                .help("sort the rows by speed and keep one for each speed"),
        );
    }
    Some(speed_rad_s)
}

/// Turns of a curve, up to down or down to up, that an engine can have: two humps and a dip
/// make three (common practice, no source).
const MOST_TURNS: usize = 5;
/// Share of the peak by which torque goes up or down between turns that count as such, where the
/// curve is worth a second look, and where it is refused: beyond, columns or rows are mixed up
/// (common practice, no source).
const ROUGH_SHARE: f64 = 0.05;
const BROKEN_SHARE: f64 = 0.25;

/// How often a curve turns, counting only swings of more than this share of its peak.
fn turns(points: &[(f64, f64)], share: f64) -> usize {
    let torques = || points.iter().map(|point| point.1);
    let swing = share * torques().fold(0.0, f64::max);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let (mut turns, mut rising) = (0, None);
    for torque in torques() {
        (low, high) = (low.min(torque), high.max(torque));
        let turned_to = match rising {
            Some(true) | None if torque < high - swing => Some(false),
            Some(false) | None if torque > low + swing => Some(true),
            _ => continue,
        };
        turns += usize::from(rising.is_some());
        rising = turned_to;
        (low, high) = (torque, torque);
    }
    turns
}

/// Refuses a curve that goes up and down as none does, and warns of one that seldom does.
fn check_shape(diagnostics: &Diagnostics, file: FileId, points: &[(f64, f64)]) {
    let broken = turns(points, BROKEN_SHARE);
    if broken > MOST_TURNS {
        diagnostics.problem(
            Problem::new(
                Place::whole(file),
                format!("the torque goes up and down {broken} times, by a quarter of its peak and more"),
            )
            .help("no engine does: look whether rows of two runs are mixed, or a column is the wrong one"),
        );
        return;
    }
    let rough = turns(points, ROUGH_SHARE);
    if rough > MOST_TURNS {
        diagnostics.warning(
            Warning::RoughCurve { turns: rough },
            Some(&Place::whole(file)),
        );
    }
}

fn curve(
    diagnostics: &Diagnostics,
    table: &CsvTable,
    points: Vec<(f64, f64)>,
) -> Option<TorqueCurve> {
    let count = points.len();
    check_shape(diagnostics, table.file, &points);
    match TorqueCurve::new(points) {
        Ok(curve) => Some(curve),
        Err(error) => {
            let problem = if count < LEAST_CURVE_POINTS {
                let points = counted(count, "point");
                Problem::new(
                    Place::whole(table.file),
                    format!("the torque curve has {points}"),
                )
                .help(format!("at least {LEAST_CURVE_POINTS} are needed"))
            } else if error == TorqueCurveError::NoTorque {
                Problem::new(Place::whole(table.file), "the torque is nowhere above zero")
            } else {
                Problem::new(Place::whole(table.file), error.to_string())
            };
            diagnostics.problem(problem);
            None
        }
    }
}
