//! Marked points: what they are, their signs and their labels.

use super::labels::{Labels, Wish};
use super::panel::Panel;
use crate::shown::pens::{
    Colour, Drawn, GLYPH_REACH_PX, Line, Look, Paint, Pen, Px, Rect, Room, drawable,
};

/// Half the size of a marked point.
const MARK_REACH_PX: f64 = 6.5;

/// What a marked point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MarkKind {
    /// The best value of its series.
    Quickest,
    /// The value to aim for.
    Aim,
    /// Any other point worth a word.
    Plain,
}

/// A marked point of a series.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// What it is.
    pub kind: MarkKind,
    /// Its x.
    pub x: f64,
    /// Its y.
    pub y: f64,
    /// What stands beside it; empty for the mark alone.
    pub label: String,
}

/// A mark with its place and the look of its series.
pub(super) struct Placed<'s> {
    mark: &'s Mark,
    look: Look,
    at: Px,
}

/// The marks that can be drawn; their ground is taken.
pub(super) fn placed_marks<'s>(
    panel: &Panel<'_>,
    marks: impl Iterator<Item = (Look, &'s Mark)>,
    room: &mut Room,
) -> Vec<Placed<'s>> {
    let side = 2.0 * MARK_REACH_PX;
    marks
        .filter(|(_, mark)| drawable(mark.x) && drawable(mark.y))
        .map(|(look, mark)| {
            let at = panel.at(mark.x, mark.y);
            room.take(Rect::about(at, side, side));
            Placed { mark, look, at }
        })
        .collect()
}

impl<'s> Placed<'s> {
    pub(super) fn place_label(
        &self,
        room: &mut Room,
        labels: &mut Labels<'s>,
        size: f64,
        widest: f64,
    ) {
        let wish = Wish {
            text: &self.mark.label,
            size,
            colour: self.look.text(),
            widest,
        };
        labels.near(room, self.at, self.look.line(), wish);
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) -> Drawn {
        draw_mark(pen, self.at, self.mark.kind, self.look)
    }
}

/// The sign of a marked point: a ring for the quickest, a bull's-eye for the aim.
pub(super) fn draw_mark(pen: &Pen<'_>, at: Px, kind: MarkKind, look: Look) -> Drawn {
    let ring = |radius: f64, width: f64| {
        let paint = Paint {
            fill: Some(Colour::PAPER),
            line: Some(Line::solid(look.line(), width)),
        };
        pen.disc(at, radius, paint)
    };
    match kind {
        MarkKind::Quickest => ring(MARK_REACH_PX - 1.5, 2.2),
        MarkKind::Aim => {
            ring(MARK_REACH_PX, 1.8)?;
            let dot = Paint {
                fill: Some(look.line()),
                line: None,
            };
            pen.disc(at, MARK_REACH_PX * 0.45, dot)
        }
        MarkKind::Plain => pen.glyph_sized(at, look.glyph(), look.line(), GLYPH_REACH_PX + 0.8),
    }
}
