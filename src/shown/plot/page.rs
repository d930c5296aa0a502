//! The page about a chart: title above, caption below, and the SVG around it all.

use std::fmt::Write as _;

use plotters::drawing::IntoDrawingArea;

use super::canvas::{Anchor, CAP_HEIGHT_EM, Canvas, Type, Weight};
use super::palette::Colour;
use super::pen::{Drawn, Pen, face};
use super::place::{Px, Rect};
use super::text::{bold_width, escaped, width, wrapped};
use super::{ChartError, Size, Words};

/// Below this width a picture is laid out for a phone.
const PHONE_BELOW_PX: f64 = 560.0;

/// Most lines of a title, a subtitle and a caption.
const MOST_LINES: [usize; 3] = [2, 3, 6];

/// Line spacing in ems.
const LEADING_EM: f64 = 1.35;

/// Font sizes in pixels; nothing is set smaller than [`Fonts::LEAST_PX`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Fonts {
    pub(super) title: f64,
    pub(super) body: f64,
    pub(super) small: f64,
}

impl Fonts {
    pub(super) const LEAST_PX: f64 = 11.0;
    const WIDE: Self = Self {
        title: 18.0,
        body: 13.0,
        small: 12.0,
    };
    const PHONE: Self = Self {
        title: 15.0,
        body: 12.0,
        small: Self::LEAST_PX,
    };
}

/// Whether there is room for labels beside the plot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Wide,
    Phone,
}

/// The frame of one picture.
pub(super) struct Page<'w> {
    words: &'w Words,
    size: Size,
    pub(super) form: Form,
    pub(super) fonts: Fonts,
    margin: f64,
    title: Vec<String>,
    subtitle: Vec<String>,
    caption: Vec<String>,
}

impl<'w> Page<'w> {
    pub(super) fn new(words: &'w Words, size: Size) -> Self {
        let form = if size.width() < PHONE_BELOW_PX {
            Form::Phone
        } else {
            Form::Wide
        };
        let (fonts, margin) = match form {
            Form::Wide => (Fonts::WIDE, 20.0),
            Form::Phone => (Fonts::PHONE, 12.0),
        };
        let room = size.width() - 2.0 * margin;
        let [title_lines, subtitle_lines, caption_lines] = MOST_LINES;
        // Bold text is wider: wrap it as if the room were less.
        let bold_share = width("n", 1.0) / bold_width("n", 1.0);
        Self {
            words,
            size,
            form,
            fonts,
            margin,
            title: wrapped(&words.title, fonts.title, room * bold_share, title_lines),
            subtitle: wrapped(
                words.subtitle.as_deref().unwrap_or_default(),
                fonts.body,
                room,
                subtitle_lines,
            ),
            caption: wrapped(
                words.caption.as_deref().unwrap_or_default(),
                fonts.small,
                room,
                caption_lines,
            ),
        }
    }

    /// Width of the body.
    pub(super) fn body_width(&self) -> f64 {
        self.size.width() - 2.0 * self.margin
    }

    /// Height left for the body in a picture of the size asked for.
    pub(super) fn body_height(&self) -> f64 {
        self.size.height() - self.head_height() - self.foot_height()
    }

    fn head_height(&self) -> f64 {
        let lines = |lines: &[String], size: f64| count(lines) * size * LEADING_EM;
        let text = lines(&self.title, self.fonts.title) + lines(&self.subtitle, self.fonts.body);
        self.margin * 0.7 + text + if text > 0.0 { 10.0 } else { 0.0 }
    }

    fn foot_height(&self) -> f64 {
        let text = count(&self.caption) * self.fonts.small * LEADING_EM;
        self.margin * 0.7 + text + if text > 0.0 { 6.0 } else { 0.0 }
    }

    /// Draws the page with a body of a height; the picture grows where the body needs it.
    pub(super) fn draw(
        &self,
        body_height: f64,
        body: impl FnOnce(&Pen<'_>, Rect) -> Drawn,
    ) -> Result<String, ChartError> {
        let head = self.head_height();
        let height = (head + body_height + self.foot_height()).ceil();
        let full = (self.size.width(), height);
        let mut out = String::new();
        self.open(&mut out, full);
        {
            let canvas = Canvas::new(&mut out, (whole_units(full.0), whole_units(full.1)));
            let pen = Pen {
                area: canvas.into_drawing_area(),
            };
            self.head(&pen)?;
            let right = self.size.width() - self.margin;
            let rect = Rect::new(self.margin, head, right, head + body_height);
            body(&pen, rect)?;
            self.foot(&pen, height)?;
        }
        out.push_str("</svg>\n");
        Ok(out)
    }

    fn open(&self, out: &mut String, (width, height): (f64, f64)) {
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" \
             height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
             fill=\"none\" stroke-linejoin=\"round\">\n\
             <title>{}</title>\n<desc>{}</desc>\n\
             <path d=\"M0 0H{width}V{height}H0z\" fill=\"{}\"/>\n",
            escaped(&self.words.title),
            escaped(&self.words.description),
            Colour::PAPER
        );
    }

    fn head(&self, pen: &Pen<'_>) -> Drawn {
        let mut top = self.margin * 0.7;
        let title = Type {
            size_px: self.fonts.title,
            colour: Colour::INK,
            anchor: Anchor::Start,
            weight: Weight::Bold,
        };
        let subtitle = face(self.fonts.body, Colour::QUIET, Anchor::Start);
        for (lines, face) in [(&self.title, title), (&self.subtitle, subtitle)] {
            for line in lines {
                let spacing = face.size_px * LEADING_EM;
                let baseline = top + f64::midpoint(spacing, face.size_px * CAP_HEIGHT_EM);
                pen.text(Px::new(self.margin, baseline), line, face)?;
                top += spacing;
            }
        }
        Ok(())
    }

    fn foot(&self, pen: &Pen<'_>, height: f64) -> Drawn {
        let size = self.fonts.small;
        let mut baseline =
            height - self.margin * 0.7 - (count(&self.caption) - 1.0) * size * LEADING_EM;
        for line in &self.caption {
            let at = Px::new(self.margin, baseline);
            pen.text(at, line, face(size, Colour::QUIET, Anchor::Start))?;
            baseline += size * LEADING_EM;
        }
        Ok(())
    }
}

fn count(lines: &[String]) -> f64 {
    f64::from(u32::try_from(lines.len()).unwrap_or(u32::MAX))
}

fn whole_units(length_px: f64) -> u32 {
    u32::try_from(super::canvas::units(length_px)).unwrap_or(u32::MAX)
}

/// Backend units of a length, for sizes that `plotters` takes as `u32`.
pub(super) fn span_units(length_px: f64) -> u32 {
    whole_units(length_px.max(0.0))
}
