//! What can be done on the bench.

use super::desk::{Bench, Desk, Pasted};
use super::open_sheet::OpenSheet;
use super::server::Fields;
use crate::cli::failure::Failure;
use crate::cli::options::launch_speed;
use crate::cli::passes::{AskedPass, face};
use crate::cli::place::{Destination, place_all};
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::car::machining::Pass;
use flyheft::sheet::form::{EditError, KeyPath, NoPath, SheetText, join_doubt};
use flyheft::sheet::practice::read_text as practice_text;
use flyheft::sheet::printout::look;
use flyheft::sheet::starter::{Starter, TORQUE_FILE};
use flyheft::shown::page::bench::{Part, printout_part};
use flyheft::study::trial::Trial;
use serde::Serialize;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

/// What can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Act {
    /// Take a whole text.
    Text,
    /// Set one value.
    Set,
    /// Take the whole form; or one of its buttons.
    Figures,
    Undo,
    Redo,
    Save,
    /// Save under another name beside.
    SaveBeside,
    /// Save every change, or no longer.
    Autosave,
    /// Take the file as it lies on the disk.
    Reload,
    /// Look whether the file was changed elsewhere.
    Look,
    /// Move the sliders.
    Try,
    /// Put a flywheel on the lathe.
    Cut,
    /// Hear time slips.
    Slips,
    /// Look at a dynamometer's printout.
    Printout,
    /// Pick its columns.
    Pick,
    /// Take its curve.
    UsePrintout,
    /// Take practice launches.
    Practice,
    /// Begin a sheet.
    New,
    /// Open one by its path.
    Open,
    /// Take the copy of one.
    Take,
    /// Back to the start page.
    Close,
    /// End the bench.
    Stop,
}

const NAMED: [(&str, Act); 22] = [
    ("text", Act::Text),
    ("set", Act::Set),
    ("figures", Act::Figures),
    ("printout", Act::Printout),
    ("practice", Act::Practice),
    ("pick", Act::Pick),
    ("use-printout", Act::UsePrintout),
    ("undo", Act::Undo),
    ("redo", Act::Redo),
    ("save", Act::Save),
    ("save-beside", Act::SaveBeside),
    ("autosave", Act::Autosave),
    ("reload", Act::Reload),
    ("look", Act::Look),
    ("try", Act::Try),
    ("cut", Act::Cut),
    ("slips", Act::Slips),
    ("new", Act::New),
    ("open", Act::Open),
    ("take", Act::Take),
    ("close", Act::Close),
    ("stop", Act::Stop),
];

impl Act {
    /// By its name in an address.
    pub(super) fn named(name: &str) -> Option<Self> {
        NAMED
            .iter()
            .find(|(known, _)| *known == name)
            .map(|(_, act)| *act)
    }

    /// Whether a file's text may come with it.
    pub(super) const fn holds_file(self) -> bool {
        matches!(
            self,
            Self::Text | Self::Figures | Self::Take | Self::Slips | Self::Printout | Self::Practice
        )
    }
}

/// What it came to.
#[derive(Debug, Default, Serialize)]
pub(super) struct Did {
    /// In a sentence; empty where the page shows it.
    said: String,
    /// Whether another page stands there now.
    leave: bool,
}

impl Did {
    fn said(words: impl Into<String>) -> Self {
        Self {
            said: words.into(),
            leave: false,
        }
    }

    fn leaves() -> Self {
        Self {
            said: String::new(),
            leave: true,
        }
    }
}

/// Time for the last answer to arrive before the bench ends.
const LAST_WORD: Duration = Duration::from_millis(200);
/// What a sheet's file name ends in; nothing else is opened as one.
const SHEET_ENDING: &str = "toml";

/// Does it.
pub(super) fn act(bench: &Arc<Bench>, act: Act, fields: &Fields) -> Did {
    let mut desk = bench.desk();
    desk.said.clear();
    let did = match done(bench, &mut desk, act, fields) {
        Ok(did) => did,
        Err(failure) => Did::said(failure.to_string()),
    };
    desk.said.clone_from(&did.said);
    did
}

