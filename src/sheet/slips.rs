//! The file of time slips.

use super::csv_table::{Cell, CsvTable, engine_speed, number};
use super::diagnostics::Diagnostics;
use super::file;
use super::problem::{FileId, Place, Problem, Refusal};
use super::trace_file;
use super::unknown_key::nearest;
use crate::car::meeting::Meeting;
use crate::car::slip::{Shown, Slip, SlipFigure};
use crate::car::track::Mark;
use crate::car::{Car, Flywheels};
use crate::units::{self, Kind, RPM, Unit, quote};
use std::path::{Path, PathBuf};

const WHEEL: &str = "wheel";
const LAUNCH: &str = "launch_rpm";
const TRACE: &str = "trace";
const REMARK: &str = "remark";
const MEETING: &str = "meeting";

/// How the cells of a column are read.
#[derive(Clone, Copy)]
enum Form {
    Seconds,
    Rpm,
    /// A bare number in this unit.
    In(&'static Unit),
    /// A number with its own unit.
    WithUnit,
}

struct Column {
    name: &'static str,
    shown: Shown,
    form: Form,
}

const fn column(name: &'static str, shown: Shown, form: Form) -> Column {
    Column { name, shown, form }
}

static COLUMNS: [Column; 16] = [
    column("sixty_foot_s", Shown::Time(Mark::Ft60), Form::Seconds),
    column("60 ft", Shown::Time(Mark::Ft60), Form::Seconds),
    column("330_s", Shown::Time(Mark::Ft330), Form::Seconds),
    column("660_s", Shown::Time(Mark::Ft660), Form::Seconds),
    column("1000_s", Shown::Time(Mark::Ft1000), Form::Seconds),
    column("1320_s", Shown::Time(Mark::Ft1320), Form::Seconds),
    column("660_speed", Shown::TrapSpeed(Mark::Ft660), Form::WithUnit),
    column(
        "660_speed_m_s",
        Shown::TrapSpeed(Mark::Ft660),
        Form::In(units::M_S),
    ),
    column(
        "660_speed_kmh",
        Shown::TrapSpeed(Mark::Ft660),
        Form::In(units::KM_H),
    ),
    column(
        "660_speed_mph",
        Shown::TrapSpeed(Mark::Ft660),
        Form::In(units::MPH),
    ),
    column("1320_speed", Shown::TrapSpeed(Mark::Ft1320), Form::WithUnit),
    column(
        "1320_speed_m_s",
        Shown::TrapSpeed(Mark::Ft1320),
        Form::In(units::M_S),
    ),
    column(
        "1320_speed_kmh",
        Shown::TrapSpeed(Mark::Ft1320),
        Form::In(units::KM_H),
    ),
    column(
        "1320_speed_mph",
        Shown::TrapSpeed(Mark::Ft1320),
        Form::In(units::MPH),
    ),
    column("lowest_rpm", Shown::LowestEngineSpeed, Form::Rpm),
    column("lock_s", Shown::LockUp, Form::Seconds),
];

/// The slips of a file, and every file that was read for them.
#[derive(Debug, Clone, PartialEq)]
pub struct Slips {
    /// One a row.
    pub runs: Vec<Slip>,
    /// The file itself, and the logs it names.
    pub files: Vec<PathBuf>,
}

/// Reads a file of time slips, one run a row; columns by name, in any order, an empty cell is
/// unknown. Logs that it names lie beside it.
///
/// # Errors
/// With everything that is wrong in the file.
pub fn read(path: &Path, car: &Car) -> Result<Slips, Refusal> {
    let diagnostics = Diagnostics::default();
    let opened = file::read_itself(&diagnostics, path, file::TABLE_LIMIT_BYTES);
    let runs = opened.and_then(|(file, text)| table(&diagnostics, file, &text, car, path));
    let mut slips = close(diagnostics, runs)?;
    slips.files.insert(0, path.to_owned());
    Ok(slips)
}

/// Reads time slips from a text, as if it lay at a path; logs that it names lie beside that.
///
/// # Errors
/// As [`read`].
pub fn read_text(path: &Path, text: &str, car: &Car) -> Result<Slips, Refusal> {
    let diagnostics = Diagnostics::default();
    let file = diagnostics.source(&path.display().to_string(), text);
    let runs = table(&diagnostics, file, text, car, path);
    close(diagnostics, runs)
}

fn table(
    diagnostics: &Diagnostics,
    file: FileId,
    text: &str,
    car: &Car,
    path: &Path,
) -> Option<Vec<Slip>> {
    let table = CsvTable::parse(diagnostics, file, text, "launch_rpm,sixty_foot_s")?;
    Some(runs(diagnostics, &table, car, path))
}

fn close(diagnostics: Diagnostics, runs: Option<Vec<Slip>>) -> Result<Slips, Refusal> {
    let outcome = diagnostics.close();
    match runs {
        Some(runs) if outcome.problems.is_empty() => Ok(Slips {
            runs,
            files: outcome.files,
        }),
        _ => Err(Refusal::new(outcome.sources, outcome.problems)),
    }
}

fn runs(diagnostics: &Diagnostics, table: &CsvTable, car: &Car, path: &Path) -> Vec<Slip> {
    let known: Vec<&'static str> = [WHEEL, LAUNCH, TRACE, REMARK, MEETING]
        .into_iter()
        .chain(COLUMNS.iter().map(|column| column.name))
        .collect();
    table.check_columns(diagnostics, &known);
    let runs: Vec<Slip> = table
        .rows
        .iter()
        .enumerate()
        .filter_map(|(index, row)| run(diagnostics, table, car, path, (index + 1, row)))
        .collect();
    if runs.is_empty() && diagnostics.problem_count() == 0 {
        diagnostics.problem(
            Problem::new(Place::whole(table.file), "there are no runs in this file")
                .help("one run a row, such as launch_rpm and sixty_foot_s"),
        );
    }
    runs
}

fn run(
    diagnostics: &Diagnostics,
    table: &CsvTable,
    car: &Car,
    path: &Path,
    (row, cells): (usize, &[Cell]),
) -> Option<Slip> {
    let cell = |name: &str| {
        let at = table.column(name)?;
        cells.get(at).filter(|cell| !cell.text.is_empty())
    };
    // All cells are read before the first that is wrong ends the row, so that all are told of.
    let wheel = match cell(WHEEL) {
        Some(cell) => wheel_of(diagnostics, cell, &car.flywheels),
        None => fitted(&car.flywheels),
    };
    // A sheet without meetings takes all slips at its track, whatever they are called.
    let meeting = if_there(cell(MEETING).filter(|_| !car.meetings.is_empty()), |cell| {
        meeting_of(diagnostics, cell, &car.meetings)
    });
    let launch_speed_rad_s = if_there(cell(LAUNCH), |cell| engine_speed(diagnostics, LAUNCH, cell));
    let figures: Vec<Option<SlipFigure>> = COLUMNS
        .iter()
        .filter_map(|column| Some(figure(diagnostics, column, cell(column.name)?)))
        .collect();
    let log = if_there(cell(TRACE), |cell| {
        trace_file::read_beside(diagnostics, &path.with_file_name(&cell.text), &cell.place)
    });
    let figures: Vec<SlipFigure> = figures.into_iter().collect::<Option<_>>()?;
    let (wheel, log) = (wheel?, log.ok()?);
    if figures.is_empty() && log.is_none() {
        let place = cells.first()?.place.clone();
        diagnostics.problem(
            Problem::new(place, "this run shows nothing")
                .help("a run needs one figure at least, such as its sixty_foot_s"),
        );
        return None;
    }
    Some(Slip {
        row,
        wheel,
        meeting: meeting.ok()?,
        launch_speed_rad_s: launch_speed_rad_s.ok()?,
        figures,
        log,
        remark: cell(REMARK).map(|cell| cell.text.clone()),
    })
}

/// A cell that is wrong; what is wrong with it has been told.
struct WrongCell;

/// What a cell holds, nothing where it is empty.
fn if_there<T>(
    cell: Option<&Cell>,
    read: impl FnOnce(&Cell) -> Option<T>,
) -> Result<Option<T>, WrongCell> {
    cell.map(|cell| read(cell).ok_or(WrongCell)).transpose()
}

fn fitted(wheels: &Flywheels) -> Option<usize> {
    let fitted = wheels.fitted()?.name();
    wheels.all().iter().position(|wheel| wheel.name() == fitted)
}

fn wheel_of(diagnostics: &Diagnostics, cell: &Cell, wheels: &Flywheels) -> Option<usize> {
    let names: Vec<&str> = wheels
        .all()
        .iter()
        .map(crate::car::Flywheel::name)
        .collect();
    named(diagnostics, cell, "flywheel", &names)
}

fn meeting_of(diagnostics: &Diagnostics, cell: &Cell, meetings: &[Meeting]) -> Option<usize> {
    let names: Vec<&str> = meetings
        .iter()
        .map(|meeting| meeting.name.as_str())
        .collect();
    named(diagnostics, cell, "meeting", &names)
}

/// Place of what a cell names among the sheet's.
fn named(diagnostics: &Diagnostics, cell: &Cell, what: &str, names: &[&str]) -> Option<usize> {
    let found = names.iter().position(|name| *name == cell.text);
    if found.is_none() {
        let title = format!("no {what} of the sheet is called \"{}\"", quote(&cell.text));
        let problem = Problem::new(cell.place.clone(), title)
            .help(format!("the sheet's {what}s: {}", names.join(", ")));
        diagnostics.problem(match nearest(&cell.text, names.iter().copied()) {
            Some(near) => problem.label(format!("did you mean {near}?")),
            None => problem,
        });
    }
    found
}

/// Most that a time on a slip can be, s, and a speed, m/s: guards against a wrong column.
const MOST_TIME_S: f64 = 60.0;
const MOST_SPEED_M_S: f64 = 200.0;

fn figure(diagnostics: &Diagnostics, column: &Column, cell: &Cell) -> Option<SlipFigure> {
    let step = last_digit(&cell.text);
    let (value, step, most) = match column.form {
        Form::Seconds => (number(diagnostics, column.name, cell)?, step, MOST_TIME_S),
        Form::Rpm => (
            engine_speed(diagnostics, column.name, cell)?,
            RPM.to_si(step),
            f64::INFINITY,
        ),
        Form::In(unit) => (
            unit.to_si(number(diagnostics, column.name, cell)?),
            unit.to_si(step),
            MOST_SPEED_M_S,
        ),
        Form::WithUnit => match units::parse(&cell.text, Kind::Speed) {
            Ok(speed) => (speed, step * MOST_SPEED_UNIT_M_S, MOST_SPEED_M_S),
            Err(error) => {
                diagnostics.problem(
                    Problem::new(cell.place.clone(), format!("{}: {error}", column.name))
                        .help("a speed with its unit, such as 158.2 km/h; or name the column 1320_speed_kmh"),
                );
                return None;
            }
        },
    };
    if value > 0.0 && value <= most {
        return Some(SlipFigure {
            shown: column.shown,
            value,
            step,
        });
    }
    diagnostics.problem(
        Problem::new(
            cell.place.clone(),
            format!("{} = {} is out of range", column.name, quote(&cell.text)),
        )
        .label("not what a slip shows")
        .help("look whether the columns have the right names and units"),
    );
    None
}

/// The largest of the units that speeds are read in, m/s: a step is never taken too small.
const MOST_SPEED_UNIT_M_S: f64 = 1.0;

/// Step of the last digit of a number as written: 0.001 for `1.934`.
fn last_digit(text: &str) -> f64 {
    let number: String = text
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    let decimals = number
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    i32::try_from(decimals).map_or(0.0, |decimals| 10_f64.powi(-decimals))
}
