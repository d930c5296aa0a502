//! Which columns of a dynamometer's file hold speed, torque and power, whatever it calls them.

use super::csv_table::{Cell, CsvTable};
use super::problem::{Place, Problem};
use super::value::Found;
use crate::units::{Kind, parse, quote};

/// The columns that a sheet names with `torque_columns`.
#[derive(Debug, Clone, Default)]
pub(super) struct Named {
    pub(super) speed: Option<Found<String>>,
    pub(super) torque: Option<Found<String>>,
    pub(super) power: Option<Found<String>>,
}

/// A column by its place in a row, with what turns its figures into SI.
#[derive(Debug, Clone)]
pub(super) struct Column {
    pub(super) at: usize,
    pub(super) to_si: f64,
    /// As the file heads it.
    pub(super) name: String,
}

/// The columns to read.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    pub(super) speed: Column,
    pub(super) torque: Option<Column>,
    pub(super) power: Option<Column>,
}

/// What a column measures, as far as its name and unit tell.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Role {
    Speed,
    Torque,
    Power,
}

impl Role {
    const fn kind(self) -> Kind {
        match self {
            Self::Speed => Kind::AngularSpeed,
            Self::Torque => Kind::Torque,
            Self::Power => Kind::Power,
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Speed => "speed",
            Self::Torque => "torque",
            Self::Power => "power",
        }
    }
}

const ROLES: [Role; 3] = [Role::Speed, Role::Torque, Role::Power];

/// Finds the columns; `units` is the row of units under the names, where there is one.
///
/// # Errors
/// With what is missing, or could be read in two ways, and which line to write.
pub(super) fn find(
    table: &CsvTable,
    units: Option<&[Cell]>,
    named: &Named,
) -> Result<Columns, Problem> {
    let heads: Vec<Head<'_>> = table
        .columns
        .iter()
        .enumerate()
        .map(|(at, cell)| Head::of(at, cell, units.and_then(|units| units.get(at))))
        .collect();
    let pick = |role: Role, asked: Option<&Found<String>>| match asked {
        Some(asked) => by_name(&heads, role, asked).map(Some),
        None => by_role(&heads, role, table.header_place()),
    };
    let speed = pick(Role::Speed, named.speed.as_ref())?;
    let torque = pick(Role::Torque, named.torque.as_ref())?;
    let power = match (&torque, &named.power) {
        // Power that could be read in two ways is of no use to hold torque against.
        (Some(_), None) => pick(Role::Power, None).unwrap_or(None),
        _ => pick(Role::Power, named.power.as_ref())?,
    };
    let missing = |title: &str| {
        Problem::new(table.header_place(), title)
            .label("the names of the columns")
            .help(form(&heads))
    };
    let speed = speed.ok_or_else(|| missing("no column gives the engine's speed"))?;
    if torque.is_none() && power.is_none() {
        return Err(missing("no column gives torque or power"));
    }
    Ok(Columns {
        speed,
        torque,
        power,
    })
}

/// A column with what it may be read as.
#[derive(Debug, Clone)]
pub(super) struct Readable {
    pub(super) head: Cell,
    pub(super) has_unit: bool,
    pub(super) may_be: Vec<&'static str>,
}

/// Every column, with what it may be read as.
pub(super) fn readable(table: &CsvTable, units: Option<&[Cell]>) -> Vec<Readable> {
    let heads = table.columns.iter().enumerate();
    let head = |(at, cell)| Head::of(at, cell, units.and_then(|units| units.get(at)));
    let told = heads.map(head).map(|head| {
        let roles = ROLES.iter().filter(|role| head.to_si(**role).is_some());
        Readable {
            head: head.cell.clone(),
            may_be: roles.map(|role| role.name()).collect(),
            has_unit: head.unit.as_deref().is_some_and(is_of_any_kind),
        }
    });
    told.collect()
}

/// A column's head: its words and its unit.
struct Head<'a> {
    at: usize,
    cell: &'a Cell,
    unit: Option<String>,
}

impl<'a> Head<'a> {
    fn of(at: usize, cell: &'a Cell, unit: Option<&Cell>) -> Self {
        let below = unit.map(|unit| unit.text.trim_matches(['[', ']', '(', ')', ' ']).to_owned());
        let unit = unit_in(&cell.text).or(below.filter(|unit| !unit.is_empty()));
        Self { at, cell, unit }
    }

    /// SI units in one of the column's, if it measures this.
    fn to_si(&self, role: Role) -> Option<f64> {
        factor(self.unit.as_deref()?, role)
    }

    fn column(&self, to_si: f64) -> Column {
        Column {
            at: self.at,
            to_si,
            name: self.cell.text.clone(),
        }
    }
}

/// The unit that a name carries: in brackets, behind its last blank or underscore, or alone.
fn unit_in(name: &str) -> Option<String> {
    for (open, close) in [('[', ']'), ('(', ')')] {
        let inner = name
            .rsplit_once(open)
            .and_then(|(_, rest)| rest.split_once(close));
        if let Some((unit, _)) = inner {
            return Some(unit.trim().to_owned());
        }
    }
    let last = name.rsplit([' ', '_']).next().unwrap_or_default();
    [name, last]
        .into_iter()
        .find(|unit| is_unit(unit))
        .map(str::to_owned)
}

