//! What a machinist reads below the drawing.

use super::half_section::HalfSection;
use super::paper::{LINE_PX, MARGIN_PX, TEXT_PX, look, words};
use crate::metal::disc::{BURST_KILLS, CRACK_TEST, LAST_WORD, SCREENING};
use crate::shown::pens::{Anchor, Colour, Drawn, Look, Pen, Px, Rect, area_as, text};
use crate::shown::text::{refusal_words, verdict_words};
use crate::study::ledger::DiscStanding;
use crate::units::System;

/// Width of the sample of a pass's hatching, and the room it takes.
const SWATCH_PX: f64 = 16.0;
const SWATCH_ROOM_PX: f64 = SWATCH_PX + 6.0;

/// Space between two notes.
const GAP_PX: f64 = 3.0;

/// Colour of what must not be overlooked.
const WARNING: Colour = Colour::TEXTS[1];

/// Longer notes are cut: a title may be of any length.
const MOST_LINES: usize = 12;

/// One note, broken into lines.
struct Note {
    sample: Option<Look>,
    colour: Colour,
    lines: Vec<String>,
}

/// All that is said below, laid out in a width.
pub(super) struct Legend(Vec<Note>);

impl Legend {
    pub(super) fn of(half: &HalfSection<'_>, system: System, room_px: f64) -> Self {
        let broken = |said: &str, room_px| text::wrapped(said, TEXT_PX, room_px, MOST_LINES);
        let passes = half.cuts.iter().enumerate().map(|(index, cut)| {
            let said = format!("Pass {}: {}", index + 1, cut.words);
            Note {
                sample: Some(look(index)),
                colour: look(index).text(),
                lines: broken(&said, room_px - SWATCH_ROOM_PX),
            }
        });
        let notes = half.notes(system).into_iter().map(|(colour, said)| Note {
            sample: None,
            colour,
            lines: broken(&said, room_px),
        });
        Self(passes.chain(notes).collect())
    }

    pub(super) fn height_px(&self) -> f64 {
        let height = |note: &Note| LINE_PX * note.lines.iter().map(|_| 1.0).sum::<f64>() + GAP_PX;
        self.0.iter().map(height).sum()
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, top_px: f64) -> Drawn {
        let mut baseline = top_px + TEXT_PX;
        for note in &self.0 {
            let mut left = MARGIN_PX;
            if let Some(look) = note.sample {
                let right = left + SWATCH_PX;
                let swatch = Rect::new(left, baseline - 10.0, right, baseline + 1.0);
                area_as(pen, &swatch.corners(), look)?;
                pen.outline(&swatch, look.line())?;
                left += SWATCH_ROOM_PX;
            }
            for line in &note.lines {
                let face = words(note.colour, Anchor::Start);
                pen.text(Px::new(left, baseline), line, face)?;
                baseline += LINE_PX;
            }
            baseline += GAP_PX;
        }
        Ok(())
    }
}

impl HalfSection<'_> {
    fn notes(&self, system: System) -> Vec<(Colour, String)> {
        let disc = match self.disc_after.unwrap_or(self.disc) {
            DiscStanding::Checked(check) => (
                Colour::INK,
                format!(
                    "Disc check at limiter and over-speed: {}. It is {SCREENING}.",
                    verdict_words(check.verdict())
                ),
            ),
            DiscStanding::Refused { reason, lacks } => (
                WARNING,
                format!(
                    "NOT CHECKED at speed: {}.",
                    refusal_words(reason, lacks, system)
                ),
            ),
        };
        vec![
            (Colour::INK, self.title.to_owned()),
            (Colour::INK, self.described(system)),
            disc,
            (
                Colour::QUIET,
                String::from(
                    "Left: engine side. Right: clutch side, drawn flush: the sheet tells how thick the metal is, not \
                     where it sits. Break sharp edges, leave radii in corners, balance after every pass. A dashed \
                     outline is something fastened on, drawn as a steel ring of its mass.",
                ),
            ),
            (
                WARNING,
                format!("CAUTION: {BURST_KILLS}; {CRACK_TEST}; {LAST_WORD}."),
            ),
        ]
    }
}
