//! The charts' closed list of colours on a dark ground.
//!
//! A chart writes its colours as attributes; on a screen set to dark the page's style sheet gives
//! every one of them its counterpart. The stepped scale stays as it is: it carries its own ground.

use crate::shown::plot::Colour;
use std::fmt::Write as _;

/// Counterparts of [`Colour::PLAIN`], in its order.
const PLAIN: [u32; 6] = [
    0x001A_2129, // paper
    0x00E9_EEF2, // ink
    0x00B0_BBC5, // quiet
    0x007D_8994, // axis
    0x002F_3942, // grid
    0x0025_2E36, // wash
];

/// Counterparts of [`Colour::LINES`].
const LINES: [u32; 8] = [
    0x004F_ABE3,
    0x00F0_8340,
    0x0030_C097,
    0x00DB_8AB5,
    0x00DD_A429,
    0x00C8_D0D7,
    0x0082_C4EB,
    0x00BF_B64D,
];

/// Counterparts of [`Colour::TEXTS`].
const TEXTS: [u32; 8] = [
    0x0070_BCEA,
    0x00F6_9D68,
    0x0050_CDA8,
    0x00E4_A0C5,
    0x00E4_B550,
    0x00CA_D2D9,
    0x009A_D0EF,
    0x00CB_C363,
];

/// Counterparts of [`Colour::TINTS`].
const TINTS: [u32; 8] = [
    0x0018_3A50,
    0x0050_2E1A,
    0x0015_4334,
    0x0047_2B3D,
    0x0047_3612,
    0x0036_3E46,
    0x0024_4356,
    0x003D_3A17,
];

fn colour(hex: u32) -> Colour {
    let [_, red, green, blue] = hex.to_be_bytes();
    Colour { red, green, blue }
}

/// Every colour of the list that changes in the dark, with its counterpart.
pub(super) fn pairs() -> Vec<(Colour, Colour)> {
    let plain = Colour::PLAIN.iter().map(|(_, light)| light).zip(&PLAIN);
    let lines = Colour::LINES.iter().zip(&LINES);
    let texts = Colour::TEXTS.iter().zip(&TEXTS);
    let tints = Colour::TINTS.iter().zip(&TINTS);
    plain
        .chain(lines)
        .chain(texts)
        .chain(tints)
        .map(|(light, dark)| (*light, colour(*dark)))
        .collect()
}

/// Style rules that recolour every chart on a dark screen; paper stays light.
pub(super) fn rules() -> String {
    let mut css = String::from("@media screen and (prefers-color-scheme: dark) {\n");
    for (light, dark) in pairs() {
        let _ = writeln!(
            css,
            "svg [fill=\"{light}\"]{{fill:{dark}}}svg [stroke=\"{light}\"]{{stroke:{dark}}}"
        );
    }
    css.push_str("}\n");
    css
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shown::plot::{LINE_CONTRAST, TEXT_CONTRAST};

    fn dark(light: Colour) -> Colour {
        pairs().into_iter().find(|(l, _)| *l == light).unwrap().1
    }

    /// The same limits on the dark paper as the palette keeps on the light one.
    #[test]
    fn law_lines_and_texts_stand_off_the_dark_paper() {
        let paper = dark(Colour::PAPER);
        for light in Colour::LINES.into_iter().chain([Colour::AXIS]) {
            let contrast = dark(light).contrast(paper);
            assert!(contrast >= LINE_CONTRAST, "{light}: {contrast:.2}");
        }
        for light in Colour::TEXTS
            .into_iter()
            .chain([Colour::INK, Colour::QUIET])
        {
            for ground in [Colour::PAPER, Colour::WASH] {
                let contrast = dark(light).contrast(dark(ground));
                assert!(contrast >= TEXT_CONTRAST, "{light}: {contrast:.2}");
            }
        }
    }

    #[test]
    fn law_every_colour_but_the_stepped_scale_has_a_counterpart() {
        assert_eq!(pairs().len(), Colour::all().len() - Colour::STEPS.len());
    }
}
