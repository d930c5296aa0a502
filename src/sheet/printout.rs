//! A dynamometer's printout looked at by itself, before any sheet names it.

use super::diagnostics::Diagnostics;
use super::dyno_columns::{Named, Readable};
use super::problem::{Place, Refusal};
use super::torque_file;
use super::value::Found;
use crate::car::engine::TorqueCurve;

/// A printout as far as it can be told.
#[derive(Debug, Clone, PartialEq)]
pub struct Printout {
    /// Its columns.
    pub columns: Vec<PrintedColumn>,
    /// The curve that it gives, or all that is wrong with it.
    pub curve: Result<TorqueCurve, Refusal>,
    /// Its text as a torque file: as it was printed, with tabs for the blanks that parted its
    /// cells and with the units that were picked in the heads of their columns.
    pub file: String,
    /// The column picked for engine speed, as `file` heads it.
    pub speed: Option<String>,
    /// The column picked for torque, as `file` heads it.
    pub torque: Option<String>,
}

/// A column of a printout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedColumn {
    /// As the printout heads it.
    pub name: String,
    /// What it may be read as: `speed`, `torque`, `power`. A column without a unit may be
    /// anything, if one is picked with it.
    pub may_be: Vec<&'static str>,
    /// Whether the printout says its unit.
    pub has_unit: bool,
}

/// Which columns to read, by their names; `None` leaves it to the names themselves.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Picked<'n> {
    /// The column of engine speed; where the printout says no unit, it is in rpm.
    pub speed: Option<&'n str>,
    /// The column of torque.
    pub torque: Option<&'n str>,
    /// Its unit, where the printout says none: `lbf·ft`.
    pub torque_unit: Option<&'n str>,
}

/// What a column of engine speed without a unit is in.
const SPEED_UNIT: &str = "rpm";

/// Reads a printout; `name` is what it is called in what is said of it.
///
/// Its cells may be parted by commas, semicolons, tabs or blanks.
///
/// ```
/// use flyheft::sheet::printout::{Picked, look};
///
/// // Invented figures.
/// let text = "RPM\tTq corr (Nm)\tTq (Nm)\n2000\t150\t146\n3000\t175\t170\n4000\t190\t184\n6000\t170\t165\n";
/// let printout = look("dyno.txt", text, Picked::default());
/// assert!(printout.curve.is_err(), "two columns can be read as torque");
/// let torques = printout.columns.iter().filter(|column| column.may_be.contains(&"torque"));
/// assert_eq!(torques.count(), 2);
///
/// let picked = Picked { torque: Some("Tq (Nm)"), ..Picked::default() };
/// assert_eq!(look("dyno.txt", text, picked).curve.map(|curve| curve.peak_nm()), Ok(184.0));
///
/// let bare = "Speed  Torque\n2000  108\n3000  125\n4000  136\n6000  122\n";
/// let picked = Picked { speed: Some("Speed"), torque: Some("Torque"), torque_unit: Some("lbf·ft") };
/// let printout = look("dyno.txt", bare, picked);
/// assert!(printout.file.starts_with("Speed (rpm)\tTorque (lbf·ft)\n2000\t108\n"));
/// assert_eq!(printout.curve.map(|curve| curve.peak_nm().round()), Ok(184.0));
/// ```
pub fn look(name: &str, text: &str, picked: Picked<'_>) -> Printout {
    let parted = parted_by_tabs(text);
    let columns = torque_file::columns(&parted);
    let bare = |name: Option<&str>| {
        let name = name?.trim();
        let mut bare = columns.iter().filter(|column| !column.has_unit);
        bare.find(|column| column.head.text.eq_ignore_ascii_case(name))
    };
    let unit =
        |column: Option<&str>, unit: Option<&str>| Some((bare(column)?, unit?.trim().to_owned()));
    let units = [
        unit(picked.speed, Some(SPEED_UNIT)),
        unit(picked.torque, picked.torque_unit),
    ];
    let headed = |column: Option<&str>, unit: &Option<(&Readable, String)>| match unit {
        Some((head, unit)) => Some(format!("{} ({unit})", head.head.text)),
        None => column.map(str::to_owned),
    };
    let [of_speed, of_torque] = &units;
    let speed = headed(picked.speed, of_speed);
    let torque = headed(picked.torque, of_torque);
    let file = with_units(&parted, units.iter().flatten());
    Printout {
        curve: curve(name, &file, speed.as_ref(), torque.as_ref()),
        columns: columns.into_iter().map(printed).collect(),
        file,
        speed,
        torque,
    }
}

fn printed(column: Readable) -> PrintedColumn {
    PrintedColumn {
        may_be: if column.has_unit {
            column.may_be
        } else {
            vec!["speed", "torque"]
        },
        name: column.head.text,
        has_unit: column.has_unit,
    }
}

fn curve(
    name: &str,
    text: &str,
    speed: Option<&String>,
    torque: Option<&String>,
) -> Result<TorqueCurve, Refusal> {
    let diagnostics = Diagnostics::default();
    let file = diagnostics.source(name, text);
    let found = |column: Option<&String>| {
        column.map(|column| Found {
            value: column.clone(),
            place: Place::whole(file),
            read: column.clone(),
        })
    };
    let named = Named {
        speed: found(speed),
        torque: found(torque),
        power: None,
    };
    let curve = torque_file::read_text(&diagnostics, file, text, &named);
    diagnostics.conclude(curve)
}

/// A text with units in brackets behind the heads of some columns.
fn with_units<'a>(text: &str, units: impl Iterator<Item = &'a (&'a Readable, String)>) -> String {
    let mut places: Vec<(usize, &str)> = units
        .filter_map(|(column, unit)| {
            let end = column.head.place.span.as_ref()?.end;
            let quoted = text.get(..end)?.ends_with('"');
            Some((end - usize::from(quoted), unit.as_str()))
        })
        .collect();
    places.sort_unstable();
    let mut out = text.to_owned();
    for (at, unit) in places.into_iter().rev() {
        out.insert_str(at, &format!(" ({unit})"));
    }
    out
}

/// A printout parted by blanks with tabs in their place, if every line has as many cells: two
/// blanks or more part cells, or else one does. Any other stays as it is.
fn parted_by_tabs(text: &str) -> String {
    let idle = |line: &str| line.trim().is_empty() || line.trim_start().starts_with('#');
    let rows = || text.lines().filter(|line| !idle(line));
    let names = rows().next().unwrap_or_default();
    if names.contains([',', ';', '\t']) {
        return text.to_owned();
    }
    let wide = |line: &str| -> Vec<String> {
        let cells = line.split("  ").map(str::trim);
        let cells = cells.filter(|cell| !cell.is_empty());
        cells.map(str::to_owned).collect()
    };
    let narrow =
        |line: &str| -> Vec<String> { line.split_whitespace().map(str::to_owned).collect() };
    for part in [&wide as &dyn Fn(&str) -> Vec<String>, &narrow] {
        let count = part(names).len();
        if count > 1 && rows().all(|line| part(line).len() == count) {
            let line = |line: &str| {
                if idle(line) {
                    format!("{line}\n")
                } else {
                    part(line).join("\t") + "\n"
                }
            };
            return text.lines().map(line).collect();
        }
    }
    text.to_owned()
}