fn done(bench: &Arc<Bench>, desk: &mut Desk, act: Act, fields: &Fields) -> Result<Did, Failure> {
    match act {
        Act::Text => {
            let text = line_feeds(fields.get("text"));
            change(bench, desk, |sheet| Ok(sheet.set_text(&text)))
        }
        Act::Set => set(bench, desk, fields),
        Act::Figures => figures(bench, desk, fields),
        Act::Undo => change(bench, desk, |sheet| Ok(sheet.undo())),
        Act::Redo => change(bench, desk, |sheet| Ok(sheet.redo())),
        Act::Save => {
            let saved = open_sheet(desk)?.save();
            // Also where it was not: the file may have been found changed.
            bench.news.sheet_changed();
            saved.map(Did::said)
        }
        Act::SaveBeside => {
            let said = open_sheet(desk)?.save_beside()?;
            bench.news.sheet_changed();
            Ok(Did::said(said))
        }
        Act::Autosave => autosave(bench, desk, !fields.get("on").is_empty()),
        Act::Reload => {
            open_sheet(desk)?.reload()?;
            bench.sheet_changed(desk);
            bench.news.sheet_changed();
            Ok(Did::default())
        }
        Act::Look => {
            if open_sheet(desk)?.look() {
                bench.news.sheet_changed();
            }
            Ok(Did::default())
        }
        Act::Try => try_out(bench, desk, fields),
        Act::Cut => cut(bench, desk, fields),
        Act::Slips => {
            desk.slips = line_feeds(fields.get("text").trim());
            bench.slips_changed(desk);
            Ok(Did::default())
        }
        Act::Printout => {
            desk.printout = Some(Pasted {
                text: line_feeds(fields.get("text")),
                ..Pasted::default()
            });
            look_at_printout(bench, desk)
        }
        Act::Pick => {
            if let Some(pasted) = &mut desk.printout {
                let picked =
                    |name: &str| Some(fields.get(name).to_owned()).filter(|p| !p.is_empty());
                (pasted.speed, pasted.torque) = (picked("speed"), picked("torque"));
                pasted.torque_unit = picked("unit");
            }
            look_at_printout(bench, desk)
        }
        Act::UsePrintout => use_printout(bench, desk),
        Act::Practice => practice(bench, desk, fields),
        Act::New => new(bench, desk, fields),
        Act::Open => {
            open(bench, desk, Path::new(fields.get("path").trim()))?;
            Ok(Did::leaves())
        }
        Act::Take => take(bench, desk, fields),
        Act::Close => close(bench, desk),
        Act::Stop => {
            let end = Arc::clone(&bench.end);
            tokio::spawn(async move {
                tokio::time::sleep(LAST_WORD).await;
                end.notify_one();
            });
            Ok(Did::said("The bench is closed. You can close this page."))
        }
    }
}

fn open_sheet(desk: &mut Desk) -> Result<&mut OpenSheet, Failure> {
    desk.sheet
        .as_mut()
        .ok_or_else(|| Failure::said("no sheet is open", "open one first"))
}

/// A browser ends the lines of a field with two characters; a sheet's end as those of its file.
fn line_feeds(text: &str) -> String {
    text.replace("\r\n", "\n")
}

/// Makes a change to the sheet, has it answered, and saves it where that is switched on.
fn change(
    bench: &Bench,
    desk: &mut Desk,
    change: impl FnOnce(&mut SheetText) -> Result<bool, EditError>,
) -> Result<Did, Failure> {
    let changed = open_sheet(desk)?.change(change)?;
    if !changed {
        return Ok(Did::default());
    }
    let saved = if desk.autosave {
        open_sheet(desk)?.save().map(|_| ())
    } else {
        Ok(())
    };
    bench.sheet_changed(desk);
    bench.news.sheet_changed();
    saved?;
    Ok(Did::default())
}

fn path_of(fields: &Fields) -> Result<KeyPath, Failure> {
    fields
        .get("path")
        .parse()
        .map_err(|error: NoPath| Failure::said(error.to_string(), ""))
}

/// Sets one value of the sheet, its doubt apart where the form has it apart.
fn set(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let path = path_of(fields)?;
    let value = one_line(fields.get("value"));
    let doubt = one_line(fields.get("doubt"));
    change(bench, desk, |sheet| {
        if doubt.is_empty() {
            sheet.set(&path, &value)
        } else {
            sheet.set_with_doubt(&path, &value, &doubt)
        }
    })
}

/// What is typed or pasted into a field of one line.
fn one_line(text: &str) -> String {
    text.split(['\r', '\n'])
        .map(str::trim)
        .collect::<Vec<_>>()
        .join(" ")
        .trim()
        .to_owned()
}

