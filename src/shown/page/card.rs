//! The driver's page.

use super::assumed::{Assumed, assumed, warnings};
use super::drawn::Drawn;
use super::energy::{EnergyRow, energy_rows};
use super::error::PageError;
use super::first::{self, First, FirstRow, SteadyPart};
use super::key_figure::{Both, Figure, Ticket};
use super::play::PlayPart;
use super::plots;
use super::report::{PageBlock, PageSection, sections};
use super::shell::Shell;
use super::words::{self, Practise};
use super::work::CardWork;
use crate::shown::text::{
    self, LAUNCH_CAUTION, about_rpm, fifties, rpm, seconds, stall_words, thousands,
};
use crate::study::card::CardStudy;
use crate::study::comparison::{Compared, Comparison, Contender};
use crate::study::cutting::Launched;
use crate::study::plan::Planned;
use crate::study::scatter::aim::Aim;
use crate::units::{Kind, System};
use askama::Template;

/// The sliders' scripts.
const SCRIPT: &str = concat!(
    include_str!("templates/play.js"),
    include_str!("templates/steady.js")
);

/// Flywheels that one sheet of paper has room for; the others are named there.
const ON_PAPER: usize = 8;

/// Names of flywheels that the sentence about the others has room for.
const NAMED_ON_PAPER: usize = 4;

/// The template's data.
#[derive(Template)]
#[template(path = "card.html", config = "src/shown/page/askama.toml")]
struct CardPage {
    shell: Shell,
    answer: Option<Answer>,
    tolerance: String,
    launch_sd: String,
    sixty_foot: Drawn,
    wheels: Vec<Ticket>,
    rows: Vec<WheelRow>,
    /// Flywheels that paper has no room for, in words.
    not_on_paper: String,
    plans: Vec<PlanPart>,
    caution: &'static str,
    assumed: Vec<Assumed>,
    warnings: Vec<Both>,
    launches: String,
}

/// A flywheel in one row.
struct WheelRow {
    name: String,
    fitted: bool,
    on_paper: bool,
    figures: Vec<Figure>,
}

/// A flywheel's cutting plan.
struct PlanPart {
    wheel: String,
    stages: Vec<PageBlock>,
    how_to_read: Vec<PageBlock>,
}

/// All that depends on there being a flywheel to recommend.
struct Answer {
    first: First,
    /// The one picture, as narrow as a phone: it stands beside the words where there is room.
    round: String,
    tracks: Vec<FirstRow>,
    off: Vec<FirstRow>,
    steadier: SteadyPart,
    key_figures: Vec<Figure>,
    far_off: String,
    three: Drawn,
    stories: Vec<String>,
    energy: Vec<EnergyRow>,
    energy_chart: Drawn,
    steady_chart: Drawn,
    what_matters: String,
    play: Option<PlayPart>,
    energy_heads: Vec<String>,
    steady: [String; 2],
    dominated: Vec<String>,
    practise: Vec<Practise>,
}

/// The page as one HTML file.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn card(work: &CardWork) -> Result<String, PageError> {
    let car = &work.reading.car;
    let answer = work.card.map(|card| answer(work, card)).transpose()?;
    let rows = wheel_rows(work.comparison);
    let page = CardPage {
        shell: Shell::new(&car.title, SCRIPT, work.system),
        answer,
        tolerance: seconds(car.track.tolerance_s.get()),
        launch_sd: rpm(car.driver.unsteadiness.launch_sd_rad_s.get()),
        sixty_foot: plots::sixty_foot(work.comparison)?,
        wheels: tickets(work),
        not_on_paper: not_on_paper(&rows),
        rows,
        plans: work.plans.iter().filter_map(plan_part).collect(),
        caution: LAUNCH_CAUTION,
        assumed: assumed(work.reading),
        warnings: warnings(work.reading),
        launches: thousands(launches_each(work.comparison)),
    };
    Ok(page.render()?)
}

