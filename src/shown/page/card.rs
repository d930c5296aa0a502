//! The driver's page.

use super::PageError;
use super::assumed::{Assumed, assumed, warnings};
use super::energy::{EnergyRow, energy_rows};
use super::key_figure::{Both, Figure, Rank, Ticket};
use super::play::PlayPart;
use super::plots::{self, Drawn};
use super::report::{PageBlock, PageSection, sections};
use super::shell::Shell;
use super::words::{self, Practise};
use crate::sheet::Reading;
use crate::shown::text::{self, LAUNCH_CAUTION, rpm, seconds, stall_words, thousands};
use crate::study::card::CardStudy;
use crate::study::comparison::{Compared, Comparison, Contender};
use crate::study::cutting::Launched;
use crate::study::plan::Planned;
use crate::study::play::Play;
use crate::study::scatter::aim::Aim;
use crate::units::{Kind, System};
use askama::Template;

/// The sliders' script.
const SCRIPT: &str = include_str!("templates/play.js");

/// Flywheels that paper has room for: the quickest so many, and the fitted one.
const ON_PAPER: usize = 3;

/// Stages of a cutting plan that paper has room for.
const STAGES_ON_PAPER: usize = 2;

/// Everything that the page is made from.
#[derive(Debug, Clone, Copy)]
pub struct CardWork<'w> {
    /// The sheet as it was read.
    pub reading: &'w Reading,
    /// Its flywheels side by side.
    pub comparison: &'w Comparison<'w>,
    /// What that comes to, and what the page shows beyond; `None` if no flywheel gets the car to
    /// 60 ft.
    pub card: Option<&'w CardStudy<'w, 'w>>,
    /// Launches computed beforehand, for the sliders.
    pub play: Option<&'w Play>,
    /// The sheet's cutting plans, launched.
    pub plans: &'w [(&'w Planned<'w>, Launched<'w>)],
    /// Units shown at first; the reader may switch.
    pub system: System,
}

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
    plans: Vec<PlanPart>,
    caution: &'static str,
    assumed: Vec<Assumed>,
    warnings: Vec<Both>,
    launches: String,
}

/// A flywheel's cutting plan.
struct PlanPart {
    wheel: String,
    rank: Rank,
    stages: Vec<PageBlock>,
    how_to_read: Vec<PageBlock>,
}

impl PlanPart {
    fn is_minor(&self) -> bool {
        self.rank == Rank::Minor
    }
}

/// All that depends on there being a flywheel to recommend.
struct Answer {
    advice: String,
    sureness: String,
    if_in_doubt: String,
    key_figures: Vec<Figure>,
    far_off: String,
    three: Drawn,
    stories: Vec<String>,
    energy: Vec<EnergyRow>,
    energy_chart: Drawn,
    strip: Drawn,
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
    let page = CardPage {
        shell: Shell::new(&car.title, SCRIPT, work.system),
        answer,
        tolerance: seconds(car.track.tolerance_s.get()),
        launch_sd: rpm(car.driver.unsteadiness.launch_sd_rad_s.get()),
        sixty_foot: plots::sixty_foot(work.comparison)?,
        wheels: tickets(work),
        plans: work.plans.iter().filter_map(plan_part).collect(),
        caution: LAUNCH_CAUTION,
        assumed: assumed(work.reading),
        warnings: warnings(work.reading),
        launches: thousands(launches_each(work.comparison)),
    };
    Ok(page.render()?)
}

fn answer(work: &CardWork, card: &CardStudy) -> Result<Answer, PageError> {
    let (findings, pick) = (&card.findings, card.wheel());
    let advice = words::advice(work, pick);
    let energy = energy_rows(&card.shown);
    let steady = words::steady(findings);
    let stories: Vec<String> = card.shown.iter().map(words::launch_story).collect();
    let release_s = work.reading.car.clutch.release.last_corner_s();
    Ok(Answer {
        strip: plots::strip(pick, &work.reading.car.driver.launch_range, &advice)?,
        advice,
        sureness: words::sureness(&findings.quick),
        if_in_doubt: words::if_in_doubt(pick, &findings.safer_side),
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
        steady_chart: plots::quick_and_steady(work.comparison, &steady)?,
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
        rank: if planned.after.len() > STAGES_ON_PAPER {
            Rank::Minor
        } else {
            Rank::Major
        },
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
        same("Aim at", format!("{} rpm", rpm(aim.launch_speed_rad_s))).at(at("aim.launch_rpm")),
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
        figures.push(Figure::new("Rank", Both::show(mass_kg, Kind::Mass)).at(at("mass_kg")));
    }
    let inertia = study.wheel.part.inertia_kg_m2();
    figures.push(
        Figure::new("Inertia", Both::show(inertia, Kind::Inertia))
            .at(at("inertia_kg_m2"))
            .minor(),
    );
    if let Some(best) = &study.best {
        figures.extend([
            same("Window", rpm(best.window.low.speed_rad_s()))
                .at(at("window_rpm.0"))
                .to(rpm(best.window.high.speed_rad_s()), at("window_rpm.1")),
            same(
                "Best single launch from",
                format!("{} rpm", rpm(best.quickest.launch_speed_rad_s)),
            )
            .at(at("quickest.launch_rpm"))
            .minor(),
            same(
                "60 ft then",
                format!("{} s", seconds(best.quickest.sixty_foot_s)),
            )
            .at(at("quickest.sixty_foot_s"))
            .minor(),
            same(
                "Engine falls to",
                format!("{} rpm", rpm(best.launch.slowest_rad_s)),
            )
            .at(at("launch.minimum_rpm"))
            .minor(),
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
        rank: if fitted || work.comparison.quicker_than(index) < ON_PAPER {
            Rank::Major
        } else {
            Rank::Minor
        },
    }
}

/// Launches computed for a flywheel, on average.
fn launches_each(comparison: &Comparison) -> usize {
    comparison.launches() / comparison.contenders().count().max(1)
}

fn scatter_figures(aim: &Aim, at: &dyn Fn(&str) -> String) -> Vec<Figure> {
    vec![
        same("Aim at", format!("{} rpm", rpm(aim.launch_speed_rad_s))).at(at("aim.launch_rpm")),
        same("60 ft, on average", format!("{} s", seconds(aim.mean_s))).at(at("aim.mean_s")),
        same("Spread", format!("± {} s", seconds(aim.sd_s))).at(at("aim.sd_s")),
        same(
            "One in ten quicker than",
            format!("{} s", seconds(aim.p10_s)),
        )
        .at(at("aim.p10_s"))
        .minor(),
        same(
            "One in ten slower than",
            format!("{} s", seconds(aim.p90_s)),
        )
        .at(at("aim.p90_s"))
        .minor(),
        same("Launches that stall", stall_words(aim)).minor(),
    ]
}
