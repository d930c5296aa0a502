//! A small table of comma-separated numbers, each cell with its place.

use super::diagnostics::Diagnostics;
use super::problem::{FileId, Place, Problem, unshowable_problem};
use super::unknown_key::nearest;
use super::words::counted;
use crate::units::{RPM, quote};
use std::ops::Range;

/// Rows of a table at most.
pub(super) const MOST_ROWS: usize = 100_000;

/// Most that an engine speed can be, rpm: guards against a wrong column.
const MOST_RPM: f64 = 50_000.0;

/// One cell.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) place: Place,
}

/// A table whose rows all have as many cells as there are columns.
pub(super) struct CsvTable {
    pub(super) file: FileId,
    pub(super) columns: Vec<Cell>,
    pub(super) rows: Vec<Vec<Cell>>,
}

impl CsvTable {
    /// Reads a table: first row the column names, `#` begins a comment, blank lines count for
    /// nothing. Whatever is wrong is noted; `None` if the table cannot be told at all. `header` is
    /// a first line as it would be right.
    pub(super) fn parse(
        diagnostics: &Diagnostics,
        file: FileId,
        text: &str,
        header: &str,
    ) -> Option<Self> {
        Self::parse_by(diagnostics, file, text, header, ',')
    }

    /// The same with cells parted by another character.
    pub(super) fn parse_by(
        diagnostics: &Diagnostics,
        file: FileId,
        text: &str,
        header: &str,
        separator: char,
    ) -> Option<Self> {
        let mut rows = records(diagnostics, file, text, separator)?.into_iter();
        let Some(columns) = rows.next() else {
            diagnostics.problem(
                Problem::new(Place::whole(file), "there are only comments in this file")
                    .help("the first line names the columns, then one row follows another"),
            );
            return None;
        };
        if let Some(problem) = wrong_separator(&columns) {
            diagnostics.problem(problem);
            return None;
        }
        let mut cells = columns.iter().chain(rows.as_slice().iter().flatten());
        let odd =
            cells.find_map(|cell| unshowable_problem("this cell", &cell.text, cell.place.clone()));
        if let Some(problem) = odd {
            diagnostics.problem(problem);
            return None;
        }
        let mut table = Self {
            file,
            columns,
            rows: Vec::new(),
        };
        if table
            .columns
            .iter()
            .all(|name| name.text.parse::<f64>().is_ok())
        {
            diagnostics.problem(
                Problem::new(table.header_place(), "the columns have no names")
                    .label("this row holds numbers")
                    .help(format!(
                        "the first line names the columns, such as {header}"
                    )),
            );
            return None;
        }
        for row in rows {
            table.take(diagnostics, row)?;
        }
        Some(table)
    }

    fn take(&mut self, diagnostics: &Diagnostics, mut row: Vec<Cell>) -> Option<()> {
        let wanted = self.columns.len();
        while row.len() > wanted && row.last().is_some_and(|cell| cell.text.is_empty()) {
            row.pop();
        }
        if row.len() == wanted {
            self.rows.push(row);
            return Some(());
        }
        let found = row.len();
        let at = row.get(wanted.min(found.saturating_sub(1)))?.place.clone();
        let problem = Problem::new(
            at,
            format!(
                "this row has {} where the header names {wanted}",
                counted(found, "cell")
            ),
        );
        let commas = found == 2 * wanted;
        diagnostics.problem(if commas {
            problem.help("commas part the cells; a decimal mark must be a point: 178.2, not 178,2")
        } else {
            problem.help("one cell for each column, parted by commas")
        });
        // A decimal comma runs through the whole file: said once is enough.
        (!commas).then_some(())
    }

    /// Place of the row of names.
    pub(super) fn header_place(&self) -> Place {
        let span = |cell: Option<&Cell>| cell.and_then(|cell| cell.place.span.clone());
        match (span(self.columns.first()), span(self.columns.last())) {
            (Some(first), Some(last)) => Place::at(self.file, first.start..last.end),
            _ => Place::whole(self.file),
        }
    }

