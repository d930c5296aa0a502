//! The driver's page.

use super::PageError;
use super::assumed::{Assumed, assumed, doubts};
use super::charts::{Drawn, sixty_foot, three_launches};
use super::figure::{Both, Figure, Ticket};
use super::shell::Shell;
use super::words::{self, Pick, Practise};
use crate::launch::Launch;
use crate::sheet::Reading;
use crate::shown::text::{LAUNCH_CAUTION, percent, rpm, seconds};
use crate::study::card::{CardStudy, Shown};
use crate::study::compare::WheelStudy;
use crate::study::scatter::frontier::Beaten;
use crate::study::scatter::study::ScatterStudy;
use crate::units::{Kind, System};
use askama::Template;

/// Everything that the page is made from.
#[derive(Debug, Clone, Copy)]
pub struct CardWork<'w> {
    /// The sheet as it was read.
    pub reading: &'w Reading,
    /// Its flywheels.
    pub studies: &'w [WheelStudy<'w>],
    /// The flywheels under the driver's scatter.
    pub scatter: &'w ScatterStudy<'w>,
    /// What the page shows beyond; `None` if no flywheel gets the car to 60 ft.
    pub card: Option<&'w CardStudy>,
    /// Units shown at first; the reader may switch.
    pub system: System,
}

impl CardWork<'_> {
    pub(super) fn name(&self, index: usize) -> Option<&str> {
        self.studies.get(index).map(|study| study.wheel.name())
    }
}

/// The template's data.
#[derive(Template)]
#[template(path = "card.html")]
struct CardPage {
    shell: Shell,
    answer: Option<Answer>,
    tolerance: String,
    launch_sd: String,
    sixty_foot: Drawn,
    wheels: Vec<Ticket>,
    caution: &'static str,
    assumed: Vec<Assumed>,
    doubts: Vec<Both>,
    launches: usize,
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
    energy_heads: Vec<String>,
    steady: Vec<String>,
    practise: Vec<Practise>,
}

/// One row of the energy table: a share for each launch shown.
struct EnergyRow {
    label: &'static str,
    shares: Vec<String>,
}

/// The page as one HTML file.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn card(work: &CardWork) -> Result<String, PageError> {
    let car = &work.reading.car;
    let answer = Pick::of(work)
        .zip(work.card)
        .map(|(pick, card)| answer(work, &pick, card))
        .transpose()?;
    let page = CardPage {
        shell: Shell::new(&car.title, "", work.system),
        answer,
        tolerance: seconds(car.track.tolerance_s.get()),
        launch_sd: rpm(car.driver.unsteadiness.launch_sd_rad_s.get()),
        sixty_foot: sixty_foot(work.studies, work.scatter)?,
        wheels: tickets(work),
        caution: LAUNCH_CAUTION,
        assumed: assumed(work.reading),
        doubts: doubts(work.reading),
        launches: work.scatter.draws.chances().len(),
    };
    Ok(page.render()?)
}

fn answer(work: &CardWork, pick: &Pick, card: &CardStudy) -> Result<Answer, PageError> {
    let stories: Vec<String> = card.shown.iter().map(words::launch_story).collect();
    let index = card.pick;
    let release_s = work.reading.car.clutch.release.last_corner_s();
    Ok(Answer {
        advice: words::advice(work, pick),
        sureness: words::sureness(work, pick),
        if_in_doubt: words::if_in_doubt(pick),
        key_figures: key_figures(pick, index),
        far_off: words::far_off_rpm(pick.wheel),
        three: three_launches(card, &stories)?,
        stories,
        energy: energy_rows(&card.shown),
        energy_heads: card
            .shown
            .iter()
            .map(|shown| shown.off.words().to_owned())
            .collect(),
        steady: steady(work),
        practise: words::practise(&card.misses, pick.wheel.aim.launch_speed_rad_s, release_s),
    })
}

fn same(label: &'static str, text: String) -> Figure {
    Figure::new(label, Both::same(text))
}

fn key_figures(pick: &Pick, index: usize) -> Vec<Figure> {
    let aim = &pick.wheel.aim;
    let at = |path: &str| format!("flywheels.{index}.{path}");
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
    work.studies
        .iter()
        .enumerate()
        .map(|(index, study)| ticket(work, index, study))
        .collect()
}