/// Takes the whole form, value by value: those that are as they were change nothing. Then does
/// what its button says, if one was pressed.
fn figures(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
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

fn autosave(bench: &Bench, desk: &mut Desk, on: bool) -> Result<Did, Failure> {
    desk.autosave = on;
    if !on {
        bench.news.sheet_changed();
        return Ok(Did::said("Saved only when asked."));
    }
    let saved = open_sheet(desk)?.save();
    bench.news.sheet_changed();
    saved?;
    Ok(Did::said("Every change is saved as it is made."))
}

/// A number of a field; `None` where it is empty or none.
fn number(fields: &Fields, name: &str) -> Option<f64> {
    let number: f64 = fields.get(name).trim().parse().ok()?;
    number.is_finite().then_some(number)
}

fn try_out(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let reading = open_sheet(desk)?.reading();
    let reading = reading.ok_or_else(|| Failure::said("the sheet is not right yet", ""))?;
    let wheel: usize = fields.get("wheel").parse().unwrap_or_default();
    let per_cent = |name: &str| number(fields, name).map(|value| value / 100.0);
    let stated_sliding = reading.car.tyre.shape.sliding_share();
    let stated_sd = reading.car.driver.unsteadiness.launch_sd_rad_s.get();
    let speed = match fields.get("launch_rpm").trim() {
        "" => None,
        text => Some(launch_speed(text).map_err(|wrong| Failure::said(wrong, ""))?),
    };
    let range = &reading.car.driver.launch_range;
    let trial = Trial {
        wheel: wheel.min(reading.car.flywheels.all().len().saturating_sub(1)),
        launch_speed_rad_s: speed.map(|speed| speed.clamp(range.low_rad_s(), range.high_rad_s())),
        metal_left: per_cent("metal").unwrap_or(1.0),
        grip_factor: per_cent("grip").unwrap_or(1.0),
        sliding_share: moved(per_cent("sliding"), stated_sliding, 0.005),
        launch_sd_rad_s: moved(
            number(fields, "sd_rpm").map(|rpm| rpm * RAD_S_PER_RPM),
            stated_sd,
            0.5 * RAD_S_PER_RPM,
        ),
    };
    desk.trial = Some(trial);
    bench.sliders_moved(desk);
    bench.news.sliders_moved();
    Ok(Did::default())
}

/// A slider's value, unless it is the stated one as far as a slider can say it.
fn moved(value: Option<f64>, stated: f64, half_a_step: f64) -> Option<f64> {
    value.filter(|value| (value - stated).abs() > half_a_step)
}

fn cut(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let reading = open_sheet(desk)?.reading();
    let reading = reading.ok_or_else(|| Failure::said("the sheet is not right yet", ""))?;
    let wheel: usize = fields.get("wheel").parse().unwrap_or_default();
    let passes: Vec<Pass> = if fields.get("as") == "sheet" {
        let wheel = reading.car.flywheels.all().get(wheel);
        wheel
            .map(|wheel| wheel.machining.passes.clone())
            .unwrap_or_default()
    } else {
        let side = if fields.get("face") == "clutch" {
            ":clutch"
        } else {
            ""
        };
        let [from, to, depth] = ["from", "to", "depth"].map(|name| fields.get(name).trim());
        match face(&format!("{from}:{to}:{depth}{side}")) {
            Ok(AskedPass::Fixed(pass)) => vec![pass],
            Ok(AskedPass::Open(_)) => vec![],
            Err(wrong) => return Err(Failure::said(wrong, "")),
        }
    };
    desk.cut = Some((wheel, passes));
    bench.lathe_changed(desk);
    Ok(Did::default())
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
fn use_printout(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    let pasted = desk.printout.clone().unwrap_or_default();
    let printout = look("the printout", &pasted.text, pasted.picked());
    let columns = Pasted::columns(&printout);
    printout.curve?;
    let sheet = open_sheet(desk)?.path().to_owned();
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
fn practice(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    /// What the file is called, and its one column.
    const NAME: &str = "practice.csv";
    const COLUMN: &str = "speed_rpm";
    let pasted = line_feeds(fields.get("text").trim());
    let bare = pasted.starts_with(|first: char| first.is_ascii_digit());
    let text = if bare {
        format!("{COLUMN}\n{pasted}\n")
    } else {
        format!("{pasted}\n")
    };
    let sheet = open_sheet(desk)?.path().to_owned();
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

/// Lays a sheet on the bench.
pub(super) fn open(bench: &Bench, desk: &mut Desk, path: &Path) -> Result<(), Failure> {
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

fn close(bench: &Bench, desk: &mut Desk) -> Result<Did, Failure> {
    if open_sheet(desk)?.is_unsaved() {
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

/// Name of a sheet to be, in the folder that the bench was started in: a name alone, no path.
fn name_in_folder(name: &str) -> Result<PathBuf, Failure> {
    let name = name.trim();
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

fn new(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
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
fn take(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
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