    /// Index of a column.
    pub(super) fn column(&self, name: &str) -> Option<usize> {
        self.columns
            .iter()
            .position(|column| column.text.eq_ignore_ascii_case(name))
    }

    /// Index of a column that must be there. It is missing, unless a misspelt one among `meant`
    /// seems to be it.
    pub(super) fn needed_column(
        &self,
        diagnostics: &Diagnostics,
        name: &str,
        meant: &[&str],
        help: &str,
    ) -> Option<usize> {
        let at = self.column(name);
        if at.is_none() && !meant.contains(&name) {
            let title = format!("the column {name} is missing");
            diagnostics.problem(Problem::new(self.header_place(), title).help(help));
        }
        at
    }

    /// Notes columns that are not known, or there twice. Known columns that misspelt ones seem
    /// to mean are handed back: they are not missing on top of it.
    pub(super) fn check_columns(
        &self,
        diagnostics: &Diagnostics,
        known: &[&'static str],
    ) -> Vec<&'static str> {
        let mut meant = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            let name = quote(&column.text);
            let same = |other: &str| other.eq_ignore_ascii_case(&column.text);
            if !known.iter().any(|known| same(known)) {
                let near = nearest(&column.text, known.iter().copied());
                meant.extend(near);
                let title = format!("there is no column \"{name}\"");
                let problem = Problem::new(column.place.clone(), title)
                    .help(format!("columns known here: {}", known.join(", ")));
                diagnostics.problem(match near {
                    Some(near) => problem.label(format!("did you mean {near}?")),
                    None => problem.label("not known here"),
                });
            } else if let Some(first) = self.columns.iter().take(index).find(|c| same(&c.text)) {
                let title = format!("the column {name} is there twice");
                diagnostics.problem(
                    Problem::new(column.place.clone(), title)
                        .label("again")
                        .also(first.place.clone(), "first here"),
                );
            }
        }
        meant
    }
}

/// A cell as a finite number; what is wrong is noted.
pub(super) fn number(diagnostics: &Diagnostics, column: &str, cell: &Cell) -> Option<f64> {
    let read = quote(&cell.text);
    let problem = match cell.text.parse::<f64>() {
        Ok(number) if number.is_finite() => return Some(number),
        Ok(_) => Problem::new(
            cell.place.clone(),
            format!("{column}: \"{read}\" is not a finite number"),
        ),
        Err(_) if cell.text.is_empty() => Problem::new(
            cell.place.clone(),
            format!("{column}: there is no number in this cell"),
        ),
        Err(_) => Problem::new(
            cell.place.clone(),
            format!("{column}: \"{read}\" is not a number"),
        ),
    };
    diagnostics.problem(
        problem.help(
            "a bare number with a point as decimal mark; the unit stands in the column's name",
        ),
    );
    None
}

/// A cell in rpm as an engine speed in rad/s; what is wrong is noted.
pub(super) fn engine_speed(diagnostics: &Diagnostics, column: &str, cell: &Cell) -> Option<f64> {
    let rpm = number(diagnostics, column, cell)?;
    speed_in_range(diagnostics, column, rpm, cell)
}

/// An engine speed in rad/s from rpm; what is out of range is noted.
pub(super) fn speed_in_range(
    diagnostics: &Diagnostics,
    column: &str,
    rpm: f64,
    cell: &Cell,
) -> Option<f64> {
    if rpm > 0.0 && rpm <= MOST_RPM {
        return Some(RPM.to_si(rpm));
    }
    let title = format!("{column} = {rpm} is out of range");
    let range = format!("must be above 0 and at most {MOST_RPM}");
    diagnostics.problem(Problem::new(cell.place.clone(), title).label(range));
    None
}

