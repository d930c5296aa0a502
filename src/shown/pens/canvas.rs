//! A drawing backend for `plotters` that writes the SVG this module promises.
//!
//! The backend that comes with `plotters` rounds to whole pixels and knows neither dashes nor text
//! alternatives. This one takes the same calls, counts in hundredths of a pixel, and adds what the
//! elements of [`super::pen`] need.

use std::convert::Infallible;
use std::fmt::Write as _;

use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    text_anchor::{HPos, VPos},
};

use super::palette::Colour;
use super::text::escaped;

/// Backend units to a pixel: coordinates keep two decimals.
pub(crate) const UNITS_PER_PX: f64 = 100.0;

/// Height of digits and capitals as a share of the font size.
pub(crate) const CAP_HEIGHT_EM: f64 = 0.72;

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

/// How a line is drawn; lengths in pixels.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Line {
    pub(crate) colour: Colour,
    pub(crate) width_px: f64,
    /// Dash and gap lengths in line widths; empty for a solid line.
    pub(crate) dash: &'static [f64],
}

impl Line {
    pub(crate) const fn solid(colour: Colour, width_px: f64) -> Self {
        Self {
            colour,
            width_px,
            dash: &[],
        }
    }
}

/// Where text stands from its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// How text is set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Type {
    pub(crate) size_px: f64,
    pub(crate) colour: Colour,
    pub(crate) anchor: Anchor,
    pub(crate) weight: Weight,
}

/// How heavy text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    Plain,
    Bold,
}

/// The outline of an area: filled, stroked or both.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Paint {
    pub(crate) fill: Option<Colour>,
    pub(crate) line: Option<Line>,
}

/// Whether a path returns to its start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ends {
    Open,
    Closed,
}

/// An SVG document under way.
pub(crate) struct Canvas<'a> {
    out: &'a mut String,
    size: (u32, u32),
}

impl<'a> Canvas<'a> {
    /// A canvas of a size in backend units that writes behind what the text already holds.
    pub(crate) fn new(out: &'a mut String, size: (u32, u32)) -> Self {
        Self { out, size }
    }

    pub(crate) fn path(
        &mut self,
        points: impl IntoIterator<Item = BackendCoord>,
        ends: Ends,
        paint: Paint,
    ) {
        self.out.push_str("<path d=\"");
        let mut last: Option<BackendCoord> = None;
        for (x, y) in points {
            let (lead, dx, dy) = match last {
                None => ("M", x, y),
                Some((from_x, from_y)) => ("l", x - from_x, y - from_y),
            };
            self.out.push_str(lead);
            self.units(dx);
            self.out.push(' ');
            self.units(dy);
            last = Some((x, y));
        }
        if ends == Ends::Closed {
            self.out.push('z');
        }
        self.out.push('"');
        self.paint(paint);
        self.out.push_str("/>\n");
    }

    /// Separate strokes, each between two points, as one path.
    pub(crate) fn strokes(&mut self, ends: impl IntoIterator<Item = BackendCoord>, line: Line) {
        self.out.push_str("<path d=\"");
        let mut from: Option<BackendCoord> = None;
        for (x, y) in ends {
            let (lead, dx, dy) = match from.take() {
                None => {
                    from = Some((x, y));
                    ("M", x, y)
                }
                Some((from_x, from_y)) => ("l", x - from_x, y - from_y),
            };
            self.out.push_str(lead);
            self.units(dx);
            self.out.push(' ');
            self.units(dy);
        }
        self.out.push('"');
        self.paint(Paint {
            fill: None,
            line: Some(line),
        });
        self.out.push_str("/>\n");
    }

    pub(crate) fn disc(&mut self, (x, y): BackendCoord, radius_px: f64, paint: Paint) {
        self.out.push_str("<circle");
        self.attribute("cx", x);
        self.attribute("cy", y);
        let _ = write!(self.out, " r=\"{}\"", pixels(radius_px));
        self.paint(paint);
        self.out.push_str("/>\n");
    }

    /// Text on its baseline; `whole` is what a pointer resting on shortened text brings up.
    pub(crate) fn words(
        &mut self,
        (x, y): BackendCoord,
        text: &str,
        face: Type,
        whole: Option<&str>,
    ) {
        self.out.push_str("<text");
        self.attribute("x", x);
        self.attribute("y", y);
        let _ = write!(
            self.out,
            " font-size=\"{}\" fill=\"{}\"",
            pixels(face.size_px),
            face.colour
        );
        match face.anchor {
            Anchor::Start => {}
            Anchor::Middle => self.out.push_str(" text-anchor=\"middle\""),
            Anchor::End => self.out.push_str(" text-anchor=\"end\""),
        }
        if face.weight == Weight::Bold {
            self.out.push_str(" font-weight=\"bold\"");
        }
        self.out.push('>');
        self.out.push_str(&escaped(text));
        if let Some(whole) = whole {
            let _ = write!(self.out, "<title>{}</title>", escaped(whole));
        }
        self.out.push_str("</text>\n");
    }

