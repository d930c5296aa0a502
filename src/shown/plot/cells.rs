//! Cell maps: a value over two axes in steps of colour, with lines drawn over them.

use super::axis::Axis;
use super::grid::{Cells, draw_cells, draw_contour_labels, draw_marks};
use super::key::{Entry, Key, Sample};
use super::page::{Page, Size, Words};
use super::panel::{Fit, Grid, Panel, Plan, least_height};
use super::series::{Curve, runs, sampled};
use super::steps::{Classes, Legend, Shade};
use crate::shown::pens::{ChartError, Colour, Drawn, Line, Pen, Px, Rect, Room};

/// Width of a line drawn over the cells, and of the dark edge it lies on: light on dark cells,
/// edged on light ones.
const OVERLAY_PX: (f64, f64) = (2.6, 5.0);

/// Gap between the legend of colours and the key beside it.
const BESIDE_PX: f64 = 40.0;

/// Dashes of lines drawn over the cells, in line widths.
const OVERLAY_DASHES: [&[f64]; 3] = [&[], &[4.0, 2.0], &[1.2, 1.8]];

/// Whether the borders between steps carry their limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Contours {
    /// The key alone gives the limits.
    #[default]
    None,
    /// Each border carries its limit once, where it finds room.
    Labelled,
}

/// A line drawn over the cells, such as the aim.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// What it shows.
    pub name: String,
    /// Its points.
    pub points: Curve,
}

/// A value over two axes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CellMap {
    /// The words about it.
    pub words: Words,
    /// The level axis.
    pub x: Axis,
    /// The upright axis.
    pub y: Axis,
    /// What the colours show.
    pub z: Axis,
    /// Middles of the columns, rising.
    pub columns: Vec<f64>,
    /// Middles of the rows, rising.
    pub rows: Vec<f64>,
    /// The values, one list to a row in the order of `rows`; missing ones are hatched.
    pub values: Vec<Vec<Option<f64>>>,
    /// What a missing value means.
    pub missing_name: String,
    /// A short mark in the middle of each cell, in the order of `values`; none where it is empty.
    pub marks: Vec<Vec<String>>,
    /// Which end is dark.
    pub shade: Shade,
    /// Whether borders carry their limit.
    pub contours: Contours,
    /// Lines over the cells.
    pub overlays: Vec<Overlay>,
}

impl CellMap {
    /// The map as SVG.
    ///
    /// Rows and columns that do not rise, or are not finite, are left out with their values.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let drawn = Cells::of(&self.columns, &self.rows, &self.values);
        let classes = Classes::of(drawn.values.iter().flatten().filter_map(|z| *z), self.shade);
        let legend = Legend::new(&self.z, &classes, page.body_width(), page.fonts);
        let entries = self.entries(&drawn);
        let key = Key::new(&entries, page.body_width(), page.fonts);
        // Beside the legend if there is room, else below it.
        let beside = legend.width() + BESIDE_PX;
        let (key_at, head) = if beside + key.width() <= page.body_width() {
            let down = legend.middle() - key.row_middle();
            ((beside, down), legend.height())
        } else {
            ((0.0, legend.height()), legend.height() + key.height())
        };
        let height = page.body_height().max(head + least_height(0.0));
        page.draw(height, |pen, body| {
            legend.draw(pen, Px::new(body.left, body.top))?;
            key.draw(pen, Px::new(body.left + key_at.0, body.top + key_at.1))?;
            let plan = Plan {
                page: &page,
                x: (&self.x, drawn.column_edges.clone()),
                y: (&self.y, drawn.row_edges.clone()),
                outer: Rect::new(body.left, body.top + head, body.right, body.bottom),
                right: 0.0,
                floor: 0.0,
                grid: Grid::Bare,
                fit: Fit::Tight,
            };
            let panel = Panel::new(pen, &plan)?;
            if drawn.values.iter().all(Vec::is_empty) {
                return panel.draw_emptiness(pen, page.fonts.body);
            }
            draw_cells(pen, &panel, &drawn, &classes)?;
            let mut room = Room::new(panel.plot);
            self.draw_overlays(pen, &panel, &drawn, &mut room)?;
            draw_marks(pen, &panel, &drawn, &self.marks, page.fonts.small)?;
            if self.contours == Contours::Labelled {
                draw_contour_labels(pen, &panel, &drawn, &classes, &mut room, page.fonts.small)?;
            }
            Ok(())
        })
    }

    fn entries(&self, drawn: &Cells) -> Vec<Entry> {
        let any_missing = drawn.values.iter().flatten().any(Option::is_none);
        let missing = (any_missing && !self.missing_name.is_empty())
            .then(|| Entry::new(Sample::Missing, self.missing_name.as_str()));
        let lines = self
            .overlays
            .iter()
            .zip(OVERLAY_DASHES.iter().cycle())
            .filter(|(overlay, _)| !overlay.name.is_empty())
            .map(|(overlay, dash)| {
                let lines = (overlay_edge(), overlay_line(dash));
                Entry::new(Sample::Edged(lines.0, lines.1), overlay.name.as_str())
            });
        lines.chain(missing).collect()
    }

    fn draw_overlays(
        &self,
        pen: &Pen<'_>,
        panel: &Panel<'_>,
        drawn: &Cells,
        room: &mut Room,
    ) -> Drawn {
        for (overlay, dash) in self.overlays.iter().zip(OVERLAY_DASHES.iter().cycle()) {
            let inside: Curve = overlay
                .points
                .iter()
                .map(|(x, y)| (*x, y.filter(|y| drawn.holds(*x, *y))))
                .collect();
            let runs = runs(panel, &inside);
            for run in &runs {
                pen.line(run, overlay_edge())?;
                room.avoid(sampled(run));
            }
            for run in &runs {
                pen.line(run, overlay_line(dash))?;
            }
        }
        Ok(())
    }
}

fn overlay_edge() -> Line {
    Line::solid(Colour::INK, OVERLAY_PX.1)
}

fn overlay_line(dash: &'static [f64]) -> Line {
    Line {
        colour: Colour::PAPER,
        width_px: OVERLAY_PX.0,
        dash,
    }
}