/// SI units in one of a unit, as dynamometers spell it.
fn factor(unit: &str, role: Role) -> Option<f64> {
    let lower = unit.trim().to_lowercase();
    let plain = match (role, lower.as_str()) {
        (Role::Speed, "1/min" | "u/min" | "min-1" | "min^-1" | "/min") => "rpm",
        (Role::Power, "bhp" | "whp") => "hp",
        (Role::Power, "cv" | "ps" | "pk") => "PS",
        _ => unit.trim(),
    };
    parse(&format!("1 {plain}"), role.kind()).ok()
}

/// Whether this is a unit of anything at all; `corr` in a name's brackets is none.
fn is_of_any_kind(unit: &str) -> bool {
    let of = |kind: &Kind| parse(&format!("1 {unit}"), *kind).is_ok();
    is_unit(unit) || Kind::ALL.iter().any(of)
}

/// Whether this is a unit of anything that a torque file is read for.
pub(super) fn is_unit(text: &str) -> bool {
    ROLES.iter().any(|role| factor(text, *role).is_some())
}

fn by_name(heads: &[Head<'_>], role: Role, asked: &Found<String>) -> Result<Column, Problem> {
    let same = |head: &&Head<'_>| head.cell.text.eq_ignore_ascii_case(asked.value.trim());
    let Some(head) = heads.iter().find(same) else {
        let title = format!("the torque file has no column \"{}\"", quote(&asked.value));
        return Err(
            Problem::new(asked.place.clone(), title).help(format!("its columns: {}", names(heads)))
        );
    };
    match head.to_si(role) {
        Some(to_si) => Ok(head.column(to_si)),
        None => Err(Problem::new(
            head.cell.place.clone(),
            format!(
                "the column \"{}\" has no unit of {}",
                quote(&head.cell.text),
                role.name()
            ),
        )
        .help(format!(
            "write it in brackets behind the name, such as \"{} ({})\"",
            quote(&head.cell.text),
            role.kind().units().next().map_or("", |unit| unit.symbol)
        ))),
    }
}

fn by_role(heads: &[Head<'_>], role: Role, header: Place) -> Result<Option<Column>, Problem> {
    let mut found = heads
        .iter()
        .filter_map(|head| Some((head, head.to_si(role)?)));
    let Some((first, to_si)) = found.next() else {
        return Ok(None);
    };
    let Some((second, _)) = found.next() else {
        return Ok(Some(first.column(to_si)));
    };
    if first.cell.text.eq_ignore_ascii_case(&second.cell.text) {
        let title = format!("the column {} is there twice", quote(&second.cell.text));
        return Err(Problem::new(second.cell.place.clone(), title)
            .label("again")
            .also(first.cell.place.clone(), "first here"));
    }
    let title = format!(
        "two columns can be read as {}: {} and {}",
        role.name(),
        quote(&first.cell.text),
        quote(&second.cell.text)
    );
    let place = if second.cell.place.span.is_some() {
        second.cell.place.clone()
    } else {
        header
    };
    Err(Problem::new(place, title)
        .label("this one, or the other")
        .also(first.cell.place.clone(), "the other")
        .help(form(heads)))
}

fn names(heads: &[Head<'_>]) -> String {
    let names: Vec<String> = heads
        .iter()
        .map(|head| format!("\"{}\"", quote(&head.cell.text)))
        .collect();
    names.join(", ")
}

/// The line to write, with the file's own names where they can be told.
fn form(heads: &[Head<'_>]) -> String {
    let first = |role: Role, otherwise: &str| {
        let head = heads.iter().find(|head| head.to_si(role).is_some());
        head.map_or(otherwise.to_owned(), |head| quote(&head.cell.text))
    };
    format!(
        "the file's columns: {}. A unit stands in brackets behind the name, as in \"Torque (Nm)\". Say under [engine] which to take: torque_columns = {{ speed = \"{}\", torque = \"{}\" }}",
        names(heads),
        first(Role::Speed, "Speed (rpm)"),
        first(Role::Torque, "Torque (Nm)")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn law_units_are_found_where_dynamometers_put_them() {
        for (name, role, si) in [
            ("speed_rpm", Role::Speed, 0.104_719_755),
            ("RPM", Role::Speed, 0.104_719_755),
            ("Engine speed [1/min]", Role::Speed, 0.104_719_755),
            ("n (U/min)", Role::Speed, 0.104_719_755),
            ("torque_lbft", Role::Torque, 1.355_817_948),
            ("Tq (Nm)", Role::Torque, 1.0),
            ("Torque ft-lb", Role::Torque, 1.355_817_948),
            ("P [kW]", Role::Power, 1000.0),
            ("WHP", Role::Power, 745.699_872),
        ] {
            let unit = unit_in(name).unwrap_or_else(|| panic!("{name}"));
            assert_relative_eq!(factor(&unit, role).expect(name), si, max_relative = 1e-8);
        }
        for other in ["Time (s)", "Speed (km/h)", "Lambda", "AFR", "Boost (bar)"] {
            let unit = unit_in(other).unwrap_or_default();
            assert!(
                ROLES.iter().all(|role| factor(&unit, *role).is_none()),
                "{other}"
            );
        }
    }
}
