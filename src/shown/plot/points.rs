//! Point charts: one point to a thing, such as mean against spread, the unbeaten ones joined.

use super::axis::Axis;
use super::key::{Entry, Key, Sample};
use super::labels::{Labels, Wish};
use super::page::{Form, Page, Size, Words};
use super::panel::{Fit, Grid, Panel, Plan, least_height};
use super::series::sampled;
use crate::shown::pens::{
    ChartError, Colour, Drawn, GLYPH_REACH_PX, Glyph, Line, Look, Pen, Px, Rect, Room, drawable,
};

/// On a phone more points than this are named in a key.
const MOST_PHONE_LABELS: usize = 5;

/// No name beside its point takes more than this share of the plot.
const LABEL_SHARE: f64 = 0.4;

/// Share of the range left free at each end, so that no point sits on the frame.
const MARGIN_SHARE: f64 = 0.03;

/// Half the size of a point.
const POINT_REACH_PX: f64 = GLYPH_REACH_PX + 1.6;

/// The line that joins the unbeaten.
const FRONTIER: Line = Line {
    colour: Colour::AXIS,
    width_px: 1.4,
    dash: &[1.2, 2.4],
};

/// Whether another point is better in both directions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Standing {
    /// No other point is as good in one and better in the other.
    Unbeaten,
    /// Some other point is; drawn hollow.
    Dominated,
}

/// One named point.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Its name.
    pub name: String,
    /// How it is drawn.
    pub look: Look,
    /// Its x.
    pub x: f64,
    /// Its y.
    pub y: f64,
    /// Whether it is beaten.
    pub standing: Standing,
}

/// Points over two axes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PointChart {
    /// The words about it.
    pub words: Words,
    /// The level axis.
    pub x: Axis,
    /// The upright axis.
    pub y: Axis,
    /// The points.
    pub points: Vec<Point>,
    /// What the line through the unbeaten points stands for; without it none is drawn.
    pub frontier_name: Option<String>,
    /// What it means to be beaten; explains the hollow points.
    pub beaten_name: Option<String>,
}

impl PointChart {
    /// The chart as SVG.
    ///
    /// # Errors
    ///
    /// [`ChartError`] if the drawing library fails; no data do that.
    pub fn svg(&self, size: Size) -> Result<String, ChartError> {
        let page = Page::new(&self.words, size);
        let in_key = page.form == Form::Phone && self.drawn().count() > MOST_PHONE_LABELS;
        let entries = self.entries(in_key);
        let key = Key::new(&entries, page.body_width(), page.fonts);
        let least = key.height() + least_height(0.0);
        page.draw(page.body_height().max(least), |pen, body| {
            key.draw(pen, Px::new(body.left, body.top))?;
            let plan = Plan {
                page: &page,
                x: (&self.x, with_margin(self.drawn().map(|point| point.x))),
                y: (&self.y, with_margin(self.drawn().map(|point| point.y))),
                outer: Rect::new(body.left, body.top + key.height(), body.right, body.bottom),
                right: 0.0,
                floor: 0.0,
                grid: Grid::Lines,
                fit: Fit::Round,
            };
            let panel = Panel::new(pen, &plan)?;
            if self.drawn().next().is_none() {
                return panel.draw_emptiness(pen, page.fonts.body);
            }
            let frontier = self.frontier(&panel);
            if self.frontier_name.is_some() {
                pen.line(&frontier, FRONTIER)?;
            }
            if !in_key {
                self.draw_names(pen, &panel, &frontier, page.fonts.small)?;
            }
            self.drawn().try_for_each(|point| {
                let at = panel.at(point.x, point.y);
                pen.glyph_sized(at, glyph_of(point), point.look.line(), POINT_REACH_PX)
            })
        })
    }

    fn drawn(&self) -> impl Iterator<Item = &Point> {
        self.points
            .iter()
            .filter(|point| drawable(point.x) && drawable(point.y))
    }

    fn entries(&self, with_points: bool) -> Vec<Entry> {
        let points = self
            .drawn()
            .filter(|point| with_points && !point.name.is_empty())
            .map(|point| {
                let sample = Sample::Glyph(glyph_of(point), point.look);
                Entry::new(sample, point.name.as_str())
            });
        let frontier = self
            .frontier_name
            .iter()
            .map(|name| Entry::new(Sample::Line(FRONTIER), name.as_str()));
        let any_beaten = self
            .drawn()
            .any(|point| point.standing == Standing::Dominated);
        let dominated = self
            .beaten_name
            .iter()
            .filter(|_| any_beaten)
            .map(|name| Entry::new(Sample::Hollow, name.as_str()));
        points.chain(frontier).chain(dominated).collect()
    }

    /// The unbeaten points from left to right.
    fn frontier(&self, panel: &Panel<'_>) -> Vec<Px> {
        let mut unbeaten: Vec<Px> = self
            .drawn()
            .filter(|point| point.standing == Standing::Unbeaten)
            .map(|point| panel.at(point.x, point.y))
            .collect();
        unbeaten.sort_by(|one, two| one.x.total_cmp(&two.x).then(one.y.total_cmp(&two.y)));
        unbeaten
    }

    fn draw_names(&self, pen: &Pen<'_>, panel: &Panel<'_>, frontier: &[Px], size: f64) -> Drawn {
        let mut room = Room::new(panel.plot);
        room.avoid(sampled(frontier));
        for point in self.drawn() {
            let side = 2.0 * POINT_REACH_PX;
            room.take(Rect::about(panel.at(point.x, point.y), side, side));
        }
        let mut labels = Labels::default();
        for point in self.drawn() {
            let wish = Wish {
                text: &point.name,
                size,
                colour: point.look.text(),
                widest: panel.plot.width() * LABEL_SHARE,
            };
            let at = panel.at(point.x, point.y);
            labels.near(&mut room, at, point.look.line(), wish);
        }
        labels.draw(pen)
    }
}

/// The values with their range widened at both ends; a range from 0 up is not led below 0.
fn with_margin(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.collect();
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let margin = (high - low) * MARGIN_SHARE;
    let least = if low >= 0.0 {
        (low - margin).max(0.0)
    } else {
        low - margin
    };
    values.extend([least, high + margin]);
    values
}

fn glyph_of(point: &Point) -> Glyph {
    match point.standing {
        Standing::Unbeaten => point.look.glyph().filled(),
        Standing::Dominated => point.look.glyph().hollow(),
    }
}