fn answer(work: &CardWork, card: &CardStudy) -> Result<Answer, PageError> {
    let (findings, pick) = (&card.findings, &card.wheel);
    let first = First::of(work, card);
    let energy = energy_rows(&card.shown);
    let steady = words::steady(findings);
    let stories: Vec<String> = card.shown.iter().map(words::launch_story).collect();
    let release_s = work.reading.car.clutch.release.last_corner_s();
    Ok(Answer {
        round: plots::round_the_aim(pick, &card.round, &first.told())?.phone,
        first,
        tracks: first::tracks(&card.round),
        off: first::off_aim(&card.round),
        steadier: SteadyPart::of(work.comparison, card)?,
        key_figures: key_figures(pick),
        far_off: words::far_off_rpm(pick.scatter),
        three: plots::three_launches(card, &stories)?,
        stories,
        energy_chart: plots::energy(card, &energy)?,
        energy,
        energy_heads: card
            .shown
            .iter()
            .map(|shown| shown.off.words().to_owned())
            .collect(),
        steady_chart: plots::quick_and_steady(work.comparison)?,
        steady,
        dominated: words::dominated(work.comparison, findings),
        what_matters: findings
            .matters_most
            .as_ref()
            .map_or(String::new(), words::what_matters),
        play: work
            .play
            .map(|play| PlayPart::of(work, play, pick.index()))
            .transpose()?,
        practise: words::practise(pick, findings, &card.misses, release_s),
    })
}

/// The plan as `cut --plan` tells it.
fn plan_part((planned, launched): &(&Planned, Launched)) -> Option<PlanPart> {
    let order = planned.order?;
    let told = |system| text::plan(&planned.cutting, launched, order, system);
    let (stages, how_to_read) = sections(told(System::Metric), told(System::Imperial));
    let blocks = |sections: Vec<PageSection>| -> Vec<PageBlock> {
        sections
            .into_iter()
            .flat_map(|section| section.blocks)
            .collect()
    };
    Some(PlanPart {
        wheel: planned.cutting.wheel.name().to_owned(),
        stages: blocks(stages),
        how_to_read: blocks(how_to_read),
    })
}

fn same(label: &'static str, text: String) -> Figure {
    Figure::new(label, Both::same(text))
}

fn key_figures(pick: &Contender) -> Vec<Figure> {
    let aim = &pick.scatter.aim;
    let at = |path: &str| format!("flywheels.{}.{path}", pick.index());
    vec![
        same("Aim at", about_rpm(aim.launch_speed_rad_s)).at(at("aim.launch_rpm")),
        same("Window", rpm(pick.best.window.low.speed_rad_s()))
            .at(at("window_rpm.0"))
            .to(rpm(pick.best.window.high.speed_rad_s()), at("window_rpm.1")),
        same("60 ft, on average", format!("{} s", seconds(aim.mean_s))).at(at("aim.mean_s")),
        same("Spread of it", format!("± {} s", seconds(aim.sd_s))).at(at("aim.sd_s")),
    ]
}

/// A flywheel's figures on its own small card.
fn tickets(work: &CardWork) -> Vec<Ticket> {
    work.comparison
        .wheels()
        .iter()
        .enumerate()
        .map(|(index, wheel)| ticket(work, index, wheel))
        .collect()
}

