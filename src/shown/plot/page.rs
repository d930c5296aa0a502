//! The page about a chart: title above, caption below.

use crate::shown::pens::text::{BOLD_SHARE, wrapped};
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, ChartError, Colour, Drawn, LEAST_TEXT_PX, Pen, Picture, Px, Rect, Type,
    Weight, face,
};

/// Below this width a picture is laid out for a phone.
const PHONE_BELOW_PX: f64 = 560.0;

/// Most lines of a title, a subtitle and a caption.
const MOST_LINES: [usize; 3] = [2, 3, 6];

/// Line spacing in ems.
const LEADING_EM: f64 = 1.35;

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

/// The size of a picture in pixels.
///
/// The width is kept. The height is a wish: a picture grows downward where its words need it, and
/// bars and strips are as high as what they hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    pub(super) width_px: u32,
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

/// Font sizes in pixels; nothing is set smaller than [`LEAST_TEXT_PX`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Fonts {
    pub(super) title: f64,
    pub(super) body: f64,
    pub(super) small: f64,
}

impl Fonts {
    const WIDE: Self = Self {
        title: 18.0,
        body: 13.0,
        small: 12.0,
    };
    const PHONE: Self = Self {
        title: 15.0,
        body: 12.5,
        small: LEAST_TEXT_PX,
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
        Self {
            words,
            size,
            form,
            fonts,
            margin,
            title: wrapped(&words.title, fonts.title, room / BOLD_SHARE, title_lines),
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
        let picture = Picture {
            size_px: (self.size.width(), height),
            title: &self.words.title,
            description: &self.words.description,
        };
        picture.svg(|pen| {
            self.head(pen)?;
            let right = self.size.width() - self.margin;
            let rect = Rect::new(self.margin, head, right, head + body_height);
            body(pen, rect)?;
            self.foot(pen, height)
        })
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
