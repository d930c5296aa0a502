//! A whole picture: the SVG around what is drawn, with its words for those who do not see it.

use std::fmt::Write as _;

use plotters::drawing::IntoDrawingArea;

use super::canvas::{Canvas, units};
use super::palette::Colour;
use super::pen::{ChartError, Drawn, Pen};
use super::text::escaped;

/// Nothing in a picture is set smaller than this: what a phone still shows well.
pub(crate) const LEAST_TEXT_PX: f64 = 12.0;

/// The frame of a picture: its size in pixels, its title, and the picture in words.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Picture<'w> {
    pub(crate) size_px: (f64, f64),
    pub(crate) title: &'w str,
    pub(crate) description: &'w str,
}

impl Picture<'_> {
    /// The picture as SVG, with what `body` draws on its paper.
    pub(crate) fn svg(&self, body: impl FnOnce(&Pen<'_>) -> Drawn) -> Result<String, ChartError> {
        let (width, height) = self.size_px;
        let mut out = String::new();
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" \
             height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
             fill=\"none\" stroke-linejoin=\"round\">\n\
             <title>{}</title>\n<desc>{}</desc>\n\
             <path d=\"M0 0H{width}V{height}H0z\" fill=\"{}\"/>\n",
            escaped(self.title),
            escaped(self.description),
            Colour::PAPER
        );
        let canvas = Canvas::new(&mut out, (span_units(width), span_units(height)));
        body(&Pen {
            area: canvas.into_drawing_area(),
        })?;
        out.push_str("</svg>\n");
        Ok(out)
    }
}

/// Backend units of a length, for sizes that `plotters` takes as `u32`.
pub(crate) fn span_units(length_px: f64) -> u32 {
    u32::try_from(units(length_px.max(0.0))).unwrap_or(u32::MAX)
}