fn ticket(work: &CardWork, index: usize, wheel: &Compared) -> Ticket {
    let study = &wheel.study;
    let at = |path: &str| format!("flywheels.{index}.{path}");
    let mut figures = Vec::new();
    if let Some(mass_kg) = study.wheel.part.mass_kg() {
        figures.push(Figure::new("Weight", Both::show(mass_kg, Kind::Mass)).at(at("mass_kg")));
    }
    let inertia = study.wheel.part.inertia_kg_m2();
    figures
        .push(Figure::new("Inertia", Both::show(inertia, Kind::Inertia)).at(at("inertia_kg_m2")));
    if let Some(best) = &study.best {
        figures.extend([
            same("Window", rpm(best.window.low.speed_rad_s()))
                .at(at("window_rpm.0"))
                .to(rpm(best.window.high.speed_rad_s()), at("window_rpm.1")),
            same(
                "Best single launch from",
                format!("{} rpm", rpm(best.quickest.launch_speed_rad_s)),
            )
            .at(at("quickest.launch_rpm")),
            same(
                "60 ft then",
                format!("{} s", seconds(best.quickest.sixty_foot_s)),
            )
            .at(at("quickest.sixty_foot_s")),
            same(
                "Engine falls to",
                format!("{} rpm", rpm(best.launch.slowest_rad_s)),
            )
            .at(at("launch.minimum_rpm")),
        ]);
    }
    if let Some(scatter) = &wheel.scatter {
        figures.extend(scatter_figures(&scatter.aim, &at));
    }
    let fitted = work.comparison.is_fitted(study);
    let note = match (&study.best, fitted) {
        (None, _) => "Gets the car to 60 ft from no launch speed looked at.",
        (Some(_), true) => "In the car now.",
        (Some(_), false) => "",
    };
    Ticket {
        name: wheel.name().to_owned(),
        note: note.to_owned(),
        figures,
    }
}

/// Every flywheel in a row: the one in the car first, then the quicker ones.
fn wheel_rows(comparison: &Comparison) -> Vec<WheelRow> {
    let mut order: Vec<(usize, &Compared)> = comparison.wheels().iter().enumerate().collect();
    order.sort_by_key(|(index, wheel)| {
        let fitted = comparison.is_fitted(&wheel.study);
        (!fitted, comparison.quicker_than(*index))
    });
    let row = |(nth, (index, wheel)): (usize, (usize, &Compared))| WheelRow {
        name: wheel.name().to_owned(),
        fitted: comparison.is_fitted(&wheel.study),
        on_paper: nth < ON_PAPER,
        figures: wheel.scatter.as_ref().map_or(Vec::new(), |scatter| {
            let at = |path: &str| format!("flywheels.{index}.{path}");
            let aim = &scatter.aim;
            vec![
                same("Aim at", fifties(aim.launch_speed_rad_s)).at(at("aim.launch_rpm")),
                same("Average", seconds(aim.mean_s)).at(at("aim.mean_s")),
                same("Spread", format!("± {}", seconds(aim.sd_s))).at(at("aim.sd_s")),
            ]
        }),
    };
    order.into_iter().enumerate().map(row).collect()
}

/// The flywheels that paper has no room for, in words.
fn not_on_paper(rows: &[WheelRow]) -> String {
    let others = rows.iter().filter(|row| !row.on_paper);
    let more = others.clone().count().saturating_sub(NAMED_ON_PAPER);
    let first = words::named(others.take(NAMED_ON_PAPER).map(|row| row.name.as_str()));
    if more == 0 {
        first
    } else {
        format!("{first} and {more} more")
    }
}

/// Launches computed for a flywheel, on average.
fn launches_each(comparison: &Comparison) -> usize {
    comparison.launches() / comparison.contenders().count().max(1)
}

fn scatter_figures(aim: &Aim, at: &dyn Fn(&str) -> String) -> Vec<Figure> {
    vec![
        same("Aim at", about_rpm(aim.launch_speed_rad_s)).at(at("aim.launch_rpm")),
        same("60 ft, on average", format!("{} s", seconds(aim.mean_s))).at(at("aim.mean_s")),
        same("Spread", format!("± {} s", seconds(aim.sd_s))).at(at("aim.sd_s")),
        same(
            "One in ten quicker than",
            format!("{} s", seconds(aim.p10_s)),
        )
        .at(at("aim.p10_s")),
        same(
            "One in ten slower than",
            format!("{} s", seconds(aim.p90_s)),
        )
        .at(at("aim.p90_s")),
        same("Launches that stall", stall_words(aim)),
    ]
}
