//! The answers to the sheet as it stands: single launches at once, averages after, the verdict of
//! the doubt last.

use super::part::{Fragment, Part};
use crate::sheet::Reading;
use crate::shown::figures;
use crate::shown::page::drawn::Drawn;
use crate::shown::page::error::PageError;
use crate::shown::page::first::First;
use crate::shown::page::plots;
use crate::shown::page::report::{PageBlock, PageSection, sections};
use crate::shown::page::words::named;
use crate::shown::page::work::CardWork;
use crate::shown::pens::text::escaped;
use crate::shown::plot::LineChart;
use crate::shown::text::{self, LAUNCH_CAUTION, about_rpm, fifties, percent, rpm, seconds};
use crate::study::compare::WheelStudy;
use crate::study::comparison::Comparison;
use crate::study::decide::Decision;
use crate::units::System;
use askama::Template;

/// What stands first.
#[derive(Template)]
#[template(path = "bench/verdict.html", config = "src/shown/page/askama.toml")]
struct Verdict {
    /// Large, a line each.
    advice: Vec<String>,
    /// Where to launch from is good.
    good: String,
    /// The rest.
    more: Vec<String>,
    /// The one picture, once it is known.
    picture: Option<String>,
    /// What is still being worked out.
    awaited: &'static str,
    caution: &'static str,
}

/// The flywheels in rows.
#[derive(Template)]
#[template(path = "bench/wheels.html", config = "src/shown/page/askama.toml")]
struct Wheels {
    rows: Vec<Row>,
}

/// A flywheel: what is not known yet is `None`.
struct Row {
    name: String,
    fitted: bool,
    clean: [String; 3],
    average: Option<[String; 3]>,
    doubt: Option<[String; 2]>,
}

/// A picture alone.
#[derive(Template)]
#[template(path = "bench/picture.html", config = "src/shown/page/askama.toml")]
struct Picture {
    before: String,
    drawn: Drawn,
}

/// How much metal to leave, what to find out first.
#[derive(Template)]
#[template(path = "bench/metal.html", config = "src/shown/page/askama.toml")]
struct Metal {
    drawn: Option<Drawn>,
    details: Vec<PageSection>,
}

const NO_FIGURE: &str = "–";
const MARKS: &str = "One line a flywheel: further down is quicker. The bracket under a line is its launch window; an open ring is its quickest launch.";
const MARKS_WITH_AIM: &str =
    " A ring with a dot is where to aim and the average there, the driver’s misses in.";

/// Single launches: all that is known at once.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn clean(reading: &Reading, studies: &[WheelStudy]) -> Result<Vec<Fragment>, PageError> {
    let fitted = |study: &WheelStudy| reading.car.flywheels.is_fitted(study.wheel);
    let rows = studies.iter().map(|study| Row {
        name: study.wheel.name().to_owned(),
        fitted: fitted(study),
        clean: clean_figures(study),
        average: study.best.is_none().then(nothing),
        doubt: None,
    });
    let quickest = studies
        .iter()
        .filter_map(|study| Some((study.wheel.name(), &study.best.as_ref()?.quickest)))
        .min_by(|a, b| a.1.sixty_foot_s.total_cmp(&b.1.sixty_foot_s));
    let told = quickest.map_or_else(no_launch, |(name, quickest)| {
        format!(
            "In one perfect launch {} is quickest: 60 ft in {} s from {} rpm.",
            named([name]),
            seconds(quickest.sixty_foot_s),
            rpm(quickest.launch_speed_rad_s)
        )
    });
    let verdict = Verdict {
        advice: vec![told.clone()],
        good: String::new(),
        more: vec![
            "Nobody launches perfectly: which flywheel to use is decided on averages.".into(),
        ],
        picture: None,
        awaited: "Averages: computing…",
        caution: LAUNCH_CAUTION,
    };
    Ok(vec![
        fragment(Part::Verdict, &verdict, told)?,
        fragment(
            Part::Wheels,
            &Wheels {
                rows: rows.collect(),
            },
            String::new(),
        )?,
        lines(
            figures::clean_launches_over_speed("", studies),
            MARKS.into(),
        )?,
    ])
}

/// With the driver's scatter.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn averages(comparison: &Comparison) -> Result<Vec<Fragment>, PageError> {
    let findings = comparison.findings();
    let told = findings.as_ref().map_or_else(no_launch, |findings| {
        let quick = &findings.quick.wheel;
        format!(
            "On average {} is quickest: {} s, aimed at {}.",
            named([quick.name()]),
            seconds(quick.scatter.aim.mean_s),
            about_rpm(quick.scatter.aim.launch_speed_rad_s)
        )
    });
    let verdict = Verdict {
        advice: vec![told.clone()],
        good: String::new(),
        more: vec!["As far as the sheet is right. What its doubt makes of that comes next.".into()],
        picture: None,
        awaited: "What the sheet’s doubt makes of it: computing…",
        caution: LAUNCH_CAUTION,
    };
    let mut chart = figures::sixty_foot_over_speed("", comparison);
    chart.words.caption = None;
    Ok(vec![
        fragment(Part::Verdict, &verdict, told)?,
        fragment(
            Part::Wheels,
            &Wheels {
                rows: rows(comparison, None),
            },
            String::new(),
        )?,
        lines(chart, format!("{MARKS}{MARKS_WITH_AIM}"))?,
    ])
}

