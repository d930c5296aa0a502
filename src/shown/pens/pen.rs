//! What is drawn with: elements for `plotters`, and a pen that draws them in pixels.

use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind};
use plotters::element::{Drawable, PointCollection};
use plotters_backend::{BackendCoord, DrawingErrorKind};

use super::canvas::{Anchor, Canvas, Ends, Line, Paint, Type, Weight, units};
use super::palette::{Colour, Glyph};
use super::place::{Px, Rect};
use super::text;

/// Why a picture could not be drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ChartError {
    /// The drawing library gave up. Writing to memory does not fail, so this is a fault in here.
    #[error("the chart could not be drawn: {reason}")]
    Drawing {
        /// What the library said.
        reason: String,
    },
}

impl<E: std::error::Error + Send + Sync> From<DrawingAreaErrorKind<E>> for ChartError {
    fn from(error: DrawingAreaErrorKind<E>) -> Self {
        Self::Drawing {
            reason: error.to_string(),
        }
    }
}

/// What drawing gives.
pub(crate) type Drawn = Result<(), ChartError>;

/// Points closer than this to the one before are left out of a long line.
const LEAST_MOVE_PX: f64 = 0.4;

/// Half the size of a glyph.
pub(crate) const GLYPH_REACH_PX: f64 = 4.2;

/// Thickness of the outline of open glyphs.
const GLYPH_LINE_PX: f64 = 1.7;

fn backend(point: Px) -> BackendCoord {
    (units(point.x), units(point.y))
}

struct Path {
    points: Vec<BackendCoord>,
    ends: Ends,
    paint: Paint,
}

struct Strokes {
    ends: Vec<BackendCoord>,
    line: Line,
}

struct Disc {
    centre: [BackendCoord; 1],
    radius_px: f64,
    paint: Paint,
}

struct Words<'t> {
    at: [BackendCoord; 1],
    text: &'t str,
    face: Type,
    whole: Option<&'t str>,
}

macro_rules! points_of {
    ($element:ty, $field:ident) => {
        impl<'e> PointCollection<'e, BackendCoord> for &'e $element {
            type Point = &'e BackendCoord;
            type IntoIter = std::slice::Iter<'e, BackendCoord>;
            fn point_iter(self) -> Self::IntoIter {
                self.$field.iter()
            }
        }
    };
}
points_of!(Path, points);
points_of!(Strokes, ends);
points_of!(Disc, centre);
points_of!(Words<'_>, at);

type Backend = Result<(), DrawingErrorKind<std::convert::Infallible>>;

impl Drawable<Canvas<'_>> for Path {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        canvas: &mut Canvas<'_>,
        _: (u32, u32),
    ) -> Backend {
        canvas.path(points, self.ends, self.paint);
        Ok(())
    }
}

impl Drawable<Canvas<'_>> for Strokes {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        canvas: &mut Canvas<'_>,
        _: (u32, u32),
    ) -> Backend {
        canvas.strokes(points, self.line);
        Ok(())
    }
}

impl Drawable<Canvas<'_>> for Disc {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        canvas: &mut Canvas<'_>,
        _: (u32, u32),
    ) -> Backend {
        for centre in points {
            canvas.disc(centre, self.radius_px, self.paint);
        }
        Ok(())
    }
}

impl Drawable<Canvas<'_>> for Words<'_> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        points: I,
        canvas: &mut Canvas<'_>,
        _: (u32, u32),
    ) -> Backend {
        for at in points {
            canvas.words(at, self.text, self.face, self.whole);
        }
        Ok(())
    }
}

/// Draws on a page in pixels.
pub(crate) struct Pen<'c> {
    pub(crate) area: DrawingArea<Canvas<'c>, Shift>,
}

