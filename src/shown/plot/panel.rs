//! The plot itself: axes, ticks and grid, and the way from values to pixels.

use std::ops::Range;

use plotters::chart::{ChartBuilder, ChartContext, LabelAreaPosition};
use plotters::coord::cartesian::Cartesian2d;
use plotters::coord::ranged1d::{KeyPointHint, NoDefaultFormatting, Ranged, ValueFormatter};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, RGBColor, ShapeStyle, TextStyle};

use super::axis::Axis;
use super::page::Page;
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Canvas, ChartError, Colour, Drawn, Pen, Px, Rect, Scale, UNITS_PER_PX,
    face, span_units, text, units,
};

/// Room for the name of the upright axis, above the plot.
const NAME_ROW_PX: f64 = 22.0;

/// Room for tick labels and the name of the level axis, below the plot.
const FOOT_PX: f64 = 44.0;

/// Length of a tick mark; labels stand twice as far off.
const TICK_PX: f64 = 4.0;

/// Least height of a plot.
const LEAST_HEIGHT_PX: f64 = 170.0;

/// Distance between ticks of the upright axis aimed for.
const UPRIGHT_TICK_PX: f64 = 48.0;

/// Free space between two labels of the level axis.
const LABEL_GAP_PX: f64 = 18.0;

/// What an empty plot says.
pub(super) const NO_VALUES: &str = "no values";

/// Whether lines run through the plot at the ticks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Grid {
    Lines,
    Bare,
}

/// Whether an axis ends at round values or at its data.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fit {
    Round,
    Tight,
}

/// What a plot is to hold and the room it has.
pub(super) struct Plan<'p> {
    pub(super) page: &'p Page<'p>,
    pub(super) x: (&'p Axis, Vec<f64>),
    pub(super) y: (&'p Axis, Vec<f64>),
    /// Room for the plot with its axes.
    pub(super) outer: Rect,
    /// Room kept free right of the plot.
    pub(super) right: f64,
    /// Room kept free at the bottom of the plot, under the range of y.
    pub(super) floor: f64,
    pub(super) grid: Grid,
    pub(super) fit: Fit,
}

/// Height a plot needs at the least, axes included, with a floor.
pub(super) fn least_height(floor: f64) -> f64 {
    NAME_ROW_PX + LEAST_HEIGHT_PX + floor + FOOT_PX
}

/// One direction of the plot, for `plotters`: a scale that begins above a floor.
struct Axle {
    scale: Scale,
    floor_units: i32,
}

impl Ranged for Axle {
    type FormatOption = NoDefaultFormatting;
    type ValueType = f64;

    fn map(&self, value: &f64, (start, end): (i32, i32)) -> i32 {
        let start = start - self.floor_units;
        start + units(self.scale.share(*value) * f64::from(end - start) / UNITS_PER_PX)
    }

    fn key_points<Hint: KeyPointHint>(&self, hint: Hint) -> Vec<f64> {
        if hint.weight().allow_light_points() {
            Vec::new()
        } else {
            self.scale.ticks.clone()
        }
    }

    fn range(&self) -> Range<f64> {
        self.scale.low..self.scale.high
    }
}

impl ValueFormatter<f64> for Axle {
    fn format_ext(&self, value: &f64) -> String {
        text::number(*value, self.scale.decimals)
    }
}

/// A plot with its axes.
pub(super) struct Panel<'c> {
    pub(super) plot: Rect,
    /// Where the range of y ends and the floor begins.
    pub(super) base: f64,
    chart: ChartContext<'c, Canvas<'c>, Cartesian2d<Axle, Axle>>,
}

impl<'c> Panel<'c> {
    pub(super) fn new(pen: &Pen<'c>, plan: &Plan<'_>) -> Result<Self, ChartError> {
        let fonts = plan.page.fonts;
        let top = plan.outer.top + NAME_ROW_PX;
        let bottom = plan.outer.bottom - FOOT_PX;
        let y = upright_scale(plan, bottom - plan.floor - top);
        let labels_width = y
            .labels()
            .iter()
            .map(|label| text::width(label, fonts.small))
            .fold(0.0, f64::max);
        let left = plan.outer.left + labels_width + 2.0 * TICK_PX;
        let x = level_scale(plan, left, fonts.small);
        let last_label = x
            .labels()
            .last()
            .map_or(0.0, |label| text::width(label, fonts.small) / 2.0);
        let right = plan.outer.right - plan.right.max(last_label);
        let plot = Rect::new(left, top, right, bottom);

        let size = pen.area.dim_in_pixel();
        let mut chart = ChartBuilder::on(&pen.area)
            .margin_left(units(plan.outer.left))
            .margin_right(units(f64::from(size.0) / UNITS_PER_PX - right) - 1)
            .margin_top(units(top))
            .margin_bottom(units(f64::from(size.1) / UNITS_PER_PX - plan.outer.bottom) - 1)
            .set_label_area_size(
                LabelAreaPosition::Left,
                units(left) - units(plan.outer.left),
            )
            .set_label_area_size(LabelAreaPosition::Bottom, units(FOOT_PX))
            .build_cartesian_2d(
                Axle {
                    scale: x,
                    floor_units: 0,
                },
                Axle {
                    scale: y,
                    floor_units: units(plan.floor),
                },
            )?;
        draw_mesh(&mut chart, plan)?;
        let panel = Self {
            plot,
            base: bottom - plan.floor,
            chart,
        };
        panel.draw_names(pen, plan)?;
        Ok(panel)
    }

