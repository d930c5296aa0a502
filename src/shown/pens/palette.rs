//! The closed list of colours, and the looks that tell series apart.
//!
//! Every colour a chart emits stands in [`Colour::ALL`] and is written as `#RRGGBB`, so a page may
//! map each to a variable of its own. No series is known by colour alone: each [`Look`] has its own
//! dash and its own glyph, so a copy in black and white still reads.
//!
//! The hues of the series are those of M. Okabe and K. Ito, "Color Universal Design: how to make
//! figures and presentations that are friendly to colorblind people" (2002, revised 2008), from
//! memory; darkened here until they pass the contrast named at [`LINE_CONTRAST`] and
//! [`TEXT_CONTRAST`]. The stepped scale is our own: even steps of lightness from sand to ink.

use std::fmt;

/// Least contrast of a line or glyph against the paper: WCAG 2.1, criterion 1.4.11.
pub const LINE_CONTRAST: f64 = 3.0;

/// Least contrast of text against the paper: WCAG 2.1, criterion 1.4.3.
pub const TEXT_CONTRAST: f64 = 4.5;

/// A colour of the closed list, in sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Colour {
    /// Red, 0 to 255.
    pub red: u8,
    /// Green, 0 to 255.
    pub green: u8,
    /// Blue, 0 to 255.
    pub blue: u8,
}

const fn rgb(hex: u32) -> Colour {
    let [_, red, green, blue] = hex.to_be_bytes();
    Colour { red, green, blue }
}

impl Colour {
    /// The paper behind everything.
    pub const PAPER: Self = rgb(0x00FF_FFFF);
    /// Titles and plain text.
    pub const INK: Self = rgb(0x001F_2A33);
    /// Tick labels, captions and other quiet text.
    pub const QUIET: Self = rgb(0x0055_626D);
    /// Axis lines and leader lines.
    pub const AXIS: Self = rgb(0x0085_9099);
    /// Grid lines.
    pub const GRID: Self = rgb(0x00E3_E8EC);
    /// A ground for cells without a value.
    pub const WASH: Self = rgb(0x00EE_F0F2);

    /// Lines of the eight hues.
    pub const LINES: [Self; 8] = [
        rgb(0x0000_72B2), // blue
        rgb(0x00D5_5E00), // vermilion
        rgb(0x0000_8F68), // bluish green
        rgb(0x00B7_5F8F), // reddish purple
        rgb(0x00B2_7A00), // orange
        rgb(0x0033_3B42), // near black
        rgb(0x0042_8FBD), // sky blue
        rgb(0x0080_7823), // yellow
    ];

    /// Text in the same eight hues.
    pub const TEXTS: [Self; 8] = [
        rgb(0x0000_6BA6),
        rgb(0x00AD_4C00),
        rgb(0x0000_795A),
        rgb(0x0099_4B76),
        rgb(0x0086_5B00),
        rgb(0x0033_3B43),
        rgb(0x002F_7199),
        rgb(0x0070_691C),
    ];

    /// Fills in the same eight hues: pale grounds under a pattern.
    pub const TINTS: [Self; 8] = [
        rgb(0x00CC_E3F0),
        rgb(0x00FB_DCC6),
        rgb(0x00CB_E9DF),
        rgb(0x00F3_DDE8),
        rgb(0x00FB_E7BE),
        rgb(0x00DD_E0E3),
        rgb(0x00DC_EFFA),
        rgb(0x00F4_F0C2),
    ];

    /// The stepped scale of a cell map, light to dark.
    pub const STEPS: [Self; 7] = [
        rgb(0x00FF_EFB2),
        rgb(0x00BE_D88E),
        rgb(0x006D_C189),
        rgb(0x0000_A392),
        rgb(0x0000_7E93),
        rgb(0x000F_567F),
        rgb(0x0028_3358),
    ];

