//! What the reader says of a sheet, put beside the field it is about.

use super::model::{Entry, Field, Said, SheetForm, Weight};
use crate::sheet::keys::Form;
use crate::sheet::problem::FileId;
use crate::sheet::{PlacedWarning, Problem, Reading, Refusal};
use crate::units::System;
use std::path::Path;

/// The sheet among the files that were read.
const SHEET: FileId = FileId(0);

/// Something said, and where in the sheet.
pub(super) struct Placed {
    pub(super) said: Said,
    /// Byte of the sheet's text; none of what is about the sheet as a whole, or another file.
    at: Option<usize>,
    /// The keys that are missing, where that is what is said.
    lacks: Vec<&'static str>,
}

/// All that the reader says, in its order.
pub(super) fn said(
    path: &Path,
    text: &str,
    read: Result<&Reading, &Refusal>,
    system: System,
) -> Vec<Placed> {
    match read {
        Ok(reading) => {
            let warnings = reading.warnings.iter();
            warnings
                .map(|warning| of_warning(path, text, warning, system))
                .collect()
        }
        Err(refusal) => {
            let problems = refusal.problems().iter();
            problems
                .map(|problem| of_problem(refusal, problem))
                .collect()
        }
    }
}

fn of_problem(refusal: &Refusal, problem: &Problem) -> Placed {
    let location = refusal.location(problem);
    let own = problem.place.file == SHEET;
    let span = problem.place.span.as_ref().filter(|_| own);
    Placed {
        at: span.map(|span| span.start),
        lacks: problem.lacking_keys().to_vec(),
        said: Said {
            weight: Weight::Error,
            title: problem.title().to_owned(),
            mark: problem.mark_text().to_owned(),
            help: problem.help_texts().to_vec(),
            file: (!own).then_some(location.file),
            line: location.line,
            column: location.column,
        },
    }
}

fn of_warning(path: &Path, text: &str, warning: &PlacedWarning, system: System) -> Placed {
    let sheet = path.display().to_string();
    let place = warning.place.as_ref();
    let own = place.is_none_or(|place| place.file == sheet);
    let at = place.filter(|_| own).and_then(|place| {
        let line = place.line?.checked_sub(1)?;
        let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
        let before = place.column?.checked_sub(1)?;
        let rest = text.get(start..)?.chars().take(before);
        Some(start + rest.map(char::len_utf8).sum::<usize>())
    });
    Placed {
        at,
        lacks: Vec::new(),
        said: Said {
            weight: Weight::Warning,
            title: warning.warning.text(system),
            mark: String::new(),
            help: Vec::new(),
            file: place.filter(|_| !own).map(|place| place.file.clone()),
            line: place.and_then(|place| place.line),
            column: place.and_then(|place| place.column),
        },
    }
}

/// Puts it beside its field; else at its entry, its section, or the whole sheet.
pub(super) fn attach(form: &mut SheetForm, sheet: &Path, placed: Placed) {
    let mut left = Some(placed);
    for section in &mut form.sections {
        for entry in &mut section.entries {
            left = left.and_then(|placed| match placed.said.file {
                Some(_) => entry.take_of_file(sheet, placed),
                None => entry.take(placed),
            });
        }
    }
    form.said.extend(left.map(|placed| placed.said));
}

impl Entry {
    /// Takes it in, or hands it back.
    fn take(&mut self, placed: Placed) -> Option<Placed> {
        let mut left = placed;
        for field in &mut self.fields {
            left = field.take(left)?;
        }
        let own = |at| self.body.as_ref().is_some_and(|body| body.contains(&at));
        if !left.at.is_some_and(own) {
            return Some(left);
        }
        let lacking = match left.lacks.as_slice() {
            [only] => self.fields.iter_mut().find(|field| field.key.name == *only),
            _ => None,
        };
        match lacking {
            Some(field) => field.said.push(left.said),
            None => self.said.push(left.said),
        }
        None
    }

    /// Takes in what is said of a file that one of its fields names.
    fn take_of_file(&mut self, sheet: &Path, placed: Placed) -> Option<Placed> {
        let folder = sheet.parent().unwrap_or(Path::new(""));
        let file = placed.said.file.as_deref();
        let names = |field: &&mut Field| {
            let path = folder.join(&field.value).display().to_string();
            matches!(field.key.form, Form::File(_))
                && !field.value.is_empty()
                && file == Some(path.as_str())
        };
        match self.fields.iter_mut().find(names) {
            Some(field) => {
                field.said.push(placed.said);
                None
            }
            None => Some(placed),
        }
    }
}

impl Field {
    fn take(&mut self, placed: Placed) -> Option<Placed> {
        let mut left = placed;
        for entry in &mut self.inner {
            left = entry.take(left)?;
        }
        let at = left.at;
        let own = |span: &std::ops::Range<usize>| at.is_some_and(|at| span.contains(&at));
        if self.span.as_ref().is_some_and(own) {
            self.said.push(left.said);
            return None;
        }
        Some(left)
    }
}
