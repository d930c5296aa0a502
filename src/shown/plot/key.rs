//! A key: samples of the looks with their names, set in rows.

use super::mark::{MarkKind, draw_mark};
use super::page::Fonts;
use super::series::series_line;
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Colour, Drawn, Glyph, Line, Look, Pen, Px, Rect, face, fill_as,
    fill_missing, text,
};

/// Length of a sample line.
const SAMPLE_PX: f64 = 34.0;

/// Side of a sample area, and the room of a sample point.
const SWATCH_PX: f64 = 15.0;

const SAMPLE_GAP_PX: f64 = 6.0;
/// Room of a sample area and the gap behind it.
pub(super) const SWATCH_ROOM_PX: f64 = SWATCH_PX + SAMPLE_GAP_PX;

const ENTRY_GAP_PX: f64 = 18.0;
const ROW_EM: f64 = 1.6;

/// What a key entry shows before its name.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sample {
    /// A series: its line and glyph.
    Series(Look),
    /// A plain line.
    Line(Line),
    /// A line upon a wider one.
    Edged(Line, Line),
    /// A marked point.
    Mark(MarkKind, Look),
    /// A lone glyph.
    Glyph(Glyph, Look),
    /// An area in the tint and pattern of a look.
    Area(Look),
    /// An area in the tint of a look.
    Tint(Look),
    /// An area without a value.
    Missing,
    /// What hollow points have in common.
    Hollow,
}

impl Sample {
    fn width(self) -> f64 {
        match self {
            Self::Series(_) | Self::Line(_) | Self::Edged(..) => SAMPLE_PX,
            _ => SWATCH_PX,
        }
    }

    fn text_colour(self) -> Colour {
        match self {
            Self::Series(look) | Self::Mark(_, look) | Self::Glyph(_, look) => look.text(),
            _ => Colour::INK,
        }
    }

    /// Draws the sample to the right of a point.
    pub(super) fn draw(self, pen: &Pen<'_>, start: Px) -> Drawn {
        let centre = start.shifted(self.width() / 2.0, 0.0);
        let swatch = Rect::about(centre, SWATCH_PX, SWATCH_PX - 2.0);
        let across = [start, start.shifted(SAMPLE_PX, 0.0)];
        match self {
            Self::Series(look) => {
                pen.line(&across, series_line(look))?;
                pen.glyph(centre, look.glyph(), look.line())
            }
            Self::Line(line) => pen.line(&across, line),
            Self::Edged(under, over) => {
                pen.line(&across, under)?;
                pen.line(&across, over)
            }
            Self::Mark(kind, look) => draw_mark(pen, centre, kind, look),
            Self::Glyph(glyph, look) => pen.glyph(centre, glyph, look.line()),
            Self::Area(look) => {
                fill_as(pen, &swatch, look)?;
                pen.outline(&swatch, look.line())
            }
            Self::Tint(look) => {
                pen.fill(&swatch, look.tint())?;
                pen.outline(&swatch, look.line())
            }
            Self::Hollow => pen.glyph(centre, Glyph::Ring, Colour::QUIET),
            Self::Missing => {
                fill_missing(pen, &swatch)?;
                pen.outline(&swatch, Colour::AXIS)
            }
        }
    }
}

/// Whether an entry may follow another in its row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Row {
    Same,
    New,
}

/// One entry of a key.
pub(super) struct Entry {
    pub(super) sample: Sample,
    pub(super) name: String,
    pub(super) row: Row,
}

impl Entry {
    pub(super) fn new(sample: Sample, name: impl Into<String>) -> Self {
        Self {
            sample,
            name: name.into(),
            row: Row::Same,
        }
    }
}

struct Placed<'k> {
    entry: &'k Entry,
    left: f64,
    row: f64,
    room: f64,
}

/// Widths of the columns that rows of several entries share; none where they do not fit.
fn aligned_columns(entries: &[Entry], width: f64, size: f64) -> Vec<f64> {
    let rows = entries.chunk_by(|_, next| next.row == Row::Same);
    let mut columns: Vec<f64> = Vec::new();
    for row in rows.filter(|row| row.len() > 1) {
        for (nth, entry) in row.iter().enumerate() {
            let own = entry.sample.width() + SAMPLE_GAP_PX + text::width(&entry.name, size);
            match columns.get_mut(nth) {
                Some(column) => *column = column.max(own),
                None => columns.push(own),
            }
        }
    }
    let gaps = f64::from(u32::try_from(columns.len().saturating_sub(1)).unwrap_or(u32::MAX));
    if columns.iter().sum::<f64>() + gaps * ENTRY_GAP_PX <= width {
        columns
    } else {
        Vec::new()
    }
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
        let columns = aligned_columns(entries, width, size);
        let (mut left, mut row, mut nth) = (0.0, 0.0, 0);
        let mut placed = Vec::new();
        for entry in entries {
            let sample = entry.sample.width() + SAMPLE_GAP_PX;
            let room = text::width(&entry.name, size).min(width - sample);
            if left > 0.0 && (entry.row == Row::New || left + sample + room > width) {
                (left, row, nth) = (0.0, row + 1.0, 0);
            }
            placed.push(Placed {
                entry,
                left,
                row,
                room: room + 0.5,
            });
            let own = sample + room;
            left += columns.get(nth).copied().unwrap_or(own) + ENTRY_GAP_PX;
            nth += 1;
        }
        let rows = if placed.is_empty() { 0.0 } else { row + 1.0 };
        Self { placed, size, rows }
    }

    /// Width of the widest row.
    pub(super) fn width(&self) -> f64 {
        self.placed
            .iter()
            .map(|placed| placed.left + placed.entry.sample.width() + SAMPLE_GAP_PX + placed.room)
            .fold(0.0, f64::max)
    }

    /// Height of the middle of the first row.
    pub(super) fn row_middle(&self) -> f64 {
        self.size * ROW_EM / 2.0
    }

    pub(super) fn height(&self) -> f64 {
        if self.rows > 0.0 {
            self.rows * self.size * ROW_EM + 8.0
        } else {
            0.0
        }
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, at: Px) -> Drawn {
        for Placed {
            entry,
            left,
            row,
            room,
        } in &self.placed
        {
            let start = at.shifted(*left, (row + 0.5) * self.size * ROW_EM);
            entry.sample.draw(pen, start)?;
            pen.text_within(
                start.shifted(
                    entry.sample.width() + SAMPLE_GAP_PX,
                    self.size * CAP_HEIGHT_EM / 2.0,
                ),
                &entry.name,
                *room,
                face(self.size, entry.sample.text_colour(), Anchor::Start),
            )?;
        }
        Ok(())
    }
}
