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
//! - [`SpanChart`]: ranges and readings of things one under the other
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

mod axis;
mod bars;
mod cells;
mod grid;
mod key;
mod labels;
mod level;
mod lines;
mod mark;
mod page;
mod panel;
mod points;
mod rule;
mod series;
mod spans;
mod steps;
mod strip;
mod windows;

pub use crate::shown::pens::text::number;
pub use crate::shown::pens::{ChartError, Colour, Glyph, LINE_CONTRAST, Look, TEXT_CONTRAST};
pub use axis::Axis;
pub use bars::{Bar, BarChart, Part};
pub use cells::{CellMap, Contours, Overlay};
pub use lines::LineChart;
pub use mark::{Mark, MarkKind};
pub use page::{Size, Words};
pub use points::{Point, PointChart, Standing};
pub use rule::Rule;
pub use series::{Curve, Series, Spots};
pub use spans::{Span, SpanChart, SpanRow};
pub use steps::Shade;
pub use strip::Strip;

#[cfg(test)]
mod chart_tests;
#[cfg(test)]
mod edge_cases;
#[cfg(test)]
pub(super) mod samples;
