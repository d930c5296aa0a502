//! Stacked bars: how a whole divides, each part labelled where it lies.

use super::key;
use super::page::{Fonts, Page, Size, Words};
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, ChartError, Colour, Drawn, Line, Look, Pen, Px, Rect, Type, Wanted,
    Weight, drawable, face, fill_as, pushed_apart, text,
};

/// Thickness of a bar.
const BAR_PX: f64 = 30.0;

/// Distance between two bars with their labels.
const BAR_GAP_PX: f64 = 20.0;

/// Height of the leader lines from a bar to its labels.
const LEADER_PX: f64 = 12.0;

/// Free space between two labels in a row.
const LABEL_GAP_PX: f64 = 10.0;

/// Line spacing in ems.
const LINE_EM: f64 = 1.3;

/// Row height of listed labels in ems.
const ROW_EM: f64 = 1.7;

/// Columns of listed labels are no narrower than this.
const LEAST_COLUMN_PX: f64 = 165.0;

/// One part of a bar.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: String,
    /// How it is filled.
    pub look: Look,
    /// Its length; what is not above 0 takes no room but keeps its label.
    pub value: f64,
    /// Its value in words, unit included.
    pub value_text: String,
}

/// One bar.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bar {
    /// What it stands for.
    pub name: String,
    /// What is said at its other end, such as the total.
    pub note: String,
    /// Its parts from left to right.
    pub parts: Vec<Part>,
}

/// Level bars to one scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BarChart {
    /// The words about it.
    pub words: Words,
    /// The bars from the top down.
    pub bars: Vec<Bar>,
}

/// How the labels of one bar are set.
enum Labels {
    /// Under their parts, at these centres.
    Under(Vec<f64>),
    /// In so many columns, each with a sample of its part.
    Listed(usize),
}

impl BarChart {
    /// The chart as SVG, as high as its bars and labels need.
    ///
    /// Labels stand under their parts; where they find no room they are listed below the bar.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let fonts = page.fonts;
        let longest = self.bars.iter().map(Bar::total).fold(0.0, f64::max);
        let laid: Vec<(&Bar, Labels, f64)> = self
            .bars
            .iter()
            .map(|bar| {
                let labels = bar.labels(page.body_width(), longest, fonts);
                let height = bar.height(&labels, fonts);
                (bar, labels, height)
            })
            .collect();
        let height: f64 = laid.iter().map(|(_, _, height)| height + BAR_GAP_PX).sum();
        page.draw((height - BAR_GAP_PX).max(0.0) + 4.0, |pen, body| {
            let mut top = body.top;
            for (bar, labels, height) in &laid {
                let rect = Rect::new(body.left, top, body.right, top + height);
                bar.draw(pen, &rect, longest, labels, fonts)?;
                top += height + BAR_GAP_PX;
            }
            Ok(())
        })
    }
}

impl Bar {
    fn total(&self) -> f64 {
        self.parts.iter().map(Part::length).sum()
    }

    /// Left end and right end of each part as shares of the width.
    fn spans(&self, longest: f64) -> Vec<(f64, f64)> {
        let mut from = 0.0;
        self.parts
            .iter()
            .map(|part| {
                let to = from + part.length();
                let span = if longest > 0.0 {
                    (from / longest, to / longest)
                } else {
                    (0.0, 0.0)
                };
                from = to;
                span
            })
            .collect()
    }

    fn labels(&self, width: f64, longest: f64, fonts: Fonts) -> Labels {
        let wanted: Vec<Wanted> = self
            .parts
            .iter()
            .zip(self.spans(longest))
            .map(|(part, (from, to))| Wanted {
                centre: f64::midpoint(from, to) * width,
                length: part.label_width(fonts.small) + LABEL_GAP_PX,
            })
            .collect();
        let half_gap = LABEL_GAP_PX / 2.0;
        pushed_apart(&wanted, -half_gap, width + half_gap).map_or_else(
            || {
                let widest = self
                    .parts
                    .iter()
                    .map(|part| part.listed_width(fonts.small))
                    .fold(LEAST_COLUMN_PX, f64::max);
                let columns = (1..=self.parts.len())
                    .rev()
                    .find(|columns| {
                        let columns = f64::from(u32::try_from(*columns).unwrap_or(u32::MAX));
                        columns * widest + (columns - 1.0) * 2.0 * LABEL_GAP_PX <= width
                    })
                    .unwrap_or(1);
                Labels::Listed(columns)
            },
            Labels::Under,
        )
    }

    fn head_height(&self, fonts: Fonts) -> f64 {
        if self.name.is_empty() && self.note.is_empty() {
            0.0
        } else {
            fonts.body * 1.6
        }
    }

    fn height(&self, labels: &Labels, fonts: Fonts) -> f64 {
        let below = match labels {
            Labels::Under(centres) if centres.is_empty() => 0.0,
            Labels::Under(_) => LEADER_PX + 2.0 * fonts.small * LINE_EM,
            Labels::Listed(columns) => {
                let rows = self.parts.len().div_ceil((*columns).max(1));
                let rows = f64::from(u32::try_from(rows).unwrap_or(u32::MAX));
                6.0 + rows * fonts.small * ROW_EM
            }
        };
        self.head_height(fonts) + BAR_PX + below
    }

