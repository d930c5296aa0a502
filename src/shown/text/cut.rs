//! What machining passes take off, what it is worth, what is left.

use super::disc::{cautions, disc, verdict_words};
use super::passes::{note_words, pass_words, setting};
use super::table::Figures;
use super::{LAUNCH_CAUTION, defaults, percent, plan, wrapped};
use crate::car::material::Failure;
use crate::metal::worth::{GramWorth, Worth};
use crate::sheet::Reading;
use crate::study::cutting::{CutStage, Cutting, Launched};
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};
use std::fmt::Write as _;

/// Passes, where to cut, the disc check of what is left, launches and plan, cautions.
pub fn cut(
    reading: &Reading,
    cutting: &Cutting,
    launched: Option<&Launched>,
    system: System,
) -> String {
    let mut text = format!(
        "{}\nCutting \"{}\"\n\n",
        reading.car.title,
        cutting.wheel.name()
    );
    if cutting.part.material().failure == Failure::Brittle {
        text.push_str(&wrapped(&format!(
            "STOP: {} is brittle. Never lighten a cast-iron wheel for racing: it does not stretch before it bursts. \
             What follows is arithmetic, not advice.",
            cutting.part.material().name
        )));
        text.push('\n');
    }
    if cutting.stages.is_empty() {
        text.push_str(&wrapped(
            "No pass is asked for: give cut = [ … ] in the sheet, or --face, --rim, --holes, --taper, \
             or a target. Below is where metal is worth most.",
        ));
    } else {
        text.push_str(&passes(cutting, system));
        text.push_str(&notes(cutting, system));
    }
    text.push('\n');
    text.push_str(&rules(cutting, system));
    if let Some(worth) = &cutting.worth {
        text.push('\n');
        text.push_str(&where_to_cut(worth, system));
    }
    if let Some(launched) = launched {
        text.push('\n');
        text.push_str(&plan::launches(cutting, launched, system));
    }
    text.push('\n');
    text.push_str(&left(cutting, system));
    text.push('\n');
    text.push_str(&cautions());
    text.push('\n');
    text.push_str(&defaults(reading, system));
    if launched.is_some() {
        text.push_str(&wrapped(LAUNCH_CAUTION));
    }
    text
}

fn passes(cutting: &Cutting, system: System) -> String {
    let mut table = Figures::new(
        "",
        &[
            "mass left",
            "inertia left",
            "mass off",
            "inertia off",
            "each gram, worth in first",
            "disc check",
        ],
    );
    let whole = cutting.part.mass_properties();
    table.row(
        "as it is",
        [
            system.show(whole.mass_kg, Kind::Mass),
            system.show(whole.inertia_kg_m2, Kind::Inertia),
            String::new(),
            String::new(),
            String::new(),
            standing_words(&cutting.disc_before).to_owned(),
        ],
    );
    for (index, stage) in cutting.stages.iter().enumerate() {
        let (after, off) = (stage.step.after, stage.step.taken_off());
        table.row(
            &format!("after pass {}", index + 1),
            [
                system.show(after.mass_kg, Kind::Mass),
                system.show(after.inertia_kg_m2, Kind::Inertia),
                mass_off(off.mass_kg, system),
                system.show(off.inertia_kg_m2, Kind::Inertia),
                grams(stage),
                standing_words(&stage.disc).to_owned(),
            ],
        );
    }
    let mut text = String::new();
    for (index, stage) in cutting.stages.iter().enumerate() {
        let _ = writeln!(
            text,
            "Pass {}: {}",
            index + 1,
            pass_words(&stage.step.pass, system)
        );
    }
    format!("{text}\n{}", table.text())
}

/// Grams or ounces: what comes off is small.
fn mass_off(kg: f64, system: System) -> String {
    const GRAMS: f64 = 1e3;
    const OUNCES_OF_A_POUND: f64 = 16.0;
    match system {
        System::Metric => format!("{:.0} g", kg * GRAMS),
        System::Imperial => format!("{:.1} oz", system.value(kg, Kind::Mass) * OUNCES_OF_A_POUND),
    }
}

