//! A key: samples of the looks with their names, set in rows.

use super::canvas::{Anchor, CAP_HEIGHT_EM, Line};
use super::page::Fonts;
use super::palette::{Colour, Look};
use super::pen::{Drawn, Pen, face};
use super::place::{Px, Rect};
use super::text;

/// Length of a sample line.
const SAMPLE_PX: f64 = 34.0;

/// Side of a sample area.
const SWATCH_PX: f64 = 14.0;

const SAMPLE_GAP_PX: f64 = 6.0;
const ENTRY_GAP_PX: f64 = 18.0;
const ROW_EM: f64 = 1.6;

/// What a key entry shows before its name.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sample {
    /// A series: its line and glyph.
    Series(Look),
    /// A plain line.
    Line(Line),
}

/// One entry of a key.
pub(super) struct Entry {
    pub(super) sample: Sample,
    pub(super) name: String,
}

struct Placed<'k> {
    entry: &'k Entry,
    left: f64,
    row: f64,
    room: f64,
}

/// A key laid out in a width.
pub(super) struct Key<'k> {
    placed: Vec<Placed<'k>>,
    size: f64,
    rows: f64,
}

impl<'k> Key<'k> {
    pub(super) fn new(entries: &'k [Entry], width: f64, fonts: Fonts) -> Self {
        let size = fonts.small;
        let most_room = width - SAMPLE_PX - SAMPLE_GAP_PX;
        let (mut left, mut row) = (0.0, 0.0);
        let mut placed = Vec::new();
        for entry in entries {
            let room = text::width(&entry.name, size).min(most_room);
            let whole = SAMPLE_PX + SAMPLE_GAP_PX + room;
            if left > 0.0 && left + whole > width {
                (left, row) = (0.0, row + 1.0);
            }
            placed.push(Placed {
                entry,
                left,
                row,
                room: room + 0.5,
            });
            left += whole + ENTRY_GAP_PX;
        }
        let rows = if placed.is_empty() { 0.0 } else { row + 1.0 };
        Self { placed, size, rows }
    }

    pub(super) fn height(&self) -> f64 {
        if self.rows > 0.0 {
            self.rows * self.size * ROW_EM + 8.0
        } else {
            0.0
        }
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, at: Px) -> Drawn {
        for placed in &self.placed {
            let middle = at.shifted(placed.left, (placed.row + 0.5) * self.size * ROW_EM);
            let colour = match placed.entry.sample {
                Sample::Series(look) => {
                    draw_series_sample(pen, middle, look)?;
                    look.text()
                }
                Sample::Line(line) => {
                    pen.line(&[middle, middle.shifted(SAMPLE_PX, 0.0)], line)?;
                    Colour::INK
                }
            };
            pen.text_within(
                middle.shifted(SAMPLE_PX + SAMPLE_GAP_PX, self.size * CAP_HEIGHT_EM / 2.0),
                &placed.entry.name,
                placed.room,
                face(self.size, colour, Anchor::Start),
            )?;
        }
        Ok(())
    }
}

fn draw_series_sample(pen: &Pen<'_>, start: Px, look: Look) -> Drawn {
    let line = super::lines::series_line(look);
    pen.line(&[start, start.shifted(SAMPLE_PX, 0.0)], line)?;
    pen.glyph(
        start.shifted(SAMPLE_PX / 2.0, 0.0),
        look.glyph(),
        look.line(),
    )
}

/// A swatch's place before a name.
pub(super) fn swatch(left: f64, middle: f64) -> Rect {
    Rect::about(
        Px::new(left + SWATCH_PX / 2.0, middle),
        SWATCH_PX,
        SWATCH_PX,
    )
}