    fn draw(
        &self,
        pen: &Pen<'_>,
        rect: &Rect,
        longest: f64,
        labels: &Labels,
        fonts: Fonts,
    ) -> Drawn {
        self.draw_head(pen, rect, fonts)?;
        let top = rect.top + self.head_height(fonts);
        let bottom = top + BAR_PX;
        let spans: Vec<Rect> = self
            .spans(longest)
            .into_iter()
            .map(|(from, to)| {
                let at = |share: f64| rect.left + share * rect.width();
                Rect::new(at(from), top, at(to), bottom)
            })
            .collect();
        for (part, span) in self.parts.iter().zip(&spans) {
            if part.length() > 0.0 {
                fill_as(pen, span, part.look)?;
                pen.outline(span, part.look.line())?;
            }
        }
        match labels {
            Labels::Under(centres) => {
                for ((part, span), centre) in self.parts.iter().zip(&spans).zip(centres) {
                    let end = Px::new(rect.left + centre, bottom + LEADER_PX);
                    part.draw_under(pen, span, end, fonts)?;
                }
                Ok(())
            }
            Labels::Listed(columns) => {
                let below = Rect::new(rect.left, bottom + 6.0, rect.right, rect.bottom);
                self.draw_list(pen, &below, *columns, fonts)
            }
        }
    }

    fn draw_head(&self, pen: &Pen<'_>, rect: &Rect, fonts: Fonts) -> Drawn {
        let size = fonts.body;
        let baseline = rect.top + size;
        let note_width = text::width(&self.note, size).min(rect.width() / 2.0);
        let name = Type {
            weight: Weight::Bold,
            ..face(size, Colour::INK, Anchor::Start)
        };
        let room = rect.width() - note_width - LABEL_GAP_PX;
        pen.text_within(Px::new(rect.left, baseline), &self.name, room, name)?;
        pen.text_within(
            Px::new(rect.right, baseline),
            &self.note,
            note_width + 0.5,
            face(size, Colour::QUIET, Anchor::End),
        )
    }

    fn draw_list(&self, pen: &Pen<'_>, rect: &Rect, columns: usize, fonts: Fonts) -> Drawn {
        let size = fonts.small;
        let count = f64::from(u32::try_from(columns).unwrap_or(1));
        let width = (rect.width() - (count - 1.0) * 2.0 * LABEL_GAP_PX) / count;
        let rows = self.parts.len().div_ceil(columns.max(1)).max(1);
        let mut left = rect.left;
        for column in self.parts.chunks(rows) {
            let mut middle = rect.top + size * ROW_EM / 2.0;
            for part in column {
                key::Sample::Area(part.look).draw(pen, Px::new(left, middle))?;
                let baseline = middle + size * CAP_HEIGHT_EM / 2.0;
                let value_width = text::width(&part.value_text, size).min(width / 2.0);
                pen.text_within(
                    Px::new(left + key::SWATCH_ROOM_PX, baseline),
                    &part.name,
                    width - key::SWATCH_ROOM_PX - value_width - LABEL_GAP_PX / 2.0,
                    face(size, part.look.text(), Anchor::Start),
                )?;
                pen.text_within(
                    Px::new(left + width, baseline),
                    &part.value_text,
                    value_width + 0.5,
                    face(size, Colour::INK, Anchor::End),
                )?;
                middle += size * ROW_EM;
            }
            left += width + 2.0 * LABEL_GAP_PX;
        }
        Ok(())
    }
}

impl Part {
    fn length(&self) -> f64 {
        if drawable(self.value) {
            self.value.max(0.0)
        } else {
            0.0
        }
    }

    fn label_width(&self, size: f64) -> f64 {
        text::width(&self.name, size).max(text::width(&self.value_text, size))
    }

    fn listed_width(&self, size: f64) -> f64 {
        let words = text::width(&self.name, size) + text::width(&self.value_text, size);
        key::SWATCH_ROOM_PX + words + LABEL_GAP_PX
    }

    fn draw_under(&self, pen: &Pen<'_>, span: &Rect, end: Px, fonts: Fonts) -> Drawn {
        let size = fonts.small;
        let start = Px::new(span.centre().x, span.bottom + 1.0);
        let leader = Line::solid(self.look.line(), 1.0);
        pen.line(&[start, end.shifted(0.0, -1.0)], leader)?;
        let name = face(size, self.look.text(), Anchor::Middle);
        let value = face(size, Colour::INK, Anchor::Middle);
        let baseline = size * f64::midpoint(LINE_EM, CAP_HEIGHT_EM);
        pen.text(end.shifted(0.0, baseline), &self.name, name)?;
        pen.text(
            end.shifted(0.0, baseline + size * LINE_EM),
            &self.value_text,
            value,
        )
    }
}
