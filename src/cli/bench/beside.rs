//! Files that are put beside the sheet: a torque curve from a printout, practice launches.

use super::desk::{Bench, Desk, Pasted};
use super::did::Did;
use super::edits::change;
use super::fields::Fields;
use crate::cli::failure::Failure;
use crate::cli::place::{Destination, place_all};
use flyheft::sheet::form::KeyPath;
use flyheft::sheet::practice::read_text as practice_text;
use flyheft::sheet::printout::look;
use flyheft::sheet::starter::TORQUE_FILE;
use flyheft::shown::page::bench::{Part, printout_part};
use std::path::Path;

/// Looks at a printout that was pasted.
pub(super) fn printout(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    desk.printout = Some(Pasted {
        text: fields.lines("text"),
        ..Pasted::default()
    });
    look_at_printout(bench, desk)
}

/// Picks columns of the printout, and its unit.
pub(super) fn pick(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    if let Some(pasted) = &mut desk.printout {
        let picked = |name: &str| Some(fields.get(name).to_owned()).filter(|p| !p.is_empty());
        (pasted.speed, pasted.torque) = (picked("speed"), picked("torque"));
        pasted.torque_unit = picked("unit");
    }
    look_at_printout(bench, desk)
}

fn look_at_printout(bench: &Bench, desk: &Desk) -> Result<Did, Failure> {
    let Some(pasted) = &desk.printout else {
        return Err(Failure::said("no printout was pasted yet", ""));
    };
    let picked = pasted.picked();
    let printout = look("the printout", &pasted.text, picked);
    let part = printout_part(TORQUE_FILE, &printout, picked)?;
    bench.news.put(part);
    Ok(Did::default())
}

/// Writes the printout beside the sheet under a free name, and has the sheet name it.
pub(super) fn use_printout(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    let pasted = desk.printout.clone().unwrap_or_default();
    let printout = look("the printout", &pasted.text, pasted.picked());
    let columns = Pasted::columns(&printout);
    printout.curve?;
    let sheet = desk.open_sheet()?.path().to_owned();
    let name = free_name_beside(&sheet, TORQUE_FILE)?;
    let file = sheet.with_file_name(&name);
    let staged = Destination::look_at(&file, false)?.stage(&printout.file)?;
    place_all(vec![staged])?;
    let engine = KeyPath::top().key("engine");
    change(bench, desk, |sheet| {
        sheet.set(&engine.key("torque_curve"), &name)?;
        sheet.set(&engine.key("torque_columns"), &columns)?;
        Ok(true)
    })?;
    desk.printout = None;
    bench.news.clear(&[Part::Printout]);
    Ok(Did::said(format!(
        "The curve is in {name}, beside the sheet."
    )))
}

/// Writes practice launches beside the sheet, and has the sheet name them.
pub(super) fn practice(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    /// What the file is called, and its one column.
    const NAME: &str = "practice.csv";
    const COLUMN: &str = "speed_rpm";
    let pasted = fields.lines("text").trim().to_owned();
    let bare = pasted.starts_with(|first: char| first.is_ascii_digit());
    let text = if bare {
        format!("{COLUMN}\n{pasted}\n")
    } else {
        format!("{pasted}\n")
    };
    let sheet = desk.open_sheet()?.path().to_owned();
    let name = free_name_beside(&sheet, NAME)?;
    practice_text(&name, &text)?;
    let staged = Destination::look_at(&sheet.with_file_name(&name), false)?.stage(&text)?;
    place_all(vec![staged])?;
    let driver = KeyPath::top().key("driver");
    change(bench, desk, |sheet| {
        sheet.set(&driver.key("launch_sd"), "")?;
        sheet.set(&driver.key("practice"), &name)
    })?;
    Ok(Did::said(format!(
        "The launches are in {name}, beside the sheet."
    )))
}

/// A name beside the sheet that no file has: this one, or one with a number.
fn free_name_beside(sheet: &Path, name: &str) -> Result<String, Failure> {
    /// Names tried before giving up.
    const MOST_NAMES: u32 = 99;
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
    let names = std::iter::once(name.to_owned())
        .chain((2..=MOST_NAMES).map(|number| format!("{stem}-{number}.{ending}")));
    let free = |name: &String| sheet.with_file_name(name).symlink_metadata().is_err();
    names
        .into_iter()
        .find(free)
        .ok_or_else(|| Failure::said("no name beside the sheet is free", "clear up the folder"))
}
