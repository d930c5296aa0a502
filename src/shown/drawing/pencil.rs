//! Lines, areas and words as SVG text.

use crate::shown::plot::Colour;
use std::fmt::Write as _;

/// A point on the paper, px.
pub(super) type Point = (f64, f64);

/// Where a text is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hold {
    Start,
    Middle,
    End,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stroke {
    pub(super) colour: Colour,
    pub(super) width_px: f64,
    /// Dash lengths as SVG writes them; empty for a solid line.
    pub(super) dash: &'static str,
}

impl Stroke {
    /// An outline: thick.
    pub(super) const OUTLINE: Self = Self::solid(Colour::INK, 1.6);
    /// A centre-line: long, short (ISO 128, from memory).
    pub(super) const CENTRE: Self = Self {
        colour: Colour::QUIET,
        width_px: 0.8,
        dash: "10 2.5 2 2.5",
    };
    /// Something whose size is not told, or that is behind.
    pub(super) const HIDDEN: Self = Self {
        colour: Colour::QUIET,
        width_px: 0.9,
        dash: "3.5 2",
    };

    pub(super) const fn solid(colour: Colour, width_px: f64) -> Self {
        Self {
            colour,
            width_px,
            dash: "",
        }
    }
}

/// Collects the SVG of one drawing.
pub(super) struct Pencil {
    text: String,
}

/// Usual text height, px.
pub(super) const TEXT_PX: f64 = 11.5;

/// Width of a character over the text's height, on the safe side.
pub(super) const CHARACTER_EM: f64 = 0.51;

impl Pencil {
    pub(super) const fn new() -> Self {
        Self {
            text: String::new(),
        }
    }

    pub(super) fn line(&mut self, from: Point, to: Point, stroke: Stroke) {
        let _ = writeln!(
            self.text,
            r#"<line x1="{:.2}" y1="{:.2}" x2="{:.2}" y2="{:.2}"{}/>"#,
            from.0,
            from.1,
            to.0,
            to.1,
            stroked(stroke)
        );
    }

    pub(super) fn polyline(&mut self, points: &[Point], stroke: Stroke) {
        let _ = writeln!(
            self.text,
            r#"<polyline points="{}" fill="none" stroke-linejoin="round"{}/>"#,
            listed(points),
            stroked(stroke)
        );
    }

    /// An area filled with a colour or a pattern (`#ink` or `url(#cut-1)`), without outline.
    pub(super) fn area(&mut self, points: &[Point], fill: &str) {
        let _ = writeln!(
            self.text,
            r#"<polygon points="{}" fill="{fill}"/>"#,
            listed(points)
        );
    }

    pub(super) fn outline(&mut self, points: &[Point], stroke: Stroke) {
        let _ = writeln!(
            self.text,
            r#"<polygon points="{}" fill="none" stroke-linejoin="round"{}/>"#,
            listed(points),
            stroked(stroke)
        );
    }

    pub(super) fn words(&mut self, at: Point, hold: Hold, colour: Colour, words: &str) {
        self.text_of(at, hold, colour, TEXT_PX, "normal", words);
    }

    pub(super) fn heading(&mut self, at: Point, height_px: f64, words: &str) {
        self.text_of(at, Hold::Start, Colour::INK, height_px, "bold", words);
    }

    fn text_of(
        &mut self,
        at: Point,
        hold: Hold,
        colour: Colour,
        height_px: f64,
        weight: &str,
        words: &str,
    ) {
        let anchor = match hold {
            Hold::Start => "start",
            Hold::Middle => "middle",
            Hold::End => "end",
        };
        let _ = writeln!(
            self.text,
            r#"<text x="{:.2}" y="{:.2}" font-size="{height_px}" font-weight="{weight}" text-anchor="{anchor}" fill="{colour}">{}</text>"#,
            at.0,
            at.1,
            escaped(words)
        );
    }

    /// The whole picture, with its title and its words for those who do not see it.
    pub(super) fn picture(
        self,
        (width_px, height_px): (f64, f64),
        title: &str,
        described: &str,
        patterns: &str,
    ) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width_px:.0} {height_px:.0}\" \
             width=\"{width_px:.0}\" height=\"{height_px:.0}\" role=\"img\" \
             aria-labelledby=\"drawing-title drawing-words\" font-family=\"Helvetica, Arial, sans-serif\">\n\
             <title id=\"drawing-title\">{}</title>\n<desc id=\"drawing-words\">{}</desc>\n\
             <defs>\n{patterns}</defs>\n<rect width=\"100%\" height=\"100%\" fill=\"{}\"/>\n{}</svg>\n",
            escaped(title),
            escaped(described),
            Colour::PAPER,
            self.text
        )
    }
}

/// A pattern of slanting lines on a tint.
pub(super) fn hatch(id: &str, line: Colour, ground: Colour, gap_px: f64, degrees: f64) -> String {
    format!(
        "<pattern id=\"{id}\" width=\"{gap_px}\" height=\"{gap_px}\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate({degrees})\"><rect width=\"{gap_px}\" height=\"{gap_px}\" fill=\"{ground}\"/>\
         <line x1=\"{0}\" y1=\"0\" x2=\"{0}\" y2=\"{gap_px}\" stroke=\"{line}\" stroke-width=\"1.1\"/></pattern>\n",
        gap_px / 2.0
    )
}

fn listed(points: &[Point]) -> String {
    let each: Vec<String> = points
        .iter()
        .map(|(x, y)| format!("{x:.2},{y:.2}"))
        .collect();
    each.join(" ")
}

fn stroked(stroke: Stroke) -> String {
    let dash = if stroke.dash.is_empty() {
        String::new()
    } else {
        format!(r#" stroke-dasharray="{}""#, stroke.dash)
    };
    format!(
        r#" stroke="{}" stroke-width="{}"{dash}"#,
        stroke.colour, stroke.width_px
    )
}

fn escaped(words: &str) -> String {
    words
        .chars()
        .map(|c| match c {
            '&' => String::from("&amp;"),
            '<' => String::from("&lt;"),
            '>' => String::from("&gt;"),
            '"' => String::from("&quot;"),
            // Control characters have no place in XML.
            c if c.is_control() => String::from(" "),
            c => c.to_string(),
        })
        .collect()
}

/// Words broken into lines of so many px.
pub(super) fn broken(words: &str, width_px: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let wide = |text: &str| text.chars().map(|_| CHARACTER_EM * TEXT_PX).sum::<f64>();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if wide(line) + wide(" ") + wide(word) <= width_px => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
