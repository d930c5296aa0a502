//! A `[track]` of a file of its own, in place of the sheet's: the same car on another strip.

use super::diagnostics::Diagnostics;
use super::keys::sheet::TRACK;
use super::problem::{FileId, Place, Problem};
use super::sections::Sections;
use super::table_reader::Text;
use super::{file, grammar, track};
use crate::car::track::Track;
use std::path::Path;
use toml::de::DeTable;

/// The text of such a file.
pub(super) struct OtherTrack {
    file: FileId,
    pub(super) text: String,
}

impl OtherTrack {
    pub(super) fn as_text(&self) -> Text<'_> {
        Text {
            file: self.file,
            text: &self.text,
        }
    }
}

/// Opens the file; what is wrong with its grammar is noted.
pub(super) fn open(diagnostics: &Diagnostics, path: &Path) -> Option<OtherTrack> {
    let (file, text) = file::read_itself(diagnostics, path, file::SHEET_LIMIT_BYTES)?;
    let mended = grammar::mend(file, &text);
    for problem in mended.problems {
        diagnostics.problem(problem);
    }
    Some(OtherTrack {
        file,
        text: mended.text,
    })
}

/// Reads the track of such a file. It may be a sheet of another day: its other sections are left
/// aside.
pub(super) fn read(diagnostics: &Diagnostics, text: Text<'_>) -> Option<Track> {
    let (table, _) = DeTable::parse_recoverable(text.text);
    let sheet = Sections::new(diagnostics, table.get_ref(), text);
    // A misspelt one is none: it would be read without a word.
    if !sheet.top.has(TRACK) {
        diagnostics.problem(
            Problem::new(Place::whole(text.file), "this file has no [track]")
                .help("write [track] on a line of its own, and its keys below: pressure, temperature, humidity, grip …"),
        );
        return None;
    }
    sheet.read_if_there(TRACK, track::read)
}
