//! Which sheet lies on the bench.

use super::desk::{Bench, Desk};
use super::did::Did;
use super::fields::Fields;
use super::open_sheet::OpenSheet;
use crate::cli::failure::Failure;
use crate::cli::place::{Destination, place_all};
use flyheft::sheet::starter::{Starter, TORQUE_FILE};
use flyheft::shown::page::bench::Part;
use flyheft::units::unshowable;
use std::path::{Path, PathBuf};

/// What a sheet's file name ends in; nothing else is opened as one.
const SHEET_ENDING: &str = "toml";

/// Lays a sheet on the bench.
pub(super) fn open(bench: &Bench, desk: &mut Desk, path: &Path) -> Result<(), Failure> {
    refuse_unshowable(&path.to_string_lossy())?;
    let is_sheet = path
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case(SHEET_ENDING));
    if !is_sheet {
        return Err(Failure::said(
            format!("\"{}\" is not named as a sheet is", path.display()),
            "a sheet's name ends in .toml",
        ));
    }
    lay(bench, desk, OpenSheet::open(path)?);
    Ok(())
}

fn lay(bench: &Bench, desk: &mut Desk, sheet: OpenSheet) {
    desk.sheet = Some(sheet);
    desk.trial = None;
    desk.cut = None;
    desk.slips.clear();
    desk.printout = None;
    desk.autosave = false;
    bench.news.clear(&Part::ALL);
    bench.sheet_changed(desk);
    bench.news.sheet_changed();
}

/// Takes the file as it lies on the disk.
pub(super) fn reload(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    desk.open_sheet()?.reload()?;
    bench.sheet_changed(desk);
    bench.news.sheet_changed();
    Ok(Did::default())
}

/// Looks whether the file was changed elsewhere.
pub(super) fn look(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    if desk.open_sheet()?.look() {
        bench.news.sheet_changed();
    }
    Ok(Did::default())
}

pub(super) fn close(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    if desk.open_sheet()?.is_unsaved() {
        return Err(Failure::said(
            "there are changes that are not saved",
            "save them first, or take them back",
        ));
    }
    desk.sheet = None;
    bench.sheet_changed(desk);
    bench.news.sheet_changed();
    Ok(Did::leaves())
}

/// Refuses a file's name that a screen would show as another.
fn refuse_unshowable(name: &str) -> Result<(), Failure> {
    match unshowable(name) {
        None => Ok(()),
        Some(sign) => Err(Failure::said(
            format!("the name holds {sign}"),
            "type it anew, or give the file another name",
        )),
    }
}

/// Name of a sheet to be, in the folder that the bench was started in: a name alone, no path.
fn name_in_folder(name: &str) -> Result<PathBuf, Failure> {
    let name = name.trim();
    refuse_unshowable(name)?;
    let path = Path::new(name);
    let alone = path
        .file_name()
        .is_some_and(|alone| alone == path.as_os_str());
    if !alone || name.contains(['/', '\\', ':']) || path.file_name().is_none() {
        return Err(Failure::said(
            format!("\"{name}\" is no name for a file"),
            "give a name alone, such as car.toml",
        ));
    }
    Ok(PathBuf::from(if path.extension().is_some() {
        name.to_owned()
    } else {
        format!("{name}.{SHEET_ENDING}")
    }))
}

pub(super) fn new(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let path = name_in_folder(fields.get("name"))?;
    if path.extension().is_none_or(|ending| ending != SHEET_ENDING) {
        return Err(Failure::said("a sheet's name ends in .toml", ""));
    }
    let starter = match fields.get("like") {
        "empty" => None,
        "light-rear" => Some(Starter::LightRear),
        "heavy-rear" => Some(Starter::HeavyRear),
        "front" => Some(Starter::Front),
        _ => Some(Starter::Usual),
    };
    if let Some(starter) = starter {
        let torque = path.with_file_name(TORQUE_FILE);
        let files = [(&torque, starter.torque()), (&path, starter.sheet())];
        let staged = files
            .into_iter()
            .map(|(path, text)| Destination::look_at(path, false)?.stage(text))
            .collect::<Result<Vec<_>, _>>()?;
        place_all(staged)?;
        open(bench, desk, &path)?;
    } else {
        // Looked at now, written when it is saved.
        Destination::look_at(&path, false)?;
        lay(bench, desk, OpenSheet::empty(&path));
    }
    Ok(Did::leaves())
}

/// A sheet that the browser handed over: a copy, kept in the folder that the bench was started in.
pub(super) fn take(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let path = name_in_folder(fields.get("name"))?;
    let staged = Destination::look_at(&path, false)?.stage(fields.get("text"))?;
    place_all(vec![staged])?;
    open(bench, desk, &path)?;
    Ok(Did::leaves())
}

/// The folder that the bench was started in, in words.
pub(super) fn working_folder() -> String {
    std::env::current_dir()
        .map_or_else(|_| String::from("."), |folder| folder.display().to_string())
}

/// The demo sheets beside the program or where it was started, if there are any: path and title.
pub(super) fn demos() -> Vec<(String, String)> {
    let beside = std::env::current_exe().ok();
    let beside = beside
        .as_deref()
        .and_then(Path::parent)
        .map(|folder| folder.join("demo-data"));
    let folders = [Some(PathBuf::from("demo-data")), beside];
    let sheets = folders.into_iter().flatten().find_map(|folder| {
        let mut sheets: Vec<PathBuf> = std::fs::read_dir(folder)
            .ok()?
            .filter_map(|entry| Some(entry.ok()?.path()))
            .filter(|path| {
                path.extension()
                    .is_some_and(|ending| ending == SHEET_ENDING)
            })
            .collect();
        sheets.sort();
        Some(sheets)
    });
    let named = |path: PathBuf| {
        let title = path.file_stem()?.to_string_lossy().into_owned();
        Some((path.display().to_string(), title))
    };
    sheets
        .unwrap_or_default()
        .into_iter()
        .filter_map(named)
        .collect()
}