    /// The single colours outside the four lists, with the part each plays.
    pub const PLAIN: [(&'static str, Self); 6] = [
        ("paper", Self::PAPER),
        ("ink", Self::INK),
        ("quiet", Self::QUIET),
        ("axis", Self::AXIS),
        ("grid", Self::GRID),
        ("wash", Self::WASH),
    ];

    /// Every colour a chart may emit, with a name a page can hang a variable on:
    /// `paper`, `ink`, …, `line-1` to `line-8`, `text-1`, `tint-1`, `step-1`, ….
    pub fn all() -> Vec<(String, Self)> {
        let plain = Self::PLAIN
            .iter()
            .map(|(name, colour)| ((*name).to_owned(), *colour));
        let families: [(&str, &[Self]); 4] = [
            ("line", &Self::LINES),
            ("text", &Self::TEXTS),
            ("tint", &Self::TINTS),
            ("step", &Self::STEPS),
        ];
        let listed = families.into_iter().flat_map(|(family, colours)| {
            (1..)
                .zip(colours)
                .map(move |(nth, colour)| (format!("{family}-{nth}"), *colour))
        });
        plain.chain(listed).collect()
    }

    /// Relative luminance, 0 (black) to 1 (white): WCAG 2.1, definition of relative luminance.
    pub fn luminance(self) -> f64 {
        let linear = |channel: u8| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.040_45 {
                share / 12.92
            } else {
                ((share + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(self.red) + 0.7152 * linear(self.green) + 0.0722 * linear(self.blue)
    }

    /// Contrast ratio of two colours, 1 to 21: WCAG 2.1, definition of contrast ratio.
    pub fn contrast(self, other: Self) -> f64 {
        let (one, two) = (self.luminance(), other.luminance());
        (one.max(two) + 0.05) / (one.min(two) + 0.05)
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "#{:02X}{:02X}{:02X}", self.red, self.green, self.blue)
    }
}

/// Dash patterns in line widths, one to a look; an empty pattern is a solid line.
const DASHES: [&[f64]; 12] = [
    &[],
    &[5.0, 2.5],
    &[1.2, 1.8],
    &[7.0, 2.0, 1.5, 2.0],
    &[10.0, 2.5],
    &[3.0, 1.8],
    &[7.0, 2.0, 1.2, 2.0, 1.2, 2.0],
    &[1.2, 3.6],
    &[10.0, 2.0, 3.0, 2.0],
    &[4.0, 4.0],
    &[3.0, 1.8, 1.2, 1.8],
    &[12.0, 2.0, 1.2, 2.0, 1.2, 2.0, 1.2, 2.0],
];

/// A small shape that marks a series or a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Glyph {
    /// A disc.
    Disc,
    /// A filled square.
    Square,
    /// A filled triangle, point up.
    Triangle,
    /// A filled diamond.
    Diamond,
    /// A filled triangle, point down.
    Wedge,
    /// A ring.
    Ring,
    /// An open square.
    OpenSquare,
    /// An open triangle, point up.
    OpenTriangle,
    /// An open diamond.
    OpenDiamond,
    /// An open triangle, point down.
    OpenWedge,
    /// Two crossed diagonals.
    Cross,
    /// An upright cross.
    Plus,
}

impl Glyph {
    /// The same shape, filled.
    #[must_use]
    pub fn filled(self) -> Self {
        match self {
            Self::Ring => Self::Disc,
            Self::OpenSquare => Self::Square,
            Self::OpenTriangle => Self::Triangle,
            Self::OpenDiamond => Self::Diamond,
            Self::OpenWedge => Self::Wedge,
            other => other,
        }
    }

    /// The same shape, hollow; a cross, which has no inside, becomes a ring.
    #[must_use]
    pub fn hollow(self) -> Self {
        match self {
            Self::Disc | Self::Cross | Self::Plus => Self::Ring,
            Self::Square => Self::OpenSquare,
            Self::Triangle => Self::OpenTriangle,
            Self::Diamond => Self::OpenDiamond,
            Self::Wedge => Self::OpenWedge,
            open => open,
        }
    }
}

const GLYPHS: [Glyph; 12] = [
    Glyph::Disc,
    Glyph::Square,
    Glyph::Triangle,
    Glyph::Diamond,
    Glyph::Wedge,
    Glyph::Ring,
    Glyph::OpenSquare,
    Glyph::OpenTriangle,
    Glyph::OpenDiamond,
    Glyph::OpenWedge,
    Glyph::Cross,
    Glyph::Plus,
];

/// How one series is drawn: a hue, a dash and a glyph that belong together.
///
/// The same number gives the same look in every chart, so a flywheel keeps its look throughout.
/// Twelve looks differ in dash and glyph; from the thirteenth on they come round again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Look {
    index: usize,
}

impl Look {
    /// How many looks there are before they come round again.
    pub const COUNT: usize = DASHES.len();

