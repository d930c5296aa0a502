//! A machinist's drawing of a flywheel: its half section to scale, cuts hatched, as SVG text.
//!
//! The axis of the crank lies level at the foot, radius grows upward, thickness lies level. The
//! sheet gives how thick the metal is, not where it sits along the axis: the wheel is drawn flush
//! on the clutch side, which the drawing says. Written by hand rather than with the chart
//! library, which knows axes but no sections. Colours are those of the charts.

mod dimensions;
mod labels;
mod metal;
mod paper;
mod pencil;
mod shape;
mod sheet;
mod stress;

pub use sheet::{DrawnCut, HalfSection};
