//! The paper: where things lie on it, and which look each cut has.

use super::pencil::{CHARACTER_EM, Point};
use super::shape::{Shape, Slice};
use crate::car::inertia::{BuiltUp, ExtraPlace};
use crate::shown::plot::{Colour, Look};
use crate::units::{Kind, System};

/// Room for diameters left of the section, px.
pub(super) const LEFT_PX: f64 = 74.0;
/// Room for thicknesses and holes right of it, px.
pub(super) const RIGHT_PX: f64 = 138.0;
/// Width of the stress panel, px.
pub(super) const PANEL_PX: f64 = 140.0;
/// Clear space on every side, px.
pub(super) const MARGIN_PX: f64 = 12.0;
/// Height of the words above the section, px.
pub(super) const HEAD_PX: f64 = 58.0;
/// Room under the axis for the scale and the stress axis, px.
pub(super) const UNDER_AXIS_PX: f64 = 70.0;
/// Line height of text, px.
pub(super) const LINE_PX: f64 = 14.5;
/// Characters of a label at most.
pub(super) const LABEL_CHARACTERS: usize = 22;
/// Height that the wheel's radius is drawn at, px.
const RADIUS_PX: f64 = 330.0;

/// Where things lie on the paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paper {
    pub(super) system: System,
    pub(super) px_per_m: f64,
    /// The clutch side, px from the left.
    pub(super) front_px: f64,
    /// The crank's axis, px from the top.
    pub(super) axis_px: f64,
    pub(super) width_px: f64,
    pub(super) section_right_px: f64,
}

impl Paper {
    pub(super) fn at(&self, (along_m, radius_m): Point) -> Point {
        (
            self.front_px + along_m * self.px_per_m,
            self.axis_px - radius_m * self.px_per_m,
        )
    }

    pub(super) fn corners(&self, slice: &Slice) -> Vec<Point> {
        slice.corners().into_iter().map(|at| self.at(at)).collect()
    }

    /// A dimension, its unit told once for the whole drawing.
    pub(super) fn number(&self, length_m: f64) -> String {
        let decimals = match self.system {
            System::Metric => 2,
            System::Imperial => 3,
        };
        let value = self.system.value(length_m, Kind::Length);
        format!("{value:.decimals$}")
    }
}

/// Outermost radius of anything fastened on, m.
fn reach_m(part: &BuiltUp, rim_m: f64) -> f64 {
    part.extras()
        .iter()
        .map(|extra| match extra.place {
            ExtraPlace::Gyration(radius) => 2.0 * radius.get() - rim_m,
            ExtraPlace::Points { pitch_radius_m, .. } => pitch_radius_m.get(),
        })
        .fold(rim_m, f64::max)
}

/// Lays out a drawing with at most so many labels on a side, with or without a stress panel.
pub(super) fn paper(
    shape: &Shape,
    part: &BuiltUp,
    system: System,
    panel: bool,
    labels: usize,
) -> Paper {
    /// A wheel of odd proportions must not run into its labels.
    const MOST_SECTION_PX: f64 = 150.0;
    let tallest_m = reach_m(part, shape.rim_m).min(2.0 * shape.rim_m);
    let px_per_m = (RADIUS_PX / tallest_m).min(MOST_SECTION_PX / shape.thickest_m);
    let section_px = shape.thickest_m * px_per_m;
    let front_px = MARGIN_PX + LEFT_PX + section_px + 8.0;
    let section_right_px = front_px + 8.0;
    // A flat wheel must still give its labels room.
    let labels_px = LINE_PX * (0..labels).map(|_| 1.0).sum::<f64>();
    let panel_px = if panel { PANEL_PX } else { 0.0 };
    Paper {
        system,
        px_per_m,
        front_px,
        axis_px: HEAD_PX + (tallest_m * px_per_m + 6.0).max(labels_px),
        width_px: section_right_px + RIGHT_PX + panel_px + MARGIN_PX,
        section_right_px,
    }
}

/// The look of a cut: blue is left to the stresses.
pub(super) const fn look(cut: usize) -> Look {
    Look::nth(cut + 1)
}

pub(super) fn slant(cut: usize) -> f64 {
    /// Slants that a print in black and white tells apart, degrees.
    const SLANTS: [f64; 4] = [-45.0, 0.0, 90.0, -20.0];
    SLANTS.get(cut % SLANTS.len()).copied().unwrap_or(0.0)
}

pub(super) fn colours(cut: Option<usize>) -> (Colour, Colour) {
    cut.map_or((Colour::AXIS, Colour::INK), |cut| {
        (look(cut).line(), look(cut).text())
    })
}

pub(super) fn fitting(width_px: f64, text_px: f64) -> usize {
    let mut count = 0_usize;
    let mut used = 0.0;
    while used + CHARACTER_EM * text_px <= width_px {
        used += CHARACTER_EM * text_px;
        count += 1;
    }
    count
}

/// Words cut to so many characters.
pub(super) fn short(words: &str, most: usize) -> String {
    if words.chars().count() <= most {
        return words.to_owned();
    }
    let kept: String = words.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}
