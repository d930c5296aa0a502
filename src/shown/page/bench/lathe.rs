//! A flywheel on the lathe: its half section with what is cut, what comes off, what is left.

use super::answers::{bare, beside, fragment};
use super::part::{Fragment, Part};
use crate::sheet::Reading;
use crate::shown::drawing::{HalfSection, HalfSectionScale};
use crate::shown::figures::{self, Stressed};
use crate::shown::page::drawn::Drawn;
use crate::shown::page::error::PageError;
use crate::shown::page::report::{PageBlock, PageSection, sections};
use crate::shown::text;
use crate::study::cutting::{Cutting, CuttingError, Launched};
use crate::units::System;
use askama::Template;

#[derive(Template)]
#[template(path = "bench/lathe.html", config = "src/shown/page/askama.toml")]
struct Lathe {
    drawing: Option<[OnScreen; 2]>,
    answers: Vec<PageSection>,
    details: Vec<PageSection>,
    stress: Option<Drawn>,
    cautions: &'static [&'static str],
    awaited: &'static str,
    refused: String,
}

/// A half section and its scale: whoever drags on it means metal.
struct OnScreen {
    screen: &'static str,
    svg: String,
    axis_px: f64,
    px_per_mm: f64,
}

impl OnScreen {
    fn new(screen: &'static str, (svg, scale): (String, HalfSectionScale)) -> Self {
        const MM_PER_M: f64 = 1000.0;
        Self {
            screen,
            svg,
            axis_px: scale.axis_px,
            px_per_mm: scale.px_per_m / MM_PER_M,
        }
    }
}

/// The wheel with its passes made; `launched` once it is known what they do at the strip.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn lathe(
    reading: &Reading,
    cutting: &Cutting,
    launched: Option<&Launched>,
    system: System,
) -> Result<Fragment, PageError> {
    let half = HalfSection::of(&reading.car.title, cutting, system);
    let drawing = match (half.scaled_for_phone(system), half.scaled(system)) {
        (Some(phone), Some(wide)) => {
            Some([OnScreen::new("phone", phone?), OnScreen::new("wide", wide?)])
        }
        _ => None,
    };
    let stressed = Stressed::of(cutting);
    let stress = (!stressed.is_empty())
        .then(|| beside(&bare(figures::stress("", &stressed, system))))
        .transpose()?;
    let report = |system| text::cut(reading, cutting, launched, system);
    let metric = report(System::Metric);
    let cautions = metric.metal_cautions;
    let (answers, details) = sections(metric.sections, report(System::Imperial).sections);
    let lathe = Lathe {
        drawing,
        answers,
        details,
        stress,
        cautions,
        awaited: if launched.is_none() && !cutting.stages.is_empty() {
            "What it does at the strip: computing…"
        } else {
            ""
        },
        refused: String::new(),
    };
    let said = if launched.is_some() {
        format!("\"{}\" as cut has been launched.", cutting.wheel.name())
    } else {
        String::new()
    };
    fragment(Part::Lathe, &lathe, said)
}

/// Why a wheel was not cut, in the words of `cut`.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn refused_cut(
    wheel: &str,
    error: &CuttingError,
    system: System,
) -> Result<Fragment, PageError> {
    let (wrong, right) = text::cutting_error(error, None, system);
    let refused = format!("“{wheel}”: {wrong}: {right}");
    let lathe = Lathe {
        drawing: None,
        answers: vec![],
        details: vec![],
        stress: None,
        cautions: &[],
        awaited: "",
        refused: refused.clone(),
    };
    fragment(Part::Lathe, &lathe, refused)
}
