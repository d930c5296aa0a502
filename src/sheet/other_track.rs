//! A `[track]` of a file of its own, in place of the sheet's: the same car on another strip.

use super::diagnostics::Diagnostics;
use super::keys::sheet as sections;
use super::problem::{FileId, Place, Problem};
use super::table_reader::{TableReader, Text};
use super::{file, grammar, section, track};
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
    let place = Place::whole(text.file);
    let top = TableReader::new(
        String::new(),
        Some(table.get_ref()),
        place.clone(),
        text,
        diagnostics,
    );
    // A misspelt one is none: it would be read without a word.
    if !top.has(sections::TRACK) {
        diagnostics.problem(
            Problem::new(place, "this file has no [track]")
                .help("write [track] on a line of its own, and its keys below: pressure, temperature, humidity, grip …"),
        );
        return None;
    }
    let t = section(&top, sections::TRACK, &mut Vec::new());
    let track = track::read(&t);
    t.finish();
    track
}
