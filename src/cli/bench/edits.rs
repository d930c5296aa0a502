//! Changes of the open sheet.

use super::desk::{Bench, Desk};
use super::did::Did;
use super::fields::{Fields, one_line};
use crate::cli::failure::Failure;
use flyheft::sheet::form::{EditError, KeyPath, NoPath, SheetText, join_doubt};

/// Makes a change to the sheet, has it answered, and saves it where that is switched on.
pub(super) fn change(
    bench: &Bench,
    desk: &mut Desk,
    change: impl FnOnce(&mut SheetText) -> Result<bool, EditError>,
) -> Result<Did, Failure> {
    let changed = desk.open_sheet()?.change(change)?;
    if !changed {
        return Ok(Did::default());
    }
    let saved = if desk.autosave {
        desk.open_sheet()?.save().map(|_| ())
    } else {
        Ok(())
    };
    bench.sheet_changed(desk);
    bench.news.sheet_changed();
    saved?;
    Ok(Did::default())
}

/// Takes a whole text.
pub(super) fn text(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let text = fields.lines("text");
    change(bench, desk, |sheet| Ok(sheet.set_text(&text)))
}

pub(super) fn save(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    let saved = desk.open_sheet()?.save();
    // Also where it was not: the file may have been found changed.
    bench.news.sheet_changed();
    saved.map(Did::said)
}

pub(super) fn save_beside(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    let said = desk.open_sheet()?.save_beside()?;
    bench.news.sheet_changed();
    Ok(Did::said(said))
}

fn path_of(fields: &Fields) -> Result<KeyPath, Failure> {
    fields
        .get("path")
        .parse()
        .map_err(|error: NoPath| Failure::said(error.to_string(), ""))
}

/// Sets one value of the sheet, its doubt apart where the form has it apart.
pub(super) fn set(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let path = path_of(fields)?;
    let value = fields.line("value");
    let doubt = fields.line("doubt");
    change(bench, desk, |sheet| {
        if doubt.is_empty() {
            sheet.set(&path, &value)
        } else {
            sheet.set_with_doubt(&path, &value, &doubt)
        }
    })
}

/// Takes the whole form, value by value: those that are as they were change nothing. Then does
/// what its button says, if one was pressed.
pub(super) fn figures(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    /// Behind the name of a value's field stands this for that of its doubt.
    const DOUBT: &str = " doubt";
    let mut changes: Vec<(KeyPath, String, String)> = Vec::new();
    for (name, value) in fields.all() {
        let is_button = matches!(name, "unknown" | "entry") || name.ends_with(DOUBT);
        if let (false, Ok(path)) = (is_button, name.parse()) {
            let doubt = fields.get(&format!("{name}{DOUBT}"));
            changes.push((path, one_line(value), one_line(doubt)));
        }
    }
    let unknown: Option<KeyPath> = fields.get("unknown").parse().ok();
    let unknown = unknown.filter(|_| !fields.get("unknown").is_empty());
    let entry = fields.get("entry").split_once(':');
    change(bench, desk, |sheet| {
        let mut changed = false;
        for (path, value, doubt) in &changes {
            let before = sheet.value(path).unwrap_or_default();
            if join_doubt(value, doubt) != before {
                changed |= sheet.set(path, &join_doubt(value, doubt))?;
            }
        }
        if let Some(path) = &unknown {
            changed |= sheet.set(path, "unknown")?;
        }
        if let Some((how, path)) = entry {
            let Ok(path) = path.parse() else {
                return Ok(changed);
            };
            changed |= match how {
                "add" => sheet.add_entry(&path)?,
                "copy" => sheet.copy_entry(&path)?,
                _ => sheet.remove(&path)?,
            };
        }
        Ok(changed)
    })
}

pub(super) fn autosave(bench: &Bench, desk: &mut Desk, on: bool) -> Result<Did, Failure> {
    desk.autosave = on;
    if !on {
        bench.news.sheet_changed();
        return Ok(Did::said("Saved only when asked."));
    }
    let saved = desk.open_sheet()?.save();
    bench.news.sheet_changed();
    saved?;
    Ok(Did::said("Every change is saved as it is made."))
}
