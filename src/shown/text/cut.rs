//! What machining passes take off, what it is worth, what is left.

use super::disc::{disc, verdict_words};
use super::passes::{note_words, pass_words, setting};
use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, percent, plan};
use crate::car::material::Failure;
use crate::metal::disc::CAUTIONS;
use crate::metal::worth::{GramWorth, Worth};
use crate::sheet::Reading;
use crate::study::cutting::{CutStage, Cutting, Launched};
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};

/// Passes, where to cut, the disc check of what is left, launches and plan, cautions.
pub fn cut(
    reading: &Reading,
    cutting: &Cutting,
    launched: Option<&Launched>,
    system: System,
) -> Report {
    let mut sections = passes(cutting, system);
    sections.push(Section::said("", vec![rules(cutting, system)]));
    let worth = cutting.worth.as_ref();
    sections.extend(worth.map(|worth| where_to_cut(worth, system)));
    if let Some(launched) = launched {
        sections.extend(plan::launches(cutting, launched, system));
    }
    sections.extend(left(cutting, system));
    Report {
        title: reading.car.title.clone(),
        subject: format!("Cutting \"{}\"", cutting.wheel.name()),
        sections: stop(cutting).into_iter().chain(sections).collect(),
        metal_cautions: &CAUTIONS,
        launch_caution: if launched.is_some() {
            LAUNCH_CAUTION
        } else {
            ""
        },
    }
}

/// The warning before anything else where the metal must not be cut.
fn stop(cutting: &Cutting) -> Option<Section> {
    let material = cutting.part.material();
    (material.failure == Failure::Brittle).then(|| {
        let words = format!(
            "STOP: {} is brittle. Never lighten a cast-iron wheel for racing: it does not stretch before it bursts. \
             What follows is arithmetic, not advice.",
            material.name
        );
        Section::new("Stop", vec![Block::Stop(words)]).answering()
    })
}

fn passes(cutting: &Cutting, system: System) -> Vec<Section> {
    const HEADING: &str = "What comes off";
    if cutting.stages.is_empty() {
        let words = "No pass is asked for: give cut = [ … ] in the sheet, or --face, --rim, --holes, --taper, \
                     or a target. Below is where metal is worth most.";
        return vec![Section::said(HEADING, vec![words.into()])];
    }
    let told = cutting.stages.iter().enumerate().map(|(index, stage)| {
        let within = stage.within_m.map_or_else(String::new, |within_m| {
            format!(
                " (± {}: no nearer is the inertia of the wheel known)",
                setting(within_m, system)
            )
        });
        format!(
            "Pass {}: {}{within}",
            index + 1,
            pass_words(&stage.step.pass, system)
        )
    });
    let table = Block::Table(passes_table(cutting, system));
    let blocks = std::iter::once(table)
        .chain(notes(cutting, system))
        .collect();
    vec![
        Section::said(HEADING, told.collect()),
        Section::new("", blocks),
    ]
}

fn passes_table(cutting: &Cutting, system: System) -> Figures {
    let worth = format!("{} off, in first gear", a_little(system));
    let mut table = Figures::new(
        "Pass",
        &[
            "mass left",
            "inertia left",
            "mass off",
            "inertia off",
            &worth,
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
                worth_of_a_little(stage, system),
                standing_words(&stage.disc).to_owned(),
            ],
        );
    }
    table
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

/// A gram or an ounce, in words.
const fn a_little(system: System) -> &'static str {
    match system {
        System::Metric => "a gram",
        System::Imperial => "an ounce",
    }
}

/// What a gram off the wheel is worth in grams off the car; the same for ounces.
fn worth_of_a_little(stage: &CutStage, system: System) -> String {
    let unit = match system {
        System::Metric => "g",
        System::Imperial => "oz",
    };
    stage
        .worth_in_first
        .map_or(String::new(), |times| format!("{times:.1} {unit} of car"))
}

fn standing_words(standing: &DiscStanding) -> &'static str {
    match standing {
        DiscStanding::Checked(check) => verdict_words(check.verdict()),
        DiscStanding::Refused { .. } => "NOT CHECKED",
    }
}

fn notes(cutting: &Cutting, system: System) -> Vec<Block> {
    let mut notes = Vec::new();
    for (index, stage) in cutting.stages.iter().enumerate() {
        notes.extend(
            stage.step.notes.iter().map(|note| {
                Block::Said(format!("Pass {}: {}.", index + 1, note_words(note, system)))
            }),
        );
    }
    if cutting.part.weighed_kg().is_some() {
        notes.push(Block::Said(
            "Masses are brought to what the scales said: weigh the wheel after each pass and hold it against \"mass left\"."
                .into(),
        ));
    }
    notes
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
    format!(
        "The shop leaves at least {} of web, {} under the clutch face and {} round a hole; bolt circles: {}; {face}.",
        setting(rules.least_web_m.get(), system),
        setting(rules.least_under_clutch_face_m.get(), system),
        setting(rules.least_land_m.get(), system),
        rules.bolt_circles.name(),
    )
}

const fn worth_words(worth: GramWorth) -> &'static str {
    match worth {
        GramWorth::NearlyFree => "nearly free weight",
        GramWorth::BelowAverage => "below average",
        GramWorth::AboveAverage => "above average",
    }
}

fn where_to_cut(worth: &Worth, system: System) -> Section {
    let little = a_little(system);
    let there = format!("{little} there");
    let mut table = Figures::new(
        "Ring",
        &["of the mass", "of the inertia", "spare metal", &there],
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
    let words = format!(
        "On average the metal sits at Ø {}. Spare metal is what lies above the least thickness; bolts, seats and the \
         disc check can forbid it. Where weight is nearly free {little} makes the car lighter and the engine hardly livelier.",
        system.show(2.0 * worth.gyration_m, Kind::Length)
    );
    Section::new(
        "Where to cut",
        vec![
            Block::Said("Where to cut: the wheel as it is, most worth first".into()),
            Block::Table(table),
            Block::Said(words),
        ],
    )
}

/// The disc check before and after, and whether what is left may be run.
fn left(cutting: &Cutting, system: System) -> Vec<Section> {
    const HEADING: &str = "Disc check";
    let before = Section::new(
        HEADING,
        disc(cutting.wheel.name(), &cutting.disc_before, system),
    );
    let Some(last) = cutting.stages.last() else {
        return vec![before];
    };
    let name = cutting.name_when_cut();
    let mut after = Section::new(HEADING, disc(&name, &last.disc, system));
    match &last.disc {
        DiscStanding::Refused { .. } => {
            let words = "NOT CHECKED is not safe: nothing here says what speed this wheel stands.";
            after.blocks.push(Block::Stop(words.into()));
            vec![after]
        }
        DiscStanding::Checked(check) => {
            if !check.verdict().is_below() {
                let words = "DO NOT CUT: a limit is reached in what would be left.";
                after.blocks.push(Block::Stop(words.into()));
            }
            vec![before, after]
        }
    }
}