    /// The look of the series with this number, counted from 0.
    pub const fn nth(index: usize) -> Self {
        Self {
            index: index % Self::COUNT,
        }
    }

    /// Colour of its lines and glyphs.
    pub fn line(self) -> Colour {
        pick(&Colour::LINES, self.index)
    }

    /// Colour of text about it.
    pub fn text(self) -> Colour {
        pick(&Colour::TEXTS, self.index)
    }

    /// Pale ground for its areas.
    pub fn tint(self) -> Colour {
        pick(&Colour::TINTS, self.index)
    }

    /// Dash and gap lengths in line widths; empty for a solid line.
    pub fn dash(self) -> &'static [f64] {
        DASHES.get(self.index).copied().unwrap_or_default()
    }

    /// Its glyph.
    pub fn glyph(self) -> Glyph {
        GLYPHS.get(self.index).copied().unwrap_or(Glyph::Disc)
    }

    /// Its number, 0 to [`Look::COUNT`] − 1.
    pub const fn index(self) -> usize {
        self.index
    }
}

fn pick(list: &[Colour], index: usize) -> Colour {
    list.iter()
        .cycle()
        .nth(index)
        .copied()
        .unwrap_or(Colour::INK)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn law_every_line_stands_off_the_paper() {
        for colour in Colour::LINES {
            let contrast = colour.contrast(Colour::PAPER);
            assert!(contrast >= LINE_CONTRAST, "{colour}: {contrast:.2}");
        }
        assert!(Colour::AXIS.contrast(Colour::PAPER) >= LINE_CONTRAST);
    }

    #[test]
    fn law_every_text_colour_reads_on_paper_and_on_the_wash() {
        let plain = [Colour::INK, Colour::QUIET];
        for colour in Colour::TEXTS.into_iter().chain(plain) {
            for ground in [Colour::PAPER, Colour::WASH] {
                let contrast = colour.contrast(ground);
                assert!(
                    contrast >= TEXT_CONTRAST,
                    "{colour} on {ground}: {contrast:.2}"
                );
            }
        }
    }

    #[test]
    fn reference_contrast_of_black_on_white_is_21() {
        // WCAG 2.1: ratios run from 1 to 21.
        let black = Colour {
            red: 0,
            green: 0,
            blue: 0,
        };
        assert!((black.contrast(Colour::PAPER) - 21.0).abs() < 1e-12);
        assert!((black.contrast(black) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn law_the_stepped_scale_darkens_at_every_step() {
        for pair in Colour::STEPS.windows(2) {
            // A third more contrast a step is seen in grey as well.
            assert!(
                pair[0].contrast(pair[1]) > 1.3,
                "{} to {}",
                pair[0],
                pair[1]
            );
            assert!(pair[0].luminance() > pair[1].luminance());
        }
    }

    #[test]
    fn law_twelve_looks_share_no_dash_and_no_glyph() {
        let looks: Vec<Look> = (0..Look::COUNT).map(Look::nth).collect();
        let dashes: HashSet<String> = looks.iter().map(|l| format!("{:?}", l.dash())).collect();
        let glyphs: HashSet<Glyph> = looks.iter().map(|l| l.glyph()).collect();
        assert_eq!((dashes.len(), glyphs.len()), (Look::COUNT, Look::COUNT));
        assert_eq!(Look::nth(Look::COUNT), Look::nth(0));
    }

    #[test]
    fn law_the_list_of_colours_has_no_colour_twice() {
        let all = Colour::all();
        let distinct: HashSet<Colour> = all.iter().map(|(_, colour)| *colour).collect();
        assert_eq!(distinct.len(), all.len());
    }
}
