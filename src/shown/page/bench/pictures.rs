//! Pictures of what the sheet says, before anything is computed from it: the torque curve, the
//! flywheels in half section, a printout looked at.

use super::answers::{bare, beside, fragment};
use super::part::{Fragment, Part};
use crate::metal::disc::DiscDemand;
use crate::sheet::Reading;
use crate::sheet::printout::{Picked, PrintedColumn, Printout};
use crate::shown::drawing::HalfSection;
use crate::shown::figures;
use crate::shown::page::drawn::Drawn;
use crate::shown::page::error::PageError;
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};
use askama::Template;

#[derive(Template)]
#[template(path = "bench/picture.html", config = "src/shown/page/askama.toml")]
struct Curve {
    before: String,
    drawn: Drawn,
}

#[derive(Template)]
#[template(path = "bench/drawings.html", config = "src/shown/page/askama.toml")]
struct Drawings {
    /// Name and drawing as narrow as the form.
    wheels: Vec<(String, String)>,
}

#[derive(Template)]
#[template(path = "bench/printout.html", config = "src/shown/page/askama.toml")]
struct PrintoutPart {
    name: String,
    columns: Vec<Column>,
    /// Units that the torque may be in, where a column has none.
    units: Vec<(&'static str, Pick)>,
    curve: Option<Drawn>,
    refused: String,
    /// Whether there is a choice to make.
    choice: bool,
}

/// A column that may be picked.
struct Column {
    name: String,
    speed: Pick,
    torque: Pick,
}

/// Whether a column may be picked for something, and is.
#[derive(PartialEq)]
enum Pick {
    Cannot,
    May,
    Is,
}

/// The torque curve of the sheet, and its flywheels as far as they are described by sections.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn pictures(reading: &Reading) -> Result<[Fragment; 2], PageError> {
    let engine = &reading.car.engine;
    let chart = bare(figures::torque("", &engine.curve, System::Metric));
    let curve = Curve {
        before: String::new(),
        drawn: beside(&chart)?,
    };
    let demand = DiscDemand::at_limiter(engine.limiter_rad_s);
    let mut wheels = Vec::new();
    for wheel in reading.car.flywheels.all() {
        let Some(part) = wheel.part.built_up() else {
            continue;
        };
        let half = HalfSection {
            title: &reading.car.title,
            name: wheel.name(),
            part,
            cuts: Vec::new(),
            disc: &DiscStanding::of(Some(part), demand.as_ref()),
            disc_after: None,
        };
        if let Some(drawing) = half.svg_for_phone(System::Metric) {
            wheels.push((wheel.name().to_owned(), drawing?));
        }
    }
    Ok([
        fragment(Part::Torque, &curve, String::new())?,
        fragment(Part::Drawings, &Drawings { wheels }, String::new())?,
    ])
}

/// A printout: its curve, or what is wrong with it, and the columns to pick from.
///
/// # Errors
/// See [`PageError`]; no printout causes any of them.
pub fn printout_part(
    name: &str,
    printout: &Printout,
    picked: Picked<'_>,
) -> Result<Fragment, PageError> {
    let may_be = |role: &str| {
        let columns = printout.columns.iter();
        columns
            .filter(|column| column.has_unit && column.may_be.contains(&role))
            .count()
    };
    let columns = printout.columns.iter().map(|column| Column {
        name: column.name.clone(),
        speed: pick(column, "speed", picked.speed),
        torque: pick(column, "torque", picked.torque),
    });
    let curve = match &printout.curve {
        Ok(curve) => Some(beside(&bare(figures::torque("", curve, System::Metric)))?),
        Err(_) => None,
    };
    let refused = printout.curve.as_ref().err().map(told).unwrap_or_default();
    let said = if refused.is_empty() {
        String::from("The printout has a torque curve.")
    } else {
        String::from("The printout cannot be read yet.")
    };
    // Columns without a unit are of no matter where the others have the curve.
    let open = printout.curve.is_err() || picked != Picked::default();
    let without_unit = open && printout.columns.iter().any(|column| !column.has_unit);
    let units = Kind::Torque.units().map(|unit| {
        let chosen = picked.torque_unit == Some(unit.symbol);
        (unit.symbol, if chosen { Pick::Is } else { Pick::May })
    });
    let part = PrintoutPart {
        units: units.filter(|_| without_unit).collect(),
        name: name.to_owned(),
        choice: may_be("speed") > 1 || may_be("torque") > 1 || without_unit,
        columns: columns.collect(),
        curve,
        refused,
    };
    fragment(Part::Printout, &part, said)
}

fn pick(column: &PrintedColumn, role: &str, picked: Option<&str>) -> Pick {
    if !column.may_be.contains(&role) {
        Pick::Cannot
    } else if picked == Some(column.name.as_str()) {
        Pick::Is
    } else {
        Pick::May
    }
}

/// What is wrong with a printout, a line each.
fn told(refusal: &crate::sheet::Refusal) -> String {
    let told = refusal.problems().iter().map(|problem| {
        let line = refusal.location(problem).line;
        let place = line.map_or(String::new(), |line| format!("line {line}: "));
        let help = problem.help_texts().join(" ");
        format!("{place}{}. {help}", problem.title())
    });
    told.collect::<Vec<_>>().join("\n")
}