fn wrong_separator(columns: &[Cell]) -> Option<Problem> {
    let [only] = columns else { return None };
    let problem = |what: &str| {
        Problem::new(only.place.clone(), format!("this file is parted by {what}"))
            .label("a comma is needed between columns")
            .help("save it with commas between the columns and a point as decimal mark")
    };
    if only.text.contains(';') {
        Some(problem("semicolons"))
    } else if only.text.contains('\t') {
        Some(problem("tabs"))
    } else if only.text.contains(' ') {
        Some(problem("blanks"))
    } else {
        None
    }
}

/// The rows with something in them, comments taken off.
fn records(
    diagnostics: &Diagnostics,
    file: FileId,
    text: &str,
    separator: char,
) -> Option<Vec<Vec<Cell>>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .delimiter(u8::try_from(separator).unwrap_or(b','))
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                diagnostics.problem(Problem::new(
                    Place::whole(file),
                    format!("the file cannot be read as a table: {error}"),
                ));
                return None;
            }
        };
        let cells = cells(file, text, &record, separator);
        if cells.iter().all(|cell| cell.text.is_empty()) {
            continue;
        }
        if rows.len() > MOST_ROWS {
            diagnostics.problem(
                Problem::new(
                    Place::whole(file),
                    format!("this file has more than {MOST_ROWS} rows, the most that are read"),
                )
                .help("look whether this is the right file, or thin it out"),
            );
            return None;
        }
        rows.push(cells);
    }
    Some(rows)
}

/// The cells of a record up to its comment, each with its place.
fn cells(file: FileId, text: &str, record: &csv::StringRecord, separator: char) -> Vec<Cell> {
    let start = record.position().map_or(0, csv::Position::byte);
    let start = skip_idle_lines(text, usize::try_from(start).unwrap_or(usize::MAX));
    let mut cells = Vec::with_capacity(record.len());
    let places = spans(text, start, separator)
        .into_iter()
        .chain(std::iter::repeat(start..start));
    for (cell, span) in record.iter().zip(places) {
        let (kept, comment) = match cell.split_once('#') {
            Some((kept, _)) => (kept.trim_end(), true),
            None => (cell, false),
        };
        let end = if comment {
            span.start + kept.len()
        } else {
            span.end
        };
        if !(comment && kept.is_empty()) {
            cells.push(Cell {
                text: kept.to_owned(),
                place: Place::at(file, span.start..end),
            });
        }
        if comment {
            break;
        }
    }
    cells
}

/// A record's own start: the reader counts the blank and comment lines before it in.
fn skip_idle_lines(text: &str, mut at: usize) -> usize {
    while let Some(rest) = text.get(at..) {
        let length = rest.find('\n').map_or(rest.len(), |end| end + 1);
        let line = rest.get(..length).unwrap_or_default();
        let idle = line.starts_with('#') || line.trim_matches(['\r', '\n']).is_empty();
        if !idle || length == 0 {
            break;
        }
        at += length;
    }
    at
}

/// Places of the cells of the record that begins here, blanks around them left out.
fn spans(text: &str, start: usize, separator: char) -> Vec<Range<usize>> {
    let mut spans = Vec::new();
    let (mut from, mut quoted) = (start, false);
    let rest = text.get(start..).unwrap_or_default();
    let trimmed = |from: usize, to: usize| {
        let cell = text.get(from..to).unwrap_or_default();
        let lead = cell.len() - cell.trim_start().len();
        from + lead..(from + cell.trim_end().len()).max(from + lead)
    };
    for (offset, c) in rest.char_indices() {
        let at = start + offset;
        match c {
            // Only a quote at a cell's very start opens a quoted cell.
            '"' if quoted || at == from => quoted = !quoted,
            c if c == separator && !quoted => {
                spans.push(trimmed(from, at));
                from = at + 1;
            }
            '\n' | '\r' if !quoted => {
                spans.push(trimmed(from, at));
                return spans;
            }
            _ => {}
        }
    }
    spans.push(trimmed(from, text.len()));
    spans
}
