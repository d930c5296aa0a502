//! The strip: one scale with a window, the aim and the quickest on it.

use super::axis::Axis;
use super::key::{Entry, Key, Sample};
use super::level::{LABEL_GAP_PX, draw_tick, level_scale};
use super::mark::{Mark, MarkKind, draw_mark};
use super::page::{Page, Size, Words};
use crate::shown::pens::{
    Anchor, ChartError, Colour, Drawn, Line, Look, Paint, Pen, Px, Rect, Scale, Wanted, drawable,
    face, pushed_apart, text,
};

/// Thickness of the track the window lies on.
const TRACK_PX: f64 = 26.0;

/// How far a tick reaches out of the track.
const REACH_PX: f64 = 7.0;

/// Height of the leader lines between marks and labels.
const LEADER_PX: f64 = 14.0;

/// One scale with a window and marks.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// The words about it.
    pub words: Words,
    /// The scale.
    pub axis: Axis,
    /// How window and marks are drawn.
    pub look: Look,
    /// The window, if there is one.
    pub window: Option<(f64, f64)>,
    /// What the window stands for.
    pub window_name: String,
    /// The marks on the scale; their `y` counts for nothing.
    pub marks: Vec<Mark>,
}

/// Where a value stands on the strip.
struct Track {
    scale: Scale,
    rect: Rect,
}

impl Track {
    fn at(&self, value: f64) -> f64 {
        self.rect.left + self.scale.share(value) * self.rect.width()
    }
}

impl Strip {
    /// The strip as SVG, as high as it needs.
    ///
    /// Marks are labelled above the scale; labels too wide to stand side by side move to a key.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let fonts = page.fonts;
        let scale = self.scale(page.body_width(), fonts.small);
        let inset = scale
            .labels()
            .iter()
            .map(|label| text::width(label, fonts.small) / 2.0)
            .fold(0.0, f64::max);
        let track = |left: f64, right: f64, top: f64| Track {
            scale: scale.clone(),
            rect: Rect::new(left + inset, top, right - inset, top + TRACK_PX),
        };
        let side_by_side = self.centres(
            &track(0.0, page.body_width(), 0.0),
            page.body_width(),
            fonts.body,
        );
        let entries = self.entries(side_by_side.is_none());
        let key = Key::new(&entries, page.body_width(), fonts);
        let labels = match &side_by_side {
            Some(centres) if !centres.is_empty() => fonts.body + LEADER_PX,
            _ => 0.0,
        };
        let above = key.height() + labels + REACH_PX + 6.0;
        let below = REACH_PX + fonts.small * 3.1;
        page.draw(above + TRACK_PX + below, |pen, body| {
            key.draw(pen, Px::new(body.left, body.top))?;
            let track = track(body.left, body.right, body.top + above);
            draw_scale(pen, &track, fonts.small)?;
            self.draw_window(pen, &track)?;
            if let Some(centres) = &side_by_side {
                let baseline = body.top + key.height() + fonts.body;
                self.draw_labels(pen, &track, (body.left, baseline), centres, fonts.body)?;
            }
            self.draw_marks(pen, &track)?;
            pen.text_within(
                Px::new(body.centre().x, body.bottom - 2.0),
                &self.axis.title(),
                body.width(),
                face(fonts.small, Colour::INK, Anchor::Middle),
            )
        })
    }

    fn entries(&self, with_marks: bool) -> Vec<Entry> {
        let window = self
            .window
            .iter()
            .filter(|_| !self.window_name.is_empty())
            .map(|_| Entry::new(Sample::Tint(self.look), self.window_name.as_str()));
        let marks = self
            .drawn()
            .filter(|mark| with_marks && !mark.label.is_empty())
            .map(|mark| {
                let sample = Sample::Mark(mark.kind, self.look);
                Entry::new(sample, mark.label.as_str())
            });
        window.chain(marks).collect()
    }

    fn drawn(&self) -> impl Iterator<Item = &Mark> {
        self.marks.iter().filter(|mark| drawable(mark.x))
    }

    fn scale(&self, width: f64, size: f64) -> Scale {
        let window = self.window.iter().flat_map(|(low, high)| [*low, *high]);
        let values: Vec<f64> = window
            .chain(self.drawn().map(|mark| mark.x))
            .chain(self.axis.reaches.iter().copied())
            .collect();
        level_scale(values, width, size)
    }

    /// Centres of the labels side by side, if that can be.
    fn centres(&self, track: &Track, width: f64, size: f64) -> Option<Vec<f64>> {
        let wanted: Vec<Wanted> = self
            .drawn()
            .map(|mark| Wanted {
                centre: track.at(mark.x),
                length: text::width(&mark.label, size) + LABEL_GAP_PX,
            })
            .collect();
        pushed_apart(&wanted, -LABEL_GAP_PX / 2.0, width + LABEL_GAP_PX / 2.0)
    }

    fn draw_window(&self, pen: &Pen<'_>, track: &Track) -> Drawn {
        let Some((one, two)) = self.window else {
            return Ok(());
        };
        if !drawable(one) || !drawable(two) {
            return Ok(());
        }
        let (from, to) = (track.at(one.min(two)), track.at(one.max(two)));
        let bar = Rect::new(from, track.rect.top + 4.0, to, track.rect.bottom - 4.0);
        let paint = Paint {
            fill: Some(self.look.tint()),
            line: Some(Line::solid(self.look.line(), 1.4)),
        };
        pen.rect(&bar, paint)
    }

    fn draw_labels(
        &self,
        pen: &Pen<'_>,
        track: &Track,
        (left, baseline): (f64, f64),
        centres: &[f64],
        size: f64,
    ) -> Drawn {
        for (mark, centre) in self.drawn().zip(centres) {
            let at = Px::new(left + centre, baseline);
            let top = Px::new(track.at(mark.x), track.rect.top - REACH_PX);
            let leader = Line::solid(self.look.line(), 1.0);
            pen.line(&[at.shifted(0.0, 4.0), top], leader)?;
            let face = face(size, self.look.text(), Anchor::Middle);
            pen.text(at, &mark.label, face)?;
        }
        Ok(())
    }

    /// The aim's sign lies on the track, the others' above it: they may stand close together.
    fn draw_marks(&self, pen: &Pen<'_>, track: &Track) -> Drawn {
        for mark in self.drawn() {
            let x = track.at(mark.x);
            let top = Px::new(x, track.rect.top - REACH_PX);
            let (width, sign) = match mark.kind {
                MarkKind::Aim => (3.0, track.rect.centre().y),
                MarkKind::Quickest | MarkKind::Plain => (1.6, top.y),
            };
            let tick = Line::solid(self.look.line(), width);
            pen.line(&[top, Px::new(x, track.rect.bottom)], tick)?;
            draw_mark(pen, Px::new(x, sign), mark.kind, self.look)?;
        }
        Ok(())
    }
}

fn draw_scale(pen: &Pen<'_>, track: &Track, size: f64) -> Drawn {
    let rect = &track.rect;
    pen.fill(rect, Colour::WASH)?;
    let axis = Line::solid(Colour::AXIS, 1.0);
    pen.line(
        &[
            Px::new(rect.left, rect.bottom),
            Px::new(rect.right, rect.bottom),
        ],
        axis,
    )?;
    for (tick, label) in track.scale.ticks.iter().zip(track.scale.labels()) {
        let foot = Px::new(track.at(*tick), rect.bottom);
        draw_tick(pen, foot, &label, (size, axis))?;
    }
    Ok(())
}
