//! Which report and which pictures make up the page of a command.

use super::PageError;
use super::plots::Drawn;
use super::report::{Picture, report_page};
use crate::launch::trace::TracePoint;
use crate::sheet::Reading;
use crate::shown::drawing::HalfSection;
use crate::shown::figures::{self, Stressed};
use crate::shown::plot::LineChart;
use crate::shown::text;
use crate::study::compare::WheelStudy;
use crate::study::comparison::Comparison;
use crate::study::cutting::{Cutting, Launched};
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
    traces: &[(String, Vec<TracePoint>)],
    system: System,
) -> Result<String, PageError> {
    let pictures = vec![
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
    let report = |system| text::compare(comparison, system);
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
    if let Some(svg) = HalfSection::of(&reading.car.title, cutting, system).svg(system) {
        pictures.push(Picture {
            heading: "Half section",
            words: String::from(
                "To scale, the axis of the crank at the foot; what comes off is hatched.",
            ),
            drawn: Drawn::fixed(svg?),
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

/// A chart of lines; the page has the car's name and the cautions at its ends.
fn lines(heading: &'static str, words: &str, mut chart: LineChart) -> Result<Picture, PageError> {
    chart.words.subtitle = None;
    chart.words.caption = None;
    Ok(Picture {
        heading,
        words: words.to_owned(),
        drawn: Drawn::of(|size| chart.svg(size))?,
    })
}

fn frontier(comparison: &Comparison) -> Result<Picture, PageError> {
    let mut chart = figures::frontier("", comparison);
    chart.words.subtitle = None;
    chart.words.caption = None;
    Ok(Picture {
        heading: "Quick against steady",
        words: String::from(
            "Left is quicker on average, down is steadier. A hollow mark is beaten on both counts by another.",
        ),
        drawn: Drawn::of(|size| chart.svg(size))?,
    })
}
