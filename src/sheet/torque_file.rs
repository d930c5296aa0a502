//! The torque curve's file.

use super::csv_table::{CsvTable, number};
use super::file;
use super::notes::Notes;
use super::problem::{Place, Problem};
use crate::car::engine::{LEAST_CURVE_POINTS, TorqueCurve, TorqueCurveError};
use crate::units::{self, Unit};
use std::path::Path;

/// The column of speeds.
const SPEED: &str = "speed_rpm";
/// Most that a curve's speed can be, rpm: guards against a wrong column.
const MOST_RPM: f64 = 50_000.0;

/// Columns that give torque, outright or by way of power.
const TORQUES: [(&str, &Unit, Gives); 4] = [
    ("torque_nm", units::NM, Gives::Torque),
    ("torque_lbft", units::LBF_FT, Gives::Torque),
    ("power_kw", units::KW, Gives::Power),
    ("power_hp", units::HP, Gives::Power),
];

#[derive(Clone, Copy)]
enum Gives {
    Torque,
    Power,
}

/// Reads the curve that a sheet names; everything wrong is noted. `named_at` is the place in
/// the sheet that names it.
pub(super) fn read(notes: &Notes, path: &Path, named_at: &Place) -> Option<TorqueCurve> {
    let text = match file::read(path, file::TABLE_LIMIT_BYTES) {
        Ok(text) => text,
        Err(unreadable) => {
            notes.problem(
                Problem::new(named_at.clone(), unreadable.title)
                    .label("named here")
                    .help(unreadable.help),
            );
            return None;
        }
    };
    let file = notes.source(&path.display().to_string(), &text);
    let before = notes.problem_count();
    let table = CsvTable::parse(notes, file, &text)?;
    let points = points(notes, &table)?;
    // A point left out for its own fault must not be told again as a fault of the curve.
    if notes.problem_count() > before {
        return None;
    }
    curve(notes, &table, points)
}

fn points(notes: &Notes, table: &CsvTable) -> Option<Vec<(f64, f64)>> {
    let names: Vec<&str> = [SPEED].into_iter().chain(TORQUES.map(|t| t.0)).collect();
    table.check_columns(notes, &names);
    let speed = table.column(SPEED);
    if speed.is_none() {
        notes.problem(
            Problem::new(
                table.header_place(),
                format!("the column {SPEED} is missing"),
            )
            .help("the first line names the columns, such as speed_rpm,torque_nm"),
        );
    }
    let torque = torque_column(notes, table);
    let (speed, (torque, name, unit, gives)) = (speed?, torque?);
    let mut points: Vec<(f64, f64)> = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        let (speed_cell, torque_cell) = (row.get(speed)?, row.get(torque)?);
        let rpm = number(notes, SPEED, speed_cell);
        let value = number(notes, name, torque_cell);
        if let Some(value) = value.filter(|value| *value < 0.0) {
            notes.problem(
                Problem::new(
                    torque_cell.place.clone(),
                    format!("{name} = {value} is out of range"),
                )
                .label("must be zero or above"),
            );
        }
        let Some(rpm) = rpm else { continue };
        if !(rpm > 0.0 && rpm <= MOST_RPM) {
            notes.problem(
                Problem::new(
                    speed_cell.place.clone(),
                    format!("{SPEED} = {rpm} is out of range"),
                )
                .label(format!("must be above 0 and at most {MOST_RPM}")),
            );
            continue;
        }
        let speed_rad_s = units::RPM.to_si(rpm);
        if let Some(&(last, _)) = points.last().filter(|(last, _)| speed_rad_s <= *last) {
            let last = units::plain(units::RPM.of_si(last));
            notes.problem(
                Problem::new(
                    speed_cell.place.clone(),
                    format!("speed does not rise: {rpm} after {last}"),
                )
                .label("must be above the row before")
                .help("sort the rows by speed and keep one for each speed"),
            );
        }
        let si = value.map_or(f64::NAN, |value| unit.to_si(value));
        points.push((
            speed_rad_s,
            match gives {
                Gives::Torque => si,
                Gives::Power => si / speed_rad_s,
            },
        ));
    }
    Some(points)
}

fn torque_column(
    notes: &Notes,
    table: &CsvTable,
) -> Option<(usize, &'static str, &'static Unit, Gives)> {
    let mut found = TORQUES
        .iter()
        .filter_map(|(name, unit, gives)| Some((table.column(name)?, *name, *unit, *gives)));
    let Some(first) = found.next() else {
        notes.problem(
            Problem::new(table.header_place(), "no column gives torque or power").help(
                "one of torque_nm, torque_lbft, power_kw or power_hp is needed beside speed_rpm",
            ),
        );
        return None;
    };
    if let Some(second) = found.next() {
        let place = |index: usize| table.columns.get(index).map(|cell| cell.place.clone());
        let (one, other) = (place(first.0)?, place(second.0)?);
        let (early, late) = if one.start() < other.start() {
            (one, other)
        } else {
            (other, one)
        };
        notes.problem(
            Problem::new(
                late,
                format!("two columns give torque: {} and {}", first.1, second.1),
            )
            .label("a second one")
            .also(early, "the first")
            .help("keep one of them; power and torque say the same thing"),
        );
        return None;
    }
    Some(first)
}

fn curve(notes: &Notes, table: &CsvTable, points: Vec<(f64, f64)>) -> Option<TorqueCurve> {
    let count = points.len();
    match TorqueCurve::new(points) {
        Ok(curve) => Some(curve),
        Err(error) => {
            let problem = if count < LEAST_CURVE_POINTS {
                let points = if count == 1 {
                    "1 point"
                } else {
                    &format!("{count} points")
                };
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
            notes.problem(problem);
            None
        }
    }
}
