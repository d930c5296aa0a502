//! The torque curve's file.

use super::csv_table::{Cell, CsvTable, engine_speed, number};
use super::diagnostics::Diagnostics;
use super::file;
use super::problem::{FileId, Place, Problem};
use super::warnings::Warning;
use super::words::counted;
use crate::car::engine::{LEAST_CURVE_POINTS, TorqueCurve, TorqueCurveError};
use crate::units::{self, Unit, quote};
use std::path::Path;

/// The column of speeds.
const SPEED: &str = "speed_rpm";
/// A column that gives torque, outright or by way of power.
struct Torque {
    name: &'static str,
    unit: &'static Unit,
    gives: Gives,
}

#[derive(Clone, Copy)]
enum Gives {
    Torque,
    Power,
}

static TORQUES: [Torque; 4] = [
    Torque {
        name: "torque_nm",
        unit: units::NM,
        gives: Gives::Torque,
    },
    Torque {
        name: "torque_lbft",
        unit: units::LBF_FT,
        gives: Gives::Torque,
    },
    Torque {
        name: "power_kw",
        unit: units::KW,
        gives: Gives::Power,
    },
    Torque {
        name: "power_hp",
        unit: units::HP,
        gives: Gives::Power,
    },
];

impl Torque {
    /// Torque in N·m from the column's value at a speed in rad/s.
    fn torque_nm(&self, value: f64, speed_rad_s: f64) -> f64 {
        let si = self.unit.to_si(value);
        match self.gives {
            Gives::Torque => si,
            Gives::Power => si / speed_rad_s,
        }
    }
}

/// Reads the curve that a sheet names; everything wrong is noted. `named_at` is the place in
/// the sheet that names it.
pub(super) fn read(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
) -> Option<TorqueCurve> {
    diagnostics.curve(path, || read_file(diagnostics, path, named_at))
}

fn read_file(diagnostics: &Diagnostics, path: &Path, named_at: &Place) -> Option<TorqueCurve> {
    let (file, text) = file::read_named(diagnostics, path, named_at)?;
    let before = diagnostics.problem_count();
    let table = CsvTable::parse(diagnostics, file, &text, "speed_rpm,torque_nm")?;
    let points = points(diagnostics, &table)?;
    // A point left out for its own fault must not be told again as a fault of the curve.
    if diagnostics.problem_count() > before {
        return None;
    }
    curve(diagnostics, &table, points)
}

fn points(diagnostics: &Diagnostics, table: &CsvTable) -> Option<Vec<(f64, f64)>> {
    let names: Vec<&'static str> = [SPEED]
        .into_iter()
        .chain(TORQUES.iter().map(|t| t.name))
        .collect();
    let meant = table.check_columns(diagnostics, &names);
    let speed = table.column(SPEED);
    if speed.is_none() && !meant.contains(&SPEED) {
        let title = format!("the column {SPEED} is missing");
        diagnostics.problem(
            Problem::new(table.header_place(), title)
                .help("the first line names the columns, such as speed_rpm,torque_nm"),
        );
    }
    let torque = torque_column(diagnostics, table, &meant);
    let (speed, (torque_at, torque)) = (speed?, torque?);
    let mut points: Vec<(f64, f64)> = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        let (speed_cell, torque_cell) = (row.get(speed)?, row.get(torque_at)?);
        let value = torque_value(diagnostics, torque.name, torque_cell);
        let last = points.last().map(|point| point.0);
        let Some(speed_rad_s) = speed_value(diagnostics, speed_cell, last) else {
            continue;
        };
        let torque_nm = value.map_or(f64::NAN, |value| torque.torque_nm(value, speed_rad_s));
        points.push((speed_rad_s, torque_nm));
    }
    Some(points)
}

fn torque_value(diagnostics: &Diagnostics, name: &str, cell: &Cell) -> Option<f64> {
    let value = number(diagnostics, name, cell)?;
    if value < 0.0 {
        let title = format!("{name} = {value} is out of range");
        diagnostics.problem(Problem::new(cell.place.clone(), title).label("must be zero or above"));
    }
    Some(value)
}

/// A row's speed in rad/s, held against the row before it.
fn speed_value(diagnostics: &Diagnostics, cell: &Cell, last_rad_s: Option<f64>) -> Option<f64> {
    let speed_rad_s = engine_speed(diagnostics, SPEED, cell)?;
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

/// The one column that gives torque, with its index. One that is only misspelt is not missing.
fn torque_column(
    diagnostics: &Diagnostics,
    table: &CsvTable,
    meant: &[&str],
) -> Option<(usize, &'static Torque)> {
    let mut found = TORQUES
        .iter()
        .filter_map(|torque| Some((table.column(torque.name)?, torque)));
    let Some(first) = found.next() else {
        if !TORQUES.iter().any(|torque| meant.contains(&torque.name)) {
            diagnostics.problem(
                Problem::new(table.header_place(), "no column gives torque or power").help(
                    "one of torque_nm, torque_lbft, power_kw or power_hp is needed beside speed_rpm",
                ),
            );
        }
        return None;
    };
    let Some(second) = found.next() else {
        return Some(first);
    };
    let place = |index: usize| table.columns.get(index).map(|cell| cell.place.clone());
    let (one, other) = (place(first.0)?, place(second.0)?);
    let (early, late) = if one.start() < other.start() {
        (one, other)
    } else {
        (other, one)
    };
    let title = format!(
        "two columns give torque: {} and {}",
        first.1.name, second.1.name
    );
    diagnostics.problem(
        Problem::new(late, title)
            .label("a second one")
            .also(early, "the first")
            .help("keep one of them; power and torque say the same thing"),
    );
    None
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
