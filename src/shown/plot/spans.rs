//! Span charts: ranges and readings of things one under the other, to one scale.

use super::axis::Axis;
use super::key::{Entry, Key, Sample};
use super::level::{draw_level_scale, level_scale, ticks_across};
use super::page::{Fonts, Page, Size, Words};
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, ChartError, Colour, Drawn, GLYPH_REACH_PX, Line, Look, Paint, Pen, Px,
    Rect, Scale, drawable, face, text,
};

/// Height of a lane that a range lies in.
const LANE_PX: f64 = 15.0;

/// Thickness of a range.
const RANGE_PX: f64 = 9.0;

/// Distance between two things.
const GAP_PX: f64 = 9.0;

/// Free space between a name and what is said at its other end.
const NOTE_GAP_PX: f64 = 12.0;

/// Line spacing in ems.
const LINE_EM: f64 = 1.35;

/// One range, one reading, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Its kind's place in [`SpanChart::kinds`].
    pub kind: usize,
    /// Its middle, or what was read.
    pub at: f64,
    /// Its ends; without them it is a reading, and lies on the range before it.
    pub range: Option<(f64, f64)>,
}

/// A thing with its ranges and readings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SpanRow {
    /// What it is.
    pub name: String,
    /// What is said at its other end, such as the figures.
    pub note: String,
    /// Its ranges from the top down.
    pub spans: Vec<Span>,
}

/// Things one under the other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SpanChart {
    /// The words about it.
    pub words: Words,
    /// The scale.
    pub axis: Axis,
    /// What the ranges are, and how each is drawn.
    pub kinds: Vec<(String, Look)>,
    /// The things from the top down.
    pub rows: Vec<SpanRow>,
}

impl SpanChart {
    /// The chart as SVG, as high as its things need.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let fonts = page.fonts;
        let width = page.body_width();
        let scale = level_scale(self.values(), width, fonts.small);
        let entries = self.entries();
        let key = Key::new(&entries, width, fonts);
        let rows: f64 = self.rows.iter().map(|row| row.height(width, fonts)).sum();
        let foot = fonts.small * 3.1;
        page.draw(key.height() + rows + foot, |pen, body| {
            key.draw(pen, Px::new(body.left, body.top))?;
            let top = body.top + key.height();
            let inset = fonts.small * 2.0;
            let plot = Rect::new(body.left + inset, top, body.right - inset, top + rows);
            draw_level_scale(pen, &scale, &plot, fonts.small)?;
            let mut row_top = top;
            for row in &self.rows {
                let place = Rect::new(body.left, row_top, body.right, row_top);
                self.draw_row(pen, row, &place, (&scale, &plot), fonts)?;
                row_top += row.height(width, fonts);
            }
            pen.text_within(
                Px::new(body.centre().x, body.bottom - 2.0),
                &self.axis.title(),
                body.width(),
                face(fonts.small, Colour::INK, Anchor::Middle),
            )
        })
    }

    fn values(&self) -> Vec<f64> {
        let spans = self.rows.iter().flat_map(|row| &row.spans);
        spans
            .flat_map(|span| {
                let (low, high) = span.range.unwrap_or((span.at, span.at));
                [low, span.at, high]
            })
            .chain(self.axis.reaches.iter().copied())
            .filter(|value| drawable(*value))
            .collect()
    }

    fn entries(&self) -> Vec<Entry> {
        let has_range = |kind: usize| {
            let mut spans = self.rows.iter().flat_map(|row| &row.spans);
            spans.any(|span| span.kind == kind && span.range.is_some())
        };
        self.kinds
            .iter()
            .enumerate()
            .map(|(kind, (name, look))| {
                let sample = if has_range(kind) {
                    Sample::Tint(*look)
                } else {
                    Sample::Glyph(look.glyph(), *look)
                };
                Entry::new(sample, name.as_str())
            })
            .collect()
    }

    fn draw_row(
        &self,
        pen: &Pen<'_>,
        row: &SpanRow,
        place: &Rect,
        (scale, plot): (&Scale, &Rect),
        fonts: Fonts,
    ) -> Drawn {
        let mut top = row.draw_words(pen, place, fonts)?;
        let foot = top + row.lanes() * LANE_PX;
        for x in ticks_across(scale, plot) {
            let ends = [Px::new(x, top), Px::new(x, foot)];
            pen.line(&ends, Line::solid(Colour::GRID, 1.0))?;
        }
        let mut lane = None;
        for span in &row.spans {
            let Some((_, look)) = self.kinds.get(span.kind) else {
                continue;
            };
            if span.range.is_some() || lane.is_none() {
                lane = Some(top + LANE_PX / 2.0);
                top += LANE_PX;
            }
            if let Some(middle) = lane {
                draw_span(pen, span, *look, middle, (scale, plot))?;
            }
        }
        Ok(())
    }
}

