//! Which report and which pictures make up the page of a command.

use super::drawn::Drawn;
use super::error::PageError;
use super::plots;
use super::report::{Picture, report_page};
use crate::launch::trace::TracePoint;
use crate::sheet::Reading;
use crate::shown::FitWork;
use crate::shown::drawing::HalfSection;
use crate::shown::figures::{self, Stressed};
use crate::shown::plot::{LineChart, SpanChart};
use crate::shown::text;
use crate::study::compare::WheelStudy;
use crate::study::comparison::Comparison;
use crate::study::cutting::{Cutting, Launched};
use crate::study::decide::Decision;
use crate::study::decide::who_wins::WhoWins;
use crate::study::fit::logs::LogOverModel;
use crate::study::gearing::GearChoice;
use crate::study::scatter::band::BandPoint;
use crate::units::System;

/// What marks on the lines of sixty-foot time mean.
const MARKS: &str = "One line a flywheel: further down is quicker. The bracket under a line is its launch window; \
     an open ring is its quickest launch; a ring with a dot is where to aim and the average there, \
     the driver's misses in.";

/// Flywheels side by side; `traces` are each one's quickest launch over time.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn compare(
    reading: &Reading,
    comparison: &Comparison,
    decision: Option<&Decision>,
    traces: &[(String, Vec<TracePoint>)],
    system: System,
) -> Result<String, PageError> {
    let mut pictures = vec![
        lines(
            "Sixty-foot time over launch speed",
            MARKS,
            figures::sixty_foot_over_speed("", comparison),
        )?,
        lines(
            "The engine in each one's quickest launch",
            "The thin line is the gearbox input: where it meets the engine, the clutch has stopped slipping.",
            figures::engine_speed("", traces),
        )?,
        frontier(comparison)?,
    ];
    if let Some(ridges) = figures::aim_over_release("", comparison) {
        pictures.push(lines(
            "Release and launch speed together",
            "A line says where to aim if the clutch is let out in so long; its mark is the release \
             that suits the flywheel best, with the average there.",
            ridges,
        )?);
    }
    let report = |system| text::compare(comparison, decision, system);
    report_page(reading, "Flywheels side by side", report, pictures, system)
}

/// One flywheel's launch window.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn window(
    reading: &Reading,
    study: &WheelStudy,
    band: &[BandPoint],
    system: System,
) -> Result<String, PageError> {
    let pictures = vec![lines(
        "Sixty-foot time over launch speed",
        "The line with dots is one clean launch. The others are what comes of aiming there with the \
         driver's misses: the average, and one standard deviation to either side.",
        figures::window("", study, band),
    )?];
    let report = |_| text::window(reading, study, band);
    report_page(reading, "Launch window", report, pictures, system)
}

/// The same car with other gearing.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn gearing(
    reading: &Reading,
    studies: &[(GearChoice, WheelStudy)],
    system: System,
) -> Result<String, PageError> {
    let pictures = vec![lines(
        "Sixty-foot time over launch speed",
        "One line a gearing: further down is quicker. The bracket under a line is its launch window.",
        figures::gearing("", studies),
    )?];
    let report = |_| text::gearing::gearing(reading, studies);
    report_page(reading, "Gearing", report, pictures, system)
}

/// What machining takes off a flywheel, with the drawing for the machinist.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn cut(
    reading: &Reading,
    cutting: &Cutting,
    launched: Option<&Launched>,
    system: System,
) -> Result<String, PageError> {
    let mut pictures = Vec::new();
    let half = HalfSection::of(&reading.car.title, cutting, system);
    if let (Some(phone), Some(wide)) = (half.svg_for_phone(system), half.svg(system)) {
        pictures.push(Picture {
            heading: "Half section",
            words: String::from(
                "To scale, the axis of the crank at the foot; what comes off is hatched.",
            ),
            drawn: Drawn {
                phone: phone?,
                wide: wide?,
            },
            is_drawing: true,
        });
    }
    let stressed = Stressed::of(cutting);
    if !stressed.is_empty() {
        pictures.push(lines(
            "Stress over radius",
            "",
            figures::stress("", &stressed, system),
        )?);
    }
    if let Some(launched) = launched {
        pictures.push(lines(
            "Sixty-foot time over launch speed",
            MARKS,
            figures::sixty_foot_over_speed("", &launched.comparison),
        )?);
    }
    let report = |system| text::cut(reading, cutting, launched, system);
    report_page(reading, "Cutting", report, pictures, system)
}

