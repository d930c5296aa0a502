//! The drawing room: what charts and the machinist's drawing are both drawn with.
//!
//! A picture is drawn with a [`Pen`] in pixels, through the backend of `plotters` that writes the
//! SVG promised here: no script, no name and no reference, so that any number of pictures can
//! stand on one page; colours from the closed list of [`Colour`]; a title and a text alternative.
//! Words fit the room they have, areas are told apart by pattern as well as colour.

mod canvas;
mod hatch;
mod palette;
mod pen;
mod picture;
mod place;
mod scale;
pub(crate) mod text;

pub(crate) use canvas::{
    Anchor, CAP_HEIGHT_EM, Canvas, Line, Paint, Type, UNITS_PER_PX, Weight, units,
};
pub(crate) use hatch::{Pattern, area_as, fill_as, fill_missing, hatched, looks_unlike};
pub use palette::{Colour, Glyph, LINE_CONTRAST, Look, TEXT_CONTRAST};
pub use pen::ChartError;
pub(crate) use pen::{Drawn, GLYPH_REACH_PX, Pen, face};
pub(crate) use picture::{LEAST_TEXT_PX, Picture, span_units};
pub(crate) use place::{Px, Rect, Room, Wanted, pushed_apart};
pub(crate) use scale::{Scale, drawable};
