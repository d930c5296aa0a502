//! The file of practice launches.

use super::csv_table::{Cell, CsvTable, engine_speed, number};
use super::diagnostics::Diagnostics;
use super::file;
use super::problem::{FileId, Place, Problem, Refusal};
use super::unknown_key::nearest;
use crate::car::Flywheels;
use crate::car::practice::{Practice, PracticeLaunch};
use crate::units::quote;
use std::path::Path;

const SPEED: &str = "speed_rpm";
const ORDER: &str = "order";
const TIME: &str = "time";
const FLYWHEEL: &str = "flywheel";

/// Reads a file of practice launches on its own: a column `speed_rpm`, one launch a row, and at
/// will `order` (a number) or `time` (a time of day, or seconds), and `flywheel` (a name).
///
/// # Errors
/// With everything that is wrong in the file.
pub fn read(path: &Path) -> Result<Practice, Refusal> {
    let diagnostics = Diagnostics::default();
    let practice = file::read_itself(&diagnostics, path, file::TABLE_LIMIT_BYTES)
        .and_then(|(file, text)| launches(&diagnostics, file, &text, None));
    diagnostics.conclude(practice)
}

/// Reads practice launches from a text that is called so.
///
/// # Errors
/// As [`read`].
pub fn read_text(name: &str, text: &str) -> Result<Practice, Refusal> {
    let diagnostics = Diagnostics::default();
    let file = diagnostics.source(name, text);
    let practice = launches(&diagnostics, file, text, None);
    diagnostics.conclude(practice)
}

/// Reads the file that a sheet names at this place.
pub(super) fn read_named(
    diagnostics: &Diagnostics,
    path: &Path,
    named_at: &Place,
    wheels: Option<&Flywheels>,
) -> Option<Practice> {
    diagnostics.practice(path, || {
        let (file, text) = file::read_named(diagnostics, path, named_at)?;
        launches(diagnostics, file, &text, wheels)
    })
}

fn launches(
    diagnostics: &Diagnostics,
    file: FileId,
    text: &str,
    wheels: Option<&Flywheels>,
) -> Option<Practice> {
    let before = diagnostics.problem_count();
    let table = CsvTable::parse(diagnostics, file, text, SPEED)?;
    let meant = table.check_columns(diagnostics, &[SPEED, ORDER, TIME, FLYWHEEL]);
    let speed = table.needed_column(
        diagnostics,
        SPEED,
        &meant,
        "the first line names the columns; speed_rpm holds one launch speed a row",
    )?;
    let columns = Columns {
        speed,
        order: table.column(ORDER),
        time: table.column(TIME),
        flywheel: table.column(FLYWHEEL),
    };
    if let (Some(_), Some(time)) = (columns.order, columns.time) {
        let place = table.columns.get(time)?.place.clone();
        diagnostics.problem(
            Problem::new(place, "order and time are both given")
                .help("keep one of the two columns"),
        );
    }
    let rows = table.rows.iter();
    let launches: Vec<PracticeLaunch> = rows
        .filter_map(|row| columns.launch(diagnostics, row, wheels))
        .collect();
    if launches.is_empty() && diagnostics.problem_count() == before {
        diagnostics.problem(
            Problem::new(Place::whole(file), "there are no launches in this file")
                .help("one launch speed a row under speed_rpm"),
        );
    }
    (diagnostics.problem_count() == before).then_some(Practice { launches })
}

/// Where what is told of a launch stands in its row.
struct Columns {
    speed: usize,
    order: Option<usize>,
    time: Option<usize>,
    flywheel: Option<usize>,
}

impl Columns {
    /// The launch of a row, `None` where its speed is wrong; what is wrong is noted.
    fn launch(
        &self,
        diagnostics: &Diagnostics,
        row: &[Cell],
        wheels: Option<&Flywheels>,
    ) -> Option<PracticeLaunch> {
        let cell = |at: Option<usize>| row.get(at?);
        let speed = engine_speed(diagnostics, SPEED, row.get(self.speed)?);
        let order = match (cell(self.order), cell(self.time)) {
            (Some(cell), _) => number(diagnostics, ORDER, cell),
            (None, Some(cell)) => time_of_day_s(diagnostics, cell),
            (None, None) => None,
        };
        let flywheel = cell(self.flywheel).filter(|cell| !cell.text.is_empty());
        if let (Some(cell), Some(wheels)) = (flywheel, wheels) {
            check_name(diagnostics, cell, wheels);
        }
        Some(PracticeLaunch {
            speed_rad_s: speed?,
            order,
            flywheel: flywheel.map(|cell| cell.text.clone()),
        })
    }
}

fn check_name(diagnostics: &Diagnostics, cell: &Cell, wheels: &Flywheels) {
    if wheels.named(&cell.text).is_some() {
        return;
    }
    let names = || wheels.all().iter().map(crate::car::Flywheel::name);
    let problem = Problem::new(
        cell.place.clone(),
        format!(
            "no flywheel of the sheet is called \"{}\"",
            quote(&cell.text)
        ),
    )
    .help(format!(
        "the sheet's flywheels: {}",
        names().collect::<Vec<_>>().join(", ")
    ));
    diagnostics.problem(match nearest(&cell.text, names()) {
        Some(near) => problem.label(format!("did you mean {near}?")),
        None => problem,
    });
}

/// Seconds of the day from `14:05`, `14:05:30` or a plain number of seconds.
fn time_of_day_s(diagnostics: &Diagnostics, cell: &Cell) -> Option<f64> {
    let parts: Vec<&str> = cell.text.split(':').map(str::trim).collect();
    let whole = |text: &str, below: u32| {
        let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
        text.parse::<u32>().ok().filter(|n| digits && *n < below)
    };
    let seconds = |text: &str| {
        let plain = text.chars().all(|c| c.is_ascii_digit() || c == '.');
        text.parse::<f64>().ok().filter(|s| plain && *s < 60.0)
    };
    let read = match parts.as_slice() {
        [number] => number.parse::<f64>().ok().filter(|s| s.is_finite()),
        [hours, minutes] => whole(hours, 24)
            .zip(whole(minutes, 60))
            .map(|(h, m)| f64::from(h) * 3600.0 + f64::from(m) * 60.0),
        [hours, minutes, s] => whole(hours, 24)
            .zip(whole(minutes, 60))
            .zip(seconds(s))
            .map(|((h, m), s)| f64::from(h) * 3600.0 + f64::from(m) * 60.0 + s),
        _ => None,
    };
    if read.is_none() {
        diagnostics.problem(
            Problem::new(
                cell.place.clone(),
                format!("{TIME}: \"{}\" is no time", quote(&cell.text)),
            )
            .help("a time of day such as 14:05 or 14:05:30, or a plain number of seconds"),
        );
    }
    read
}