    /// Where a pair of values stands in the picture.
    pub(super) fn at(&self, x: f64, y: f64) -> Px {
        let (right, down) = self.chart.backend_coord(&(x, y));
        Px::new(
            f64::from(right) / UNITS_PER_PX,
            f64::from(down) / UNITS_PER_PX,
        )
    }

    /// Says in the middle of the plot that nothing can be shown.
    pub(super) fn draw_emptiness(&self, pen: &Pen<'_>, size: f64) -> Drawn {
        let middle = self.plot.centre();
        let plate = Rect::about(middle, text::width(NO_VALUES, size) + 12.0, size * 1.8);
        pen.fill(&plate, Colour::PAPER)?;
        pen.text(
            middle.shifted(0.0, size * CAP_HEIGHT_EM / 2.0),
            NO_VALUES,
            face(size, Colour::QUIET, Anchor::Middle),
        )
    }

    fn draw_names(&self, pen: &Pen<'_>, plan: &Plan<'_>) -> Drawn {
        let size = plan.page.fonts.small;
        let (x_axis, y_axis) = (plan.x.0, plan.y.0);
        pen.text_within(
            Px::new(plan.outer.left, plan.outer.top + size * CAP_HEIGHT_EM + 1.0),
            &y_axis.title(),
            plan.outer.width(),
            face(size, Colour::INK, Anchor::Start),
        )?;
        let middle = self.plot.centre().x;
        let room = 2.0 * (middle - plan.outer.left).min(plan.outer.right - middle);
        pen.text_within(
            Px::new(middle, plan.outer.bottom - 6.0),
            &x_axis.title(),
            room,
            face(size, Colour::INK, Anchor::Middle),
        )
    }
}

fn upright_scale(plan: &Plan<'_>, length: f64) -> Scale {
    let mut about = 8;
    while about > 2 && length / f64::from(about) < UPRIGHT_TICK_PX {
        about -= 1;
    }
    scale_of(&plan.y, about, plan.fit)
}

fn level_scale(plan: &Plan<'_>, left: f64, size: f64) -> Scale {
    let length = plan.outer.right - plan.right - left;
    let fits = |scale: &Scale| {
        let widest = scale
            .labels()
            .iter()
            .map(|label| text::width(label, size))
            .fold(0.0, f64::max);
        let span = scale.high - scale.low;
        scale.ticks.windows(2).all(|pair| match pair {
            [one, two] => (two - one) / span * length >= widest + LABEL_GAP_PX,
            _ => true,
        })
    };
    (2..=10)
        .rev()
        .map(|about| scale_of(&plan.x, about, plan.fit))
        .find(fits)
        .unwrap_or_else(|| scale_of(&plan.x, 2, plan.fit))
}

fn scale_of((axis, values): &(&Axis, Vec<f64>), about: u32, fit: Fit) -> Scale {
    let about = usize::try_from(about).unwrap_or(2);
    let values = values.iter().chain(&axis.reaches).copied();
    match fit {
        Fit::Round => Scale::over(values, about),
        Fit::Tight => {
            let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |range, value| {
                (range.0.min(value), range.1.max(value))
            });
            Scale::inside(low, high, about)
        }
    }
}

fn draw_mesh<'c>(
    chart: &mut ChartContext<'c, Canvas<'c>, Cartesian2d<Axle, Axle>>,
    plan: &Plan<'_>,
) -> Drawn {
    let small = plan.page.fonts.small;
    let mut mesh = chart.configure_mesh();
    mesh.bold_line_style(stroke(Colour::GRID, 1.0))
        .axis_style(stroke(Colour::AXIS, 1.0))
        .label_style(label_style(small))
        .set_all_tick_mark_size(units(TICK_PX))
        .max_light_lines(0);
    if plan.grid == Grid::Bare {
        mesh.disable_mesh();
    }
    Ok(mesh.draw()?)
}

fn stroke(colour: Colour, width_px: f64) -> ShapeStyle {
    rgb(colour).stroke_width(span_units(width_px))
}

fn rgb(colour: Colour) -> RGBColor {
    RGBColor(colour.red, colour.green, colour.blue)
}

fn label_style(size_px: f64) -> TextStyle<'static> {
    FontDesc::new(
        FontFamily::SansSerif,
        size_px * UNITS_PER_PX,
        FontStyle::Normal,
    )
    .color(&rgb(Colour::QUIET))
}
