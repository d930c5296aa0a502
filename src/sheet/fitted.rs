//! `[fitted]`: what a fit to time slips learnt of several values at once, as weighted draws.

use super::csv_table::{Cell, CsvTable, number};
use super::diagnostics::Diagnostics;
use super::drawn::ValueDoubt;
use super::file;
use super::fitted_draws::Fitted;
use super::keys::season::fitted as key;
use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::unknown_key::nearest;
use crate::units::quote;
use std::path::Path;

/// The column of weights.
const WEIGHT: &str = "weight";

/// Reads the section and the file it names, which lies in `folder`; `doubts` is what the sheet
/// leaves in doubt, and nothing else can be fitted.
pub(super) fn read(t: &TableReader<'_>, folder: &Path, doubts: &[ValueDoubt]) -> Option<Fitted> {
    let named = t.words(key::DRAWS);
    let named = if t.is_there() {
        named.needed()?
    } else {
        return None;
    };
    let path = folder.join(&named.value);
    let (file, text) = file::read_named(t.diagnostics, &path, &named.place)?;
    let before = t.diagnostics.problem_count();
    let table = CsvTable::parse(t.diagnostics, file, &text, "weight,tyre.grip")?;
    let fitted = draws(t.diagnostics, &table, doubts)?;
    if fitted.joint(doubts).is_none() && t.diagnostics.problem_count() == before {
        t.diagnostics.problem(
            Problem::new(
                Place::whole(file),
                "there are no draws with any weight in this file",
            )
            .help("one draw a row: its weight, zero or above, and a value for each key"),
        );
    }
    (t.diagnostics.problem_count() == before).then_some(fitted)
}

fn draws(diagnostics: &Diagnostics, table: &CsvTable, doubts: &[ValueDoubt]) -> Option<Fitted> {
    let weight_at = table.needed_column(
        diagnostics,
        WEIGHT,
        &[],
        "the first line names the columns: weight, then the keys that were fitted",
    )?;
    let columns = || {
        let all = table.columns.iter().enumerate();
        all.filter(move |(at, _)| *at != weight_at)
    };
    for (_, column) in columns() {
        check_key(diagnostics, column, doubts);
    }
    let weighted = table
        .rows
        .iter()
        .map(|row| {
            let weight = weight_of(diagnostics, row.get(weight_at)?)?;
            let values: Option<Vec<f64>> = columns()
                .map(|(at, column)| number(diagnostics, &column.text, row.get(at)?))
                .collect();
            Some((weight, values?))
        })
        .collect::<Option<Vec<_>>>()?;
    Some(Fitted {
        keys: columns().map(|(_, column)| column.text.clone()).collect(),
        weighted,
    })
}

fn weight_of(diagnostics: &Diagnostics, cell: &Cell) -> Option<f64> {
    let weight = number(diagnostics, WEIGHT, cell)?;
    if weight < 0.0 {
        let title = format!("{WEIGHT} = {weight} is out of range");
        diagnostics.problem(Problem::new(cell.place.clone(), title).label("must be zero or above"));
        return None;
    }
    Some(weight)
}

fn check_key(diagnostics: &Diagnostics, column: &Cell, doubts: &[ValueDoubt]) {
    let keys = || doubts.iter().map(|doubt| doubt.input.key.as_str());
    if keys().any(|key| key == column.text) {
        return;
    }
    let title = format!(
        "\"{}\" is no value that the sheet leaves in doubt",
        quote(&column.text)
    );
    let problem = Problem::new(column.place.clone(), title)
        .help("a value that is said to be exact, or has no doubt, cannot be fitted; flyheft check lists what is in doubt");
    diagnostics.problem(match nearest(&column.text, keys()) {
        Some(near) => problem.label(format!("did you mean {near}?")),
        None => problem,
    });
}
