//! A machinist's drawing of a flywheel: its half section to scale, cuts hatched, as SVG text.
//!
//! The axis of the crank lies level at the foot, radius grows upward, thickness lies level. The
//! sheet gives how thick the metal is, not where it sits along the axis: the wheel is drawn flush
//! on the clutch side, which the drawing says. Drawn with the pens of the charts, which keeps the
//! same laws: their colours, patterns, widths of words.

mod half_section;
mod labels;
mod legend;
mod metal;
mod paper;
mod shape;
mod sheet;
mod stress;

pub use half_section::{DrawnCut, HalfSection};
pub use sheet::HalfSectionScale;

#[cfg(test)]
pub(super) mod samples;
