//! The paper: where things lie on it, and how its lines and areas look.

use super::shape::{Shape, Slice};
use crate::car::inertia::{BuiltUp, ExtraPlace};
use crate::shown::pens::{
    Anchor, Colour, Drawn, Line, Look, Pattern, Pen, Px, Type, face, hatched, looks_unlike,
};
use crate::units::{Kind, System};

/// Room for the stresses, px.
pub(super) const PANEL_PX: f64 = 148.0;
/// Clear space on every side, px.
pub(super) const MARGIN_PX: f64 = 10.0;
/// Height of the words above the section, px.
pub(super) const HEAD_PX: f64 = 58.0;
/// Room under the axis for the scale and the stress axis, px.
pub(super) const UNDER_AXIS_PX: f64 = 70.0;
/// Line height of text, px.
pub(super) const LINE_PX: f64 = 15.0;
/// Usual text height, px.
pub(super) const TEXT_PX: f64 = 12.0;
/// Height that the wheel's radius is drawn at, px.
const RADIUS_PX: f64 = 330.0;

/// What the drawing is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// A screen or a sheet of paper: the stresses stand beside the section.
    Wide,
    /// A phone held upright: no stresses, and all else closer together.
    Phone,
}

impl Form {
    /// Between a column of labels and the section, room for leader lines, px.
    const fn leader_px(self) -> f64 {
        match self {
            Self::Wide => 26.0,
            Self::Phone => 16.0,
        }
    }

    /// No label is wider, px.
    pub(super) const fn most_label_px(self) -> f64 {
        match self {
            Self::Wide => 160.0,
            Self::Phone => 126.0,
        }
    }

    /// A wheel of odd proportions must not run into its labels, px.
    const fn most_section_px(self) -> f64 {
        match self {
            Self::Wide => 150.0,
            Self::Phone => 72.0,
        }
    }

    /// A narrower drawing would break its notes into too many lines, px.
    const fn least_width_px(self) -> f64 {
        match self {
            Self::Wide => 420.0,
            Self::Phone => 308.0,
        }
    }
}

/// An outline.
pub(super) const OUTLINE: Line = Line::solid(Colour::INK, 1.6);
/// A centre-line: long, short (ISO 128, from memory).
pub(super) const CENTRE: Line = Line {
    colour: Colour::QUIET,
    width_px: 0.8,
    dash: &[12.5, 3.0, 2.5, 3.0],
};
/// Something whose size is not told, or that is behind.
pub(super) const HIDDEN: Line = Line {
    colour: Colour::QUIET,
    width_px: 0.9,
    dash: &[4.0, 2.2],
};
/// Metal that is cut by the paper: the general hatching of ISO 128-50, from memory.
const METAL: (Pattern, f64) = (Pattern::Falling, 4.0);
/// Plain words of a colour.
pub(super) const fn words(colour: Colour, anchor: Anchor) -> Type {
    face(TEXT_PX, colour, anchor)
}

/// The look of a pass: none is hatched as the metal, and blue is left to the stresses.
pub(super) fn look(cut: usize) -> Look {
    let looks = looks_unlike(METAL.0);
    looks.cycle().nth(cut).unwrap_or(Look::nth(1))
}

/// Line and text of what a pass left, or of what was there before.
pub(super) fn colours(cut: Option<usize>) -> (Colour, Colour) {
    cut.map_or((Colour::AXIS, Colour::INK), |cut| {
        (look(cut).line(), look(cut).text())
    })
}

/// Metal that stays.
pub(super) fn fill_metal(pen: &Pen<'_>, corners: &[Px]) -> Drawn {
    let line = Line::solid(Colour::AXIS, 0.9);
    hatched(pen, corners, METAL, Colour::WASH, line)
}

/// Where things lie on the paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paper {
    pub(super) system: System,
    pub(super) form: Form,
    pub(super) px_per_m: f64,
    /// Between a column of labels and the section, px.
    pub(super) leader_px: f64,
    /// Right end of the words left of the section, px from the left.
    pub(super) left_words_px: f64,
    /// The clutch side, px from the left.
    pub(super) front_px: f64,
    /// Left end of the words right of the section, px from the left.
    pub(super) right_words_px: f64,
    /// The crank's axis, px from the top.
    pub(super) axis_px: f64,
    pub(super) width_px: f64,
}

impl Paper {
    /// Lays out a drawing between two columns of labels (width and height of each, px), with or
    /// without room for the stresses.
    pub(super) fn new(
        shape: &Shape,
        part: &BuiltUp,
        system: System,
        columns: [(f64, f64); 2],
        (form, panel): (Form, bool),
    ) -> Self {
        let tallest_m = reach_m(part, shape.rim_m).min(2.0 * shape.rim_m);
        let px_per_m = (RADIUS_PX / tallest_m).min(form.most_section_px() / shape.thickest_m);
        let [left, right] = columns.map(|(width_px, _)| width_px);
        // A flat wheel must still give its labels room.
        let labels = columns.into_iter().map(|(_, height_px)| height_px);
        let leader_px = form.leader_px();
        let left_words_px = MARGIN_PX + left;
        let front_px = left_words_px + leader_px + shape.thickest_m * px_per_m;
        let right_words_px = front_px + leader_px;
        let panel_px = if panel { PANEL_PX } else { 0.0 };
        Self {
            system,
            form,
            px_per_m,
            leader_px,
            left_words_px,
            front_px,
            right_words_px,
            axis_px: HEAD_PX + labels.fold(tallest_m * px_per_m + 6.0, f64::max),
            width_px: (right_words_px + right + panel_px + MARGIN_PX)
                .ceil()
                .max(form.least_width_px()),
        }
    }

    /// Where a point lies: position along the axis and radius, m.
    pub(super) fn at(&self, (along_m, radius_m): (f64, f64)) -> Px {
        Px::new(
            self.front_px + along_m * self.px_per_m,
            self.axis_px - radius_m * self.px_per_m,
        )
    }

    pub(super) fn corners(&self, slice: &Slice) -> Vec<Px> {
        slice.corners().into_iter().map(|at| self.at(at)).collect()
    }

    /// Room for words from margin to margin.
    pub(super) fn room_px(&self) -> f64 {
        self.width_px - 2.0 * MARGIN_PX
    }
}

/// A dimension, its unit told once for the whole drawing.
pub(super) fn number(system: System, length_m: f64) -> String {
    let decimals = match system {
        System::Metric => 2,
        System::Imperial => 3,
    };
    let value = system.value(length_m, Kind::Length);
    format!("{value:.decimals$}")
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
