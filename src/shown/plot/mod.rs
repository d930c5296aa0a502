//! Every chart of the tool, as SVG text.
//!
//! A chart is plain data: numbers already in the units shown, words as text. Each kind turns
//! itself into one SVG with `svg(size)`; nothing here knows a car or a launch, reads a file or
//! needs a font. The same data give the same bytes.
//!
//! - [`LineChart`]: series over a common axis, with windows, marks and reference lines
//! - [`PointChart`]: one point each, the unbeaten ones joined
//! - [`CellMap`]: a value over two axes in steps of colour
//! - [`BarChart`]: stacked bars, labelled at their parts
//! - [`Strip`]: one scale with a window, an aim and a best
//!
//! Every picture carries `role="img"`, a title and a text alternative, no script and no reference
//! to anything outside it. Colours come from the closed list of [`Colour`]; series differ by dash
//! and glyph as well. A value that is not finite, or beyond 10¹² in size, counts as missing.
//!
//! # Example
//!
//! ```
//! use flyheft::shown::plot::{Axis, LineChart, Look, Series, Size, Words};
//!
//! let words = Words {
//!     title: "Sixty-foot time against launch speed".into(),
//!     description: "Time falls to 1.92 s at 5200 rpm, then rises; at 3000 rpm it stalls.".into(),
//!     caption: Some("Invented data.".into()),
//!     ..Words::default()
//! };
//! let curve = vec![(3000.0, None), (4200.0, Some(1.97)), (5200.0, Some(1.92)), (6400.0, Some(1.96))];
//! let chart = LineChart::new(
//!     words,
//!     Axis::new("Launch speed", "rpm"),
//!     Axis::new("60 ft time", "s"),
//!     vec![Series::new("as supplied", Look::nth(0), curve)],
//! );
//! assert!(chart.svg(Size::WIDE)?.starts_with("<svg"));
//! # Ok::<(), flyheft::shown::plot::ChartError>(())
//! ```

mod bars;
mod canvas;
mod cell_parts;
mod cells;
mod hatch;
mod key;
mod labels;
mod line_parts;
mod lines;
mod page;
mod palette;
mod panel;
mod pen;
mod place;
mod points;
mod strip;
mod text;
mod ticks;

pub use bars::{Bar, BarChart, Part};
pub use cells::{CellMap, Contours, Overlay, Shade};
pub use lines::{Curve, LineChart, Mark, MarkKind, Rule, Series, Spots};
pub use palette::{Colour, Glyph, LINE_CONTRAST, Look, TEXT_CONTRAST};
pub use points::{Point, PointChart, Standing};
pub use strip::Strip;
pub use text::number;

/// The words about a chart.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Words {
    /// What is shown, in one line.
    pub title: String,
    /// A second line: the car, the day, what was held fixed.
    pub subtitle: Option<String>,
    /// A line at the foot: invented data, cautions.
    pub caption: Option<String>,
    /// The chart in words, for those who do not see it.
    pub description: String,
}

/// An axis: what it shows, its unit, and values it must reach.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Axis {
    /// What is shown, without its unit.
    pub label: String,
    /// Unit symbol; empty for a bare number.
    pub unit: String,
    /// Values the axis reaches whatever the data, such as 0.
    pub reaches: Vec<f64>,
}

impl Axis {
    /// An axis that fits its data.
    pub fn new(label: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            label: label.into(),
            unit: unit.into(),
            reaches: Vec::new(),
        }
    }

    /// The same axis, made to reach a value as well.
    #[must_use]
    pub fn reaching(mut self, value: f64) -> Self {
        self.reaches.push(value);
        self
    }

    fn title(&self) -> String {
        match (self.label.as_str(), self.unit.as_str()) {
            (label, "") => label.to_owned(),
            ("", unit) => unit.to_owned(),
            (label, unit) => format!("{label} ({unit})"),
        }
    }
}

/// The size of a picture in pixels.
///
/// The width is kept. The height is a wish: a picture grows downward where its words need it, and
/// bars and strips are as high as what they hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    width_px: u32,
    height_px: u32,
}

impl Size {
    /// For a page or a slide.
    pub const WIDE: Self = Self {
        width_px: 960,
        height_px: 600,
    };
    /// For a column of text.
    pub const COLUMN: Self = Self {
        width_px: 640,
        height_px: 440,
    };
    /// For a phone held upright.
    pub const PHONE: Self = Self {
        width_px: 360,
        height_px: 420,
    };

    /// A size of its own, brought within 280 to 4000 wide and 100 to 4000 high.
    pub fn new(width_px: u32, height_px: u32) -> Self {
        Self {
            width_px: width_px.clamp(280, 4000),
            height_px: height_px.clamp(100, 4000),
        }
    }

    fn width(self) -> f64 {
        f64::from(self.width_px)
    }

    fn height(self) -> f64 {
        f64::from(self.height_px)
    }
}

/// Why a chart could not be drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChartError {
    /// The drawing library gave up. Writing to memory does not fail, so this is a fault in here.
    #[error("the chart could not be drawn: {reason}")]
    Drawing {
        /// What the library said.
        reason: String,
    },
}

impl<E: std::error::Error + Send + Sync> From<plotters::drawing::DrawingAreaErrorKind<E>>
    for ChartError
{
    fn from(error: plotters::drawing::DrawingAreaErrorKind<E>) -> Self {
        Self::Drawing {
            reason: error.to_string(),
        }
    }
}

#[cfg(test)]
mod chart_tests;
#[cfg(test)]
mod edge_cases;
#[cfg(test)]
mod samples;