fn draw_span(
    pen: &Pen<'_>,
    span: &Span,
    look: Look,
    middle: f64,
    (scale, plot): (&Scale, &Rect),
) -> Drawn {
    let across = |value: f64| plot.left + scale.share(value) * plot.width();
    if let Some((low, high)) = span.range.filter(|(a, b)| drawable(*a) && drawable(*b)) {
        let (from, to) = (across(low.min(high)), across(low.max(high)));
        let bar = Rect::new(from, middle - RANGE_PX / 2.0, to, middle + RANGE_PX / 2.0);
        let paint = Paint {
            fill: Some(look.tint()),
            line: Some(Line::solid(look.line(), 1.2)),
        };
        pen.rect(&bar, paint)?;
    }
    if drawable(span.at) {
        let at = Px::new(across(span.at), middle);
        pen.glyph_sized(at, look.glyph(), look.line(), GLYPH_REACH_PX)?;
    }
    Ok(())
}

impl SpanRow {
    /// Whether name and note stand in one line.
    fn in_one_line(&self, width: f64, fonts: Fonts) -> bool {
        let name = text::width(&self.name, fonts.small);
        let note = text::width(&self.note, fonts.small);
        self.note.is_empty() || name + NOTE_GAP_PX + note <= width
    }

    fn height(&self, width: f64, fonts: Fonts) -> f64 {
        let lines = if self.in_one_line(width, fonts) {
            1.0
        } else {
            2.0
        };
        lines * fonts.small * LINE_EM + self.lanes() * LANE_PX + GAP_PX
    }

    fn lanes(&self) -> f64 {
        let ranges = self.spans.iter().filter(|span| span.range.is_some());
        let lanes = ranges.count().max(usize::from(!self.spans.is_empty()));
        f64::from(u32::try_from(lanes).unwrap_or(u32::MAX))
    }

    /// Writes name and note at the top of a place; what comes back is where they end.
    fn draw_words(&self, pen: &Pen<'_>, place: &Rect, fonts: Fonts) -> Result<f64, ChartError> {
        let line = fonts.small * LINE_EM;
        let baseline = place.top + fonts.small * CAP_HEIGHT_EM + 2.0;
        let name = face(fonts.small, Colour::INK, Anchor::Start);
        let left = Px::new(place.left, baseline);
        pen.text_within(left, &self.name, place.width(), name)?;
        if self.note.is_empty() {
            return Ok(place.top + line);
        }
        if self.in_one_line(place.width(), fonts) {
            let note = face(fonts.small, Colour::QUIET, Anchor::End);
            pen.text(Px::new(place.right, baseline), &self.note, note)?;
            return Ok(place.top + line);
        }
        let note = face(fonts.small, Colour::QUIET, Anchor::Start);
        pen.text_within(left.shifted(0.0, line), &self.note, place.width(), note)?;
        Ok(place.top + 2.0 * line)
    }
}
