//! The file of a stopwatch's splits.

use super::csv_table::{Cell, CsvTable, number};
use super::diagnostics::Diagnostics;
use super::file;
use super::problem::{Problem, Refusal};
use crate::units::quote;
use std::path::Path;

const SWINGS: &str = "swings";
const TIME: &str = "time_s";

/// One split: the time at the end of a swing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplitRow {
    /// Which swing ends, counted from the first press.
    pub swing: u32,
    /// Reading, s.
    pub time_s: f64,
}

/// Reads a file of splits: a column `time_s`, one split a row, and at will `swings`, the swings
/// counted so far. Without it every row is one swing after the one before.
///
/// # Errors
/// With everything that is wrong in the file.
pub fn read(path: &Path) -> Result<Vec<SplitRow>, Refusal> {
    let diagnostics = Diagnostics::default();
    let rows =
        file::read_itself(&diagnostics, path, file::TABLE_LIMIT_BYTES).and_then(|(file, text)| {
            let table = CsvTable::parse(&diagnostics, file, &text, "swings,time_s")?;
            splits(&diagnostics, &table)
        });
    diagnostics.conclude(rows)
}

fn splits(diagnostics: &Diagnostics, table: &CsvTable) -> Option<Vec<SplitRow>> {
    let meant = table.check_columns(diagnostics, &[TIME, SWINGS]);
    let time = table.needed_column(
        diagnostics,
        TIME,
        &meant,
        "the first line names the columns; time_s holds one reading of the stopwatch a row",
    )?;
    let swings = table.column(SWINGS);
    let mut rows = Vec::with_capacity(table.rows.len());
    for (index, row) in (0_u32..).zip(&table.rows) {
        let time_s = number(diagnostics, TIME, row.get(time)?);
        let swing = match swings.and_then(|at| row.get(at)) {
            Some(cell) => whole(diagnostics, cell),
            None => Some(index),
        };
        rows.extend(
            time_s
                .zip(swing)
                .map(|(time_s, swing)| SplitRow { swing, time_s }),
        );
    }
    Some(rows)
}

fn whole(diagnostics: &Diagnostics, cell: &Cell) -> Option<u32> {
    let read = cell.text.parse().ok();
    if read.is_none() {
        diagnostics.problem(
            Problem::new(
                cell.place.clone(),
                format!("{SWINGS}: \"{}\" is no whole number", quote(&cell.text)),
            )
            .help("the swings counted from the first press: 0, 5, 10 and so on"),
        );
    }
    read
}