fn ticket(work: &CardWork, index: usize, study: &WheelStudy) -> Ticket {
    let at = |path: &str| format!("flywheels.{index}.{path}");
    let mut figures = Vec::new();
    if let Some(mass_kg) = study.wheel.part.mass_kg() {
        figures.push(Figure::new("Weight", Both::show(mass_kg, Kind::Mass)).at(at("mass_kg")));
    }
    let inertia = study.wheel.part.inertia_kg_m2();
    figures.push(
        Figure::new("Inertia", Both::show(inertia, Kind::Inertia)).at(at("inertia_kg_m2")).minor(),
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
            .at(at("quickest.launch_rpm")).minor(),
            same("60 ft then", format!("{} s", seconds(best.quickest.sixty_foot_s)))
                .at(at("quickest.sixty_foot_s")).minor(),
            same("Engine falls to", format!("{} rpm", rpm(best.launch.slowest_rad_s)))
                .at(at("launch.minimum_rpm")).minor(),
        ]);
    }
    if let Some(wheel) = work.scatter.wheel(index) {
        figures.extend(scatter_figures(&wheel.aim, &at));
    }
    let fitted = work.reading.car.flywheels.is_fitted(study.wheel);
    let note = match (&study.best, fitted) {
        (None, _) => "Gets the car to 60 ft from no launch speed looked at.",
        (Some(_), true) => "In the car now.",
        (Some(_), false) => "",
    };
    Ticket {
        name: study.wheel.name().to_owned(),
        note: note.to_owned(),
        figures,
    }
}

fn scatter_figures(
    aim: &crate::study::scatter::aim::Aim,
    at: &dyn Fn(&str) -> String,
) -> Vec<Figure> {
    vec![
        same("Aim at", format!("{} rpm", rpm(aim.launch_speed_rad_s))).at(at("aim.launch_rpm")),
        same("60 ft, on average", format!("{} s", seconds(aim.mean_s))).at(at("aim.mean_s")),
        same("Spread", format!("± {} s", seconds(aim.sd_s))).at(at("aim.sd_s")),
        same("One in ten quicker than", format!("{} s", seconds(aim.p10_s))).at(at("aim.p10_s")).minor(),
        same("One in ten slower than", format!("{} s", seconds(aim.p90_s))).at(at("aim.p90_s")).minor(),
        same("Launches that stall", percent(aim.share_stalled)).minor(),
    ]
}

fn energy_rows(shown: &[Shown]) -> Vec<EnergyRow> {
    type Term = fn(&Launch) -> f64;
    let terms: [(&'static str, Term); 6] = [
        ("Car and wheels moving", |l| {
            l.energy.car_j + l.energy.wheels_and_driveline_j
        }),
        ("Flywheel and crank spinning faster", |l| {
            (-l.energy.crank_side_given_up_j).max(0.0)
        }),
        ("Heat in the clutch", |l| l.energy.clutch_j),
        ("Heat in the tyres", |l| l.energy.tyre_j),
        ("Lost in gears and shafts", |l| l.energy.driveline_loss_j),
        ("Air and rolling", |l| l.energy.drag_j + l.energy.rolling_j),
    ];
    let finished = |launch: &Launch| launch.sixty_foot_s().is_some();
    let total = |launch: &Launch| -> f64 { terms.iter().map(|(_, term)| term(launch)).sum() };
    terms
        .iter()
        .map(|(label, term)| EnergyRow {
            label,
            shares: shown
                .iter()
                .map(|shown| {
                    if finished(&shown.launch) {
                        percent(term(&shown.launch) / total(&shown.launch))
                    } else {
                        "–".into()
                    }
                })
                .collect(),
        })
        .collect()
}

/// Quick against steady, in sentences.
fn steady(work: &CardWork) -> Vec<String> {
    let by = |figure: fn(&crate::study::scatter::study::WheelScatter) -> f64| {
        work.scatter
            .wheels
            .iter()
            .min_by(|a, b| figure(a).total_cmp(&figure(b)))
    };
    let mut said = Vec::new();
    if let (Some(quick), Some(steady)) = (by(|w| w.aim.mean_s), by(|w| w.aim.sd_s)) {
        let name = |index: usize| words::named(work.name(index));
        if quick.index == steady.index {
            said.push(format!(
                "{} is both the quickest on average and the steadiest, so it suits heads-up racing, where the quicker car wins, and bracket racing, where the steadier one does.",
                name(quick.index)
            ));
        } else {
            said.push(format!(
                "Heads-up racing, where the quicker car wins: {}. Bracket racing, where running the same time again wins: {}, aimed at {} rpm, which spreads its times by {} s.",
                name(quick.index),
                name(steady.index),
                rpm(steady.aim.launch_speed_rad_s),
                seconds(steady.aim.sd_s),
            ));
        }
    }
    for wheel in &work.scatter.wheels {
        let (other, sure) = match wheel.quick_and_steady.beaten {
            Beaten::No => continue,
            Beaten::By(index) => (index, ""),
            Beaten::PerhapsBy(index) => (index, ", though that is within the error"),
        };
        said.push(format!(
            "{} is beaten on both counts by {}{sure}.",
            words::named(work.name(wheel.index)),
            words::named(work.name(other)),
        ));
    }
    said
}