impl Pen<'_> {
    pub(crate) fn line(&self, points: &[Px], line: Line) -> Drawn {
        let paint = Paint {
            fill: None,
            line: Some(line),
        };
        self.path(thinned(points), Ends::Open, paint)
    }

    /// Many short lines alike.
    pub(crate) fn strokes(&self, strokes: &[[Px; 2]], line: Line) -> Drawn {
        if strokes.is_empty() {
            return Ok(());
        }
        let ends = strokes.iter().flatten().copied().map(backend).collect();
        Ok(self.area.draw(&Strokes { ends, line })?)
    }

    pub(crate) fn area(&self, corners: &[Px], paint: Paint) -> Drawn {
        let corners = corners.iter().copied().map(backend).collect();
        self.path(corners, Ends::Closed, paint)
    }

    pub(crate) fn rect(&self, rect: &Rect, paint: Paint) -> Drawn {
        self.area(&rect.corners(), paint)
    }

    pub(crate) fn outline(&self, rect: &Rect, colour: Colour) -> Drawn {
        self.rect(
            rect,
            Paint {
                fill: None,
                line: Some(Line::solid(colour, 1.0)),
            },
        )
    }

    pub(crate) fn fill(&self, rect: &Rect, colour: Colour) -> Drawn {
        self.rect(
            rect,
            Paint {
                fill: Some(colour),
                line: None,
            },
        )
    }

    fn path(&self, points: Vec<BackendCoord>, ends: Ends, paint: Paint) -> Drawn {
        if points.len() < 2 {
            return Ok(());
        }
        let element = Path {
            points,
            ends,
            paint,
        };
        Ok(self.area.draw(&element)?)
    }

    pub(crate) fn disc(&self, centre: Px, radius_px: f64, paint: Paint) -> Drawn {
        let element = Disc {
            centre: [backend(centre)],
            radius_px,
            paint,
        };
        Ok(self.area.draw(&element)?)
    }

    /// Text on its baseline.
    pub(crate) fn text(&self, at: Px, text: &str, face: Type) -> Drawn {
        self.words(at, text, face, None)
    }

    /// Text cut to the room it has; resting on it brings up the whole.
    pub(crate) fn text_within(&self, at: Px, whole: &str, room: f64, face: Type) -> Drawn {
        let room = match face.weight {
            Weight::Plain => room,
            Weight::Bold => room / text::BOLD_SHARE,
        };
        let short = text::shortened(whole, face.size_px, room);
        let hidden = (short != whole).then_some(whole);
        self.words(at, &short, face, hidden)
    }

    fn words(&self, at: Px, text: &str, face: Type, whole: Option<&str>) -> Drawn {
        if text.is_empty() {
            return Ok(());
        }
        let element = Words {
            at: [backend(at)],
            text,
            face,
            whole,
        };
        Ok(self.area.draw(&element)?)
    }

    pub(crate) fn glyph(&self, at: Px, glyph: Glyph, colour: Colour) -> Drawn {
        self.glyph_sized(at, glyph, colour, GLYPH_REACH_PX)
    }

    pub(crate) fn glyph_sized(&self, at: Px, glyph: Glyph, colour: Colour, reach: f64) -> Drawn {
        let full = Paint {
            fill: Some(colour),
            line: Some(Line::solid(Colour::PAPER, 1.0)),
        };
        let open = Paint {
            fill: Some(Colour::PAPER),
            line: Some(Line::solid(colour, GLYPH_LINE_PX)),
        };
        let stroke = Line::solid(colour, GLYPH_LINE_PX + 0.4);
        match glyph {
            Glyph::Disc => self.disc(at, reach, full),
            Glyph::Ring => self.disc(at, reach * 0.92, open),
            Glyph::Square => self.area(&outline(at, reach, &SQUARE), full),
            Glyph::OpenSquare => self.area(&outline(at, reach, &SQUARE), open),
            Glyph::Triangle => self.area(&outline(at, reach, &TRIANGLE), full),
            Glyph::OpenTriangle => self.area(&outline(at, reach, &TRIANGLE), open),
            Glyph::Diamond => self.area(&outline(at, reach, &DIAMOND), full),
            Glyph::OpenDiamond => self.area(&outline(at, reach, &DIAMOND), open),
            Glyph::Wedge => self.area(&outline(at, -reach, &TRIANGLE), full),
            Glyph::OpenWedge => self.area(&outline(at, -reach, &TRIANGLE), open),
            Glyph::Cross => {
                self.line(&outline(at, reach, &[(-0.9, -0.9), (0.9, 0.9)]), stroke)?;
                self.line(&outline(at, reach, &[(-0.9, 0.9), (0.9, -0.9)]), stroke)
            }
            Glyph::Plus => {
                self.line(&outline(at, reach, &[(0.0, -1.1), (0.0, 1.1)]), stroke)?;
                self.line(&outline(at, reach, &[(-1.1, 0.0), (1.1, 0.0)]), stroke)
            }
        }
    }
}

const SQUARE: [(f64, f64); 4] = [(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)];
const TRIANGLE: [(f64, f64); 3] = [(0.0, -1.2), (1.1, 0.8), (-1.1, 0.8)];
const DIAMOND: [(f64, f64); 4] = [(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)];

fn outline(centre: Px, reach: f64, shape: &[(f64, f64)]) -> Vec<Px> {
    shape
        .iter()
        .map(|(right, down)| centre.shifted(right * reach, down * reach))
        .collect()
}

fn thinned(points: &[Px]) -> Vec<BackendCoord> {
    let mut kept: Vec<Px> = Vec::new();
    for (index, point) in points.iter().enumerate() {
        let ends_here = index + 1 == points.len();
        let moved = kept
            .last()
            .is_none_or(|last| last.distance(*point) >= LEAST_MOVE_PX);
        if moved || ends_here {
            kept.push(*point);
        }
    }
    kept.into_iter().map(backend).collect()
}

/// Text of a colour, size and anchor in the plain weight.
pub(crate) const fn face(size_px: f64, colour: Colour, anchor: Anchor) -> Type {
    Type {
        size_px,
        colour,
        anchor,
        weight: Weight::Plain,
    }
}
