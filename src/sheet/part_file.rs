//! A file of one part alone: name, and its swing test or its metal, without a car around it.

use super::diagnostics::{DefaultUsed, Diagnostics, Outcome};
use super::file;
use super::keys::PART_FILE;
use super::parts::{read_part, read_swing_check};
use super::problem::{Place, Refusal};
use super::table_reader::{TableReader, Text};
use super::warnings::PlacedWarning;
use crate::car::inertia::Part;
use crate::car::swing::SwingTest;
use std::path::Path;
use toml::de::DeTable;

/// A part read on its own.
#[derive(Debug, Clone, PartialEq)]
pub struct PartReading {
    /// The part.
    pub part: Part,
    /// A swing test that its drawing is held against.
    pub swing_check: Option<SwingTest>,
    /// Every value that the file did not give.
    pub defaults: Vec<DefaultUsed>,
    /// What is worth a second look.
    pub warnings: Vec<PlacedWarning>,
}

/// Whether a file holds a part alone: a swing test at its top, and no engine. A file that cannot
/// be read holds none; who reads it as a sheet says why.
pub fn is_part_file(path: &Path) -> bool {
    let diagnostics = Diagnostics::default();
    let Some((_, text)) = file::read_itself(&diagnostics, path, file::SHEET_LIMIT_BYTES) else {
        return false;
    };
    let (table, _) = DeTable::parse_recoverable(&text);
    let has = |key: &str| table.get_ref().contains_key(key);
    (has("swing") || has("swing_check")) && !has("engine")
}

/// Reads a part alone: the keys of one `[[flywheel]]`, at the top of the file.
///
/// # Errors
/// With everything that is wrong in the file.
pub fn read(path: &Path) -> Result<PartReading, Refusal> {
    let diagnostics = Diagnostics::default();
    let read = file::read_itself(&diagnostics, path, file::SHEET_LIMIT_BYTES)
        .and_then(|(id, text)| part(&diagnostics, id, &text));
    let Outcome {
        sources,
        problems,
        warnings,
        defaults,
        ..
    } = diagnostics.close();
    match read {
        Some((part, swing_check)) if problems.is_empty() => Ok(PartReading {
            part,
            swing_check,
            defaults,
            warnings,
        }),
        _ => Err(Refusal::new(sources, problems)),
    }
}

fn part(
    diagnostics: &Diagnostics,
    id: super::problem::FileId,
    text: &str,
) -> Option<(Part, Option<SwingTest>)> {
    let mended = super::grammar::mend(id, text);
    diagnostics.lost(mended.lost);
    let (table, _) = DeTable::parse_recoverable(&mended.text);
    let place = Text {
        file: id,
        text: &mended.text,
    };
    let top = TableReader::new(
        PART_FILE.to_owned(),
        Some(table.get_ref()),
        Place::whole(id),
        place,
        diagnostics,
    );
    let read = read_part(&top);
    let check = read_swing_check(&top);
    top.finish();
    for problem in mended.problems {
        diagnostics.problem(problem);
    }
    Some((read.part()?, check.ok()?))
}
