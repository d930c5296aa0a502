//! The windows of the series of a line chart: brackets at its foot.

use super::panel::Panel;
use super::series::{Series, series_line};
use crate::shown::pens::{Anchor, Colour, Drawn, Line, Look, Pen, Px, Rect, drawable, face, text};

/// Height of the row that holds one bracket.
const LANE_PX: f64 = 13.0;

/// Height of the ticks that end a bracket.
const BRACKET_PX: f64 = 8.0;

/// The windows of the series, one bracket to a row under the range of y.
pub(super) struct Lanes<'c> {
    windows: Vec<(Look, f64, f64)>,
    name: &'c str,
    size: f64,
}

impl<'c> Lanes<'c> {
    pub(super) fn new(series: &[Series], name: Option<&'c str>, size: f64) -> Self {
        let windows = series
            .iter()
            .filter_map(|series| {
                let (one, two) = series.window?;
                (drawable(one) && drawable(two)).then(|| (series.look, one.min(two), one.max(two)))
            })
            .collect();
        Self {
            windows,
            name: name.unwrap_or_default(),
            size,
        }
    }

    fn name_height(&self) -> f64 {
        if self.name.is_empty() {
            4.0
        } else {
            self.size * 1.5
        }
    }

    pub(super) fn height(&self) -> f64 {
        if self.windows.is_empty() {
            return 0.0;
        }
        let rows = f64::from(u32::try_from(self.windows.len()).unwrap_or(u32::MAX));
        self.name_height() + rows * LANE_PX + 4.0
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, panel: &Panel<'_>) -> Drawn {
        if self.windows.is_empty() {
            return Ok(());
        }
        let name = Px::new(panel.plot.left + 6.0, panel.base + self.size * 1.2);
        let room = panel.plot.width() - 12.0;
        let width = text::width(self.name, self.size).min(room);
        let plate = Rect::new(
            name.x,
            name.y - self.size * 0.9,
            name.x + width,
            name.y + self.size * 0.25,
        );
        pen.fill(&plate, Colour::PAPER)?;
        let face = face(self.size, Colour::QUIET, Anchor::Start);
        pen.text_within(name, self.name, room, face)?;
        let mut middle = panel.base + self.name_height() + LANE_PX / 2.0;
        for (look, low, high) in &self.windows {
            let (left, right) = (panel.at(*low, 0.0).x, panel.at(*high, 0.0).x);
            pen.line(
                &[Px::new(left, middle), Px::new(right, middle)],
                series_line(*look),
            )?;
            for end in [left, right] {
                let tick = Line::solid(look.line(), series_line(*look).width_px);
                pen.line(
                    &[
                        Px::new(end, middle - BRACKET_PX / 2.0),
                        Px::new(end, middle + BRACKET_PX / 2.0),
                    ],
                    tick,
                )?;
            }
            let centre = Px::new(f64::midpoint(left, right), middle);
            pen.glyph(centre, look.glyph(), look.line())?;
            middle += LANE_PX;
        }
        Ok(())
    }
}