    fn paint(&mut self, paint: Paint) {
        if let Some(fill) = paint.fill {
            let _ = write!(self.out, " fill=\"{fill}\"");
        }
        let Some(line) = paint.line else { return };
        let _ = write!(
            self.out,
            " stroke=\"{}\" stroke-width=\"{}\"",
            line.colour,
            pixels(line.width_px)
        );
        if !line.dash.is_empty() {
            let lengths: Vec<String> = line
                .dash
                .iter()
                .map(|widths| pixels(widths * line.width_px))
                .collect();
            let _ = write!(self.out, " stroke-dasharray=\"{}\"", lengths.join(" "));
        }
    }

    fn attribute(&mut self, name: &str, units: i32) {
        let _ = write!(self.out, " {name}=\"");
        self.units(units);
        self.out.push('"');
    }

    fn units(&mut self, units: i32) {
        self.out.push_str(&pixels(f64::from(units) / UNITS_PER_PX));
    }
}

/// A length in pixels with at most two decimals and no idle noughts.
pub(crate) fn pixels(length: f64) -> String {
    let written = format!("{length:.2}");
    let written = written.trim_end_matches('0').trim_end_matches('.');
    match written {
        "-0" | "" => "0".to_owned(),
        other => other.to_owned(),
    }
}

fn colour_of(colour: BackendColor) -> Colour {
    let (red, green, blue) = colour.rgb;
    Colour { red, green, blue }
}

fn line_of(style: &impl BackendStyle) -> Line {
    Line::solid(
        colour_of(style.color()),
        f64::from(style.stroke_width()) / UNITS_PER_PX,
    )
}

fn paint_of(style: &impl BackendStyle, fill: bool) -> Paint {
    if fill {
        Paint {
            fill: Some(colour_of(style.color())),
            line: None,
        }
    } else {
        Paint {
            fill: None,
            line: Some(line_of(style)),
        }
    }
}

impl DrawingBackend for Canvas<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, (x, y): BackendCoord, color: BackendColor) -> Drawn {
        let fill = Paint {
            fill: Some(colour_of(color)),
            line: None,
        };
        let corners = [(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)];
        self.path(corners, Ends::Closed, fill);
        Ok(())
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Drawn {
        self.path([from, to], Ends::Open, paint_of(style, false));
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        (left, top): BackendCoord,
        (right, bottom): BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        self.path(corners, Ends::Closed, paint_of(style, fill));
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        self.path(path, Ends::Open, paint_of(style, false));
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let radius_px = f64::from(radius) / UNITS_PER_PX;
        self.disc(center, radius_px, paint_of(style, fill));
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        vert: I,
        style: &S,
    ) -> Drawn {
        self.path(vert, Ends::Closed, paint_of(style, true));
        Ok(())
    }

    fn draw_text<TStyle: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &TStyle,
        (x, y): BackendCoord,
    ) -> Drawn {
        let anchor = match style.anchor().h_pos {
            HPos::Left => Anchor::Start,
            HPos::Center => Anchor::Middle,
            HPos::Right => Anchor::End,
        };
        let below = match style.anchor().v_pos {
            VPos::Top => CAP_HEIGHT_EM,
            VPos::Center => CAP_HEIGHT_EM / 2.0,
            VPos::Bottom => 0.0,
        };
        let face = Type {
            size_px: style.size() / UNITS_PER_PX,
            colour: colour_of(style.color()),
            anchor,
            weight: Weight::Plain,
        };
        self.words((x, y + units(face.size_px * below)), text, face, None);
        Ok(())
    }
}

/// A length in pixels as backend units.
pub(crate) fn units(length_px: f64) -> i32 {
    /// Far outside any picture, well inside `i32`.
    const LIMIT: f64 = 1e7;
    let scaled = (length_px * UNITS_PER_PX).round();
    #[expect(
        clippy::cast_possible_truncation,
        reason = "clamped to whole numbers that an i32 holds; a NaN becomes 0"
    )]
    {
        scaled.clamp(-LIMIT, LIMIT) as i32
    }
}
