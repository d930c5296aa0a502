//! Labels inside a plot: text on a plate, with a leader line where it stands off its point.

use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Colour, Drawn, Line, Pen, Px, Rect, Room, face, text,
};

/// Padding of a label against its surroundings.
const PAD_PX: f64 = 3.0;

/// A label farther than this from its point gets a leader line.
const LEADER_FROM_PX: f64 = 15.0;

/// Text to be placed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wish<'t> {
    pub(super) text: &'t str,
    pub(super) size: f64,
    pub(super) colour: Colour,
    /// Wider text is cut to this.
    pub(super) widest: f64,
}

impl Wish<'_> {
    /// Width and height with padding.
    pub(super) fn extent(&self) -> (f64, f64) {
        let width = text::width(self.text, self.size).min(self.widest);
        (width + 2.0 * PAD_PX, self.size + 2.0 * PAD_PX)
    }
}

/// Labels that have their place, drawn together so that no leader line crosses a text.
#[derive(Debug, Default)]
pub(super) struct Labels<'t> {
    placed: Vec<(Wish<'t>, Rect)>,
    leaders: Vec<([Px; 2], Colour)>,
}

impl<'t> Labels<'t> {
    /// Places text near a point, with a leader line of a colour if it must stand off.
    pub(super) fn near(&mut self, room: &mut Room, at: Px, leader: Colour, wish: Wish<'t>) {
        if wish.text.is_empty() {
            return;
        }
        let (width, height) = wish.extent();
        let Some(rect) = room.near(at, width, height) else {
            return;
        };
        let edge = rect.grown(-PAD_PX).nearest_to(at);
        if edge.distance(at) >= LEADER_FROM_PX {
            self.leaders.push(([at, edge], leader));
        }
        self.placed.push((wish, rect));
    }

    /// Places text on the quietest of the rectangles offered.
    pub(super) fn on_one_of(
        &mut self,
        room: &mut Room,
        offered: impl IntoIterator<Item = Rect>,
        wish: Wish<'t>,
    ) {
        if wish.text.is_empty() {
            return;
        }
        if let Some(rect) = room.quietest(offered) {
            self.placed.push((wish, rect));
        }
    }

    /// Places text on a point, whatever else is there.
    pub(super) fn right_at(&mut self, at: Px, wish: Wish<'t>) {
        if wish.text.is_empty() {
            return;
        }
        let (width, height) = wish.extent();
        self.placed.push((wish, Rect::about(at, width, height)));
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) -> Drawn {
        for (ends, colour) in &self.leaders {
            pen.line(ends, Line::solid(*colour, 0.8))?;
        }
        for (wish, rect) in &self.placed {
            pen.fill(&rect.grown(-1.0), Colour::PAPER)?;
            pen.text_within(
                rect.centre().shifted(0.0, wish.size * CAP_HEIGHT_EM / 2.0),
                wish.text,
                // Widths are compared as sums: leave room for round-off.
                rect.width() - 2.0 * PAD_PX + 0.5,
                face(wish.size, wish.colour, Anchor::Middle),
            )?;
        }
        Ok(())
    }
}