fn grams(stage: &CutStage) -> String {
    stage
        .worth_in_first
        .map_or(String::new(), |times| format!("{times:.1} times itself"))
}

fn standing_words(standing: &DiscStanding) -> &'static str {
    match standing {
        DiscStanding::Checked(check) => verdict_words(check.verdict()),
        DiscStanding::Refused { .. } => "NOT CHECKED",
    }
}

fn notes(cutting: &Cutting, system: System) -> String {
    let mut text = String::new();
    for (index, stage) in cutting.stages.iter().enumerate() {
        for note in &stage.step.notes {
            text.push_str(&wrapped(&format!(
                "Pass {}: {}.",
                index + 1,
                note_words(note, system)
            )));
        }
    }
    if cutting.part.weighed_kg().is_some() {
        text.push_str(&wrapped(
            "Masses are brought to what the scales said: weigh the wheel after each pass and hold it against \"mass left\".",
        ));
    }
    text
}

fn rules(cutting: &Cutting, system: System) -> String {
    let rules = &cutting.rules;
    let face = rules.clutch_face.map_or_else(
        || String::from("where the clutch rubs is not told, so nothing is cut on that side"),
        |face| {
            format!(
                "the clutch rubs on Ø {} to {}",
                setting(2.0 * face.inner_radius_m(), system),
                setting(2.0 * face.outer_radius_m(), system)
            )
        },
    );
    wrapped(&format!(
        "The shop leaves at least {} of web, {} under the clutch face and {} round a hole; bolt circles: {}; {face}.",
        setting(rules.least_web_m.get(), system),
        setting(rules.least_under_clutch_face_m.get(), system),
        setting(rules.least_land_m.get(), system),
        rules.bolt_circles.name(),
    ))
}

const fn worth_words(worth: GramWorth) -> &'static str {
    match worth {
        GramWorth::NearlyFree => "nearly free weight",
        GramWorth::BelowAverage => "below average",
        GramWorth::AboveAverage => "ABOVE AVERAGE",
    }
}

fn where_to_cut(worth: &Worth, system: System) -> String {
    let mut table = Figures::new(
        "Ring",
        &[
            "of the mass",
            "of the inertia",
            "spare metal",
            "a gram there",
        ],
    );
    for ring in worth.ranked() {
        table.row(
            &format!(
                "  Ø {} to {}",
                system.number(2.0 * ring.inner_radius_m, Kind::Length),
                system.show(2.0 * ring.outer_radius_m, Kind::Length)
            ),
            [
                percent(ring.share_of_mass),
                percent(ring.share_of_inertia),
                mass_off(ring.spare.mass_kg, system),
                worth_words(ring.worth).to_owned(),
            ],
        );
    }
    let mut text = String::from("Where to cut: the wheel as it is, most worth first\n");
    text.push_str(&table.text());
    text.push_str(&wrapped(&format!(
        "The average gram sits at Ø {}. Spare metal is what lies above the least thickness; bolts, seats and the \
         disc check can forbid it. Where weight is nearly free a gram makes the car lighter and the engine hardly livelier.",
        system.show(2.0 * worth.gyration_m, Kind::Length)
    )));
    text
}

fn left(cutting: &Cutting, system: System) -> String {
    let before = disc(cutting.wheel.name(), &cutting.disc_before, system);
    let Some(last) = cutting.stages.last() else {
        return before;
    };
    let name = format!("{}, cut", cutting.wheel.name());
    let after = disc(&name, &last.disc, system);
    match &last.disc {
        DiscStanding::Refused { .. } => format!(
            "{after}{}",
            wrapped("NOT CHECKED is not safe: nothing here says what speed this wheel stands.")
        ),
        DiscStanding::Checked(check) if check.verdict().is_below() => format!("{before}\n{after}"),
        DiscStanding::Checked(_) => format!(
            "{before}\n{after}{}",
            wrapped("DO NOT CUT: a limit is reached in what would be left.")
        ),
    }
}
