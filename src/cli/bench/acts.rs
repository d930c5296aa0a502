//! What can be done on the bench.

use super::desk::{Bench, Desk};
use super::did::Did;
use super::fields::Fields;
use super::{beside, edits, sheets};
use crate::cli::failure::Failure;
use crate::cli::options::launch_speed;
use crate::cli::passes::{AskedPass, face};
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::car::machining::Pass;
use flyheft::study::trial::Trial;
use std::path::Path;
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

/// Time for the last answer to arrive before the bench ends.
const LAST_WORD: Duration = Duration::from_millis(200);
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
        Act::Text => edits::text(bench, desk, fields),
        Act::Set => edits::set(bench, desk, fields),
        Act::Figures => edits::figures(bench, desk, fields),
        Act::Undo => edits::change(bench, desk, |sheet| Ok(sheet.undo())),
        Act::Redo => edits::change(bench, desk, |sheet| Ok(sheet.redo())),
        Act::Save => edits::save(bench, desk),
        Act::SaveBeside => edits::save_beside(bench, desk),
        Act::Autosave => edits::autosave(bench, desk, !fields.get("on").is_empty()),
        Act::Reload => sheets::reload(bench, desk),
        Act::Look => sheets::look(bench, desk),
        Act::Try => try_out(bench, desk, fields),
        Act::Cut => cut(bench, desk, fields),
        Act::Slips => {
            fields.lines("text").trim().clone_into(&mut desk.slips);
            bench.slips_changed(desk);
            Ok(Did::default())
        }
        Act::Printout => beside::printout(bench, desk, fields),
        Act::Pick => beside::pick(bench, desk, fields),
        Act::UsePrintout => beside::use_printout(bench, desk),
        Act::Practice => beside::practice(bench, desk, fields),
        Act::New => sheets::new(bench, desk, fields),
        Act::Open => {
            sheets::open(bench, desk, Path::new(fields.get("path").trim()))?;
            Ok(Did::leaves())
        }
        Act::Take => sheets::take(bench, desk, fields),
        Act::Close => sheets::close(bench, desk),
        Act::Stop => Ok(stop(bench)),
    }
}

/// Ends the bench once its last answer has gone out.
fn stop(bench: &Bench) -> Did {
    let end = Arc::clone(&bench.end);
    tokio::spawn(async move {
        tokio::time::sleep(LAST_WORD).await;
        end.notify_one();
    });
    Did::said("The bench is closed. You can close this page.")
}

fn try_out(bench: &Bench, desk: &mut Desk, fields: &Fields) -> Result<Did, Failure> {
    let reading = desk.open_sheet()?.reading();
    let reading = reading.ok_or_else(|| Failure::said("the sheet is not right yet", ""))?;
    let wheel: usize = fields.get("wheel").parse().unwrap_or_default();
    let per_cent = |name: &str| fields.number(name).map(|value| value / 100.0);
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
            fields.number("sd_rpm").map(|rpm| rpm * RAD_S_PER_RPM),
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
    let reading = desk.open_sheet()?.reading();
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