/// With the doubt: what to do.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn decided(work: &CardWork) -> Result<Vec<Fragment>, PageError> {
    let awaited = "";
    let verdict = match work.card {
        Some(card) => {
            let first = First::of(work, card);
            let picture = plots::round_the_aim(&card.wheel, &card.round, &first.told())?;
            Verdict {
                advice: vec![first.wheel, first.launch],
                good: first.good,
                more: vec![first.doubt.to_owned(), first.sure],
                picture: Some(picture.phone),
                awaited,
                caution: LAUNCH_CAUTION,
            }
        }
        None => Verdict {
            advice: vec![no_launch()],
            good: String::new(),
            more: vec![],
            picture: None,
            awaited,
            caution: LAUNCH_CAUTION,
        },
    };
    let told = verdict.advice.join(" ");
    let rows = rows(work.comparison, work.decision);
    Ok(vec![
        fragment(Part::Verdict, &verdict, told)?,
        fragment(Part::Wheels, &Wheels { rows }, String::new())?,
    ])
}

/// The doubt in full: how much metal to leave, what to find out first.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn whole(reading: &Reading, decision: &Decision) -> Result<Fragment, PageError> {
    let told = |system| text::decide(reading, decision, system).sections;
    let (_, details) = sections(told(System::Metric), told(System::Imperial));
    let drawn = decision
        .metal_left
        .as_ref()
        .map(|metal| beside(&bare(figures::metal_left("", metal))))
        .transpose()?;
    fragment(Part::Metal, &Metal { drawn, details }, String::new())
}

/// Why a part's answer is not known.
pub fn not_known(part: Part, words: String) -> Fragment {
    Fragment {
        part,
        html: format!("<p class=\"wrong\">{}</p>", escaped(&words)),
        said: words,
    }
}

fn no_launch() -> String {
    "No flywheel on this sheet gets the car to 60 ft from any launch speed looked at. Look at the clutch, its release and the range of launch speeds.".into()
}

fn clean_figures(study: &WheelStudy) -> [String; 3] {
    study.best.as_ref().map_or_else(nothing, |best| {
        let edge = |edge: crate::study::window::Edge| rpm(edge.speed_rad_s());
        [
            rpm(best.quickest.launch_speed_rad_s),
            seconds(best.quickest.sixty_foot_s),
            format!("{}–{}", edge(best.window.low), edge(best.window.high)),
        ]
    })
}

fn nothing() -> [String; 3] {
    [NO_FIGURE; 3].map(String::from)
}

fn rows(comparison: &Comparison, decision: Option<&Decision>) -> Vec<Row> {
    let row = |(place, wheel): (usize, &crate::study::comparison::Compared)| Row {
        name: wheel.name().to_owned(),
        fitted: comparison.is_fitted(&wheel.study),
        clean: clean_figures(&wheel.study),
        average: Some(wheel.scatter.as_ref().map_or_else(nothing, |scatter| {
            let aim = &scatter.aim;
            [
                fifties(aim.launch_speed_rad_s),
                seconds(aim.mean_s),
                format!("± {}", seconds(aim.sd_s)),
            ]
        })),
        doubt: decision.and_then(|decision| {
            let wheel = decision.wheels.get(place)?;
            Some([
                percent(wheel.chance_best),
                format!("{:.0} ms", wheel.loss_p95_s * 1e3),
            ])
        }),
    };
    comparison.wheels().iter().enumerate().map(row).collect()
}

fn lines(chart: LineChart, before: String) -> Result<Fragment, PageError> {
    let drawn = beside(&bare(chart))?;
    fragment(Part::Lines, &Picture { before, drawn }, String::new())
}

/// The chart without the words that the page has about it.
pub(super) fn bare(mut chart: LineChart) -> LineChart {
    chart.words.subtitle = None;
    chart.words.caption = None;
    chart
}

/// A chart for the column of answers.
pub(super) fn beside(chart: &LineChart) -> Result<Drawn, PageError> {
    Drawn::beside_a_form(|size| chart.svg(size))
}

pub(super) fn fragment(
    part: Part,
    template: &impl Template,
    said: String,
) -> Result<Fragment, PageError> {
    Ok(Fragment {
        part,
        html: template.render()?,
        said,
    })
}