/// Which flywheel to start with.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn decide(
    reading: &Reading,
    decision: &Decision,
    map: Option<&WhoWins>,
    system: System,
) -> Result<String, PageError> {
    let mut losses = figures::losses("", decision);
    losses.words.subtitle = None;
    losses.words.caption = None;
    let mut pictures = vec![Picture {
        heading: "What each flywheel loses",
        words: String::from("The shorter the bar, the less there is to regret."),
        drawn: Drawn::of(|size| losses.svg(size))?,
        is_drawing: false,
    }];
    if let Some(metal) = &decision.metal_left {
        pictures.push(lines(
            "Metal left",
            "Mean time from the fitted wheel's inertia down, and the band that the doubt leaves.",
            figures::metal_left("", metal),
        )?);
    }
    let grip = decision
        .find_out_first
        .iter()
        .find(|found| found.key == "tyre.grip");
    let aim = grip.and_then(|grip| figures::aim_over_input("", decision, grip.input, "Tyre grip"));
    if let Some(aim) = aim {
        pictures.push(lines(
            "Where to aim",
            "The better the grip, the higher the aim may lie.",
            aim,
        )?);
    }
    let map = map.and_then(|map| figures::who_wins("", decision, &reading.doubted, map));
    if let Some(mut map) = map {
        map.words.subtitle = None;
        map.words.caption = None;
        pictures.push(Picture {
            heading: "The two inputs that matter most",
            words: format!(
                "Pale: the wheel that the answer names is the best, or nearly. The darker, the more it loses there. {}",
                figures::numbers(decision)
            ),
            drawn: Drawn::of(|size| map.svg(size))?,
            is_drawing: false,
        });
    }
    let report = |system| text::decide(reading, decision, system);
    report_page(reading, "Which flywheel first", report, pictures, system)
}

/// What time slips say, with the logs over the model's runs.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn fit(
    reading: &Reading,
    work: &FitWork,
    logs: &[LogOverModel],
    system: System,
) -> Result<String, PageError> {
    let mut pictures = vec![
        spans(
            "Slips against the model",
            "The bar is where the model, with the values that fit best, has 19 of 20 such runs; the mark is what the slip says.",
            figures::slips_over_model("", reading, &work.fit),
        )?,
        spans(
            "Before and after",
            "The shorter the second bar, the more the slips have told; where both are alike they told nothing.",
            figures::unknowns_before_and_after("", reading, &work.fit, system),
        )?,
    ];
    for one in logs {
        pictures.push(lines(
            "A log over the model",
            &format!(
                "Run {}. The thin line is the gearbox input: where it meets the engine, the clutch has stopped slipping.",
                one.row
            ),
            figures::log_over_model("", &one.log, &one.overlay, &one.points),
        )?);
    }
    let report = |system| text::fit(reading, work, system);
    report_page(reading, "What the slips say", report, pictures, system)
}

/// A chart of spans; the page has the car's name and the cautions at its ends.
fn spans(heading: &'static str, words: &str, mut chart: SpanChart) -> Result<Picture, PageError> {
    chart.words.subtitle = None;
    chart.words.caption = None;
    Ok(Picture {
        heading,
        words: words.to_owned(),
        drawn: Drawn::of(|size| chart.svg(size))?,
        is_drawing: false,
    })
}

/// A chart of lines; the page has the car's name and the cautions at its ends.
fn lines(heading: &'static str, words: &str, mut chart: LineChart) -> Result<Picture, PageError> {
    chart.words.subtitle = None;
    chart.words.caption = None;
    Ok(Picture {
        heading,
        words: words.to_owned(),
        drawn: Drawn::of(|size| chart.svg(size))?,
        is_drawing: false,
    })
}

fn frontier(comparison: &Comparison) -> Result<Picture, PageError> {
    Ok(Picture {
        heading: "Quick against steady",
        words: String::from(
            "Left is quicker on average, down is steadier. A hollow mark is beaten on both counts by another.",
        ),
        drawn: plots::quick_and_steady(comparison)?,
        is_drawing: false,
    })
}
