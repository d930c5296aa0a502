//! The drawing put together: section, dimensions, stress, legend.

use super::metal::{metal, scale};
use super::paper::{
    HEAD_PX, LINE_PX, MARGIN_PX, PANEL_PX, Paper, UNDER_AXIS_PX, fitting, look, paper, short, slant,
};
use super::pencil::{Hold, Pencil, Stroke, TEXT_PX, broken, hatch};
use super::shape::Shape;
use super::stress::Panel;
use crate::car::inertia::BuiltUp;
use crate::metal::cut::CutStep;
use crate::metal::disc::{BURST_KILLS, CRACK_TEST, LAST_WORD, SCREENING};
use crate::shown::plot::Colour;
use crate::shown::text::{pass_words, refusal_words, verdict_words};
use crate::study::cutting::Cutting;
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};

/// A pass to be drawn, with its words.
#[derive(Debug, Clone)]
pub struct DrawnCut<'a> {
    /// The pass, made.
    pub step: &'a CutStep,
    /// What it is, in one line.
    pub words: String,
}

/// A flywheel's half section, and what is cut from it.
#[derive(Debug, Clone)]
pub struct HalfSection<'a> {
    /// The sheet's title.
    pub title: &'a str,
    /// The wheel's name.
    pub name: &'a str,
    /// Its metal as it is.
    pub part: &'a BuiltUp,
    /// The passes, in order; none for the wheel as it is.
    pub cuts: Vec<DrawnCut<'a>>,
    /// The disc check as it is.
    pub disc: &'a DiscStanding,
    /// The disc check of what is left.
    pub disc_after: Option<&'a DiscStanding>,
}

impl<'a> HalfSection<'a> {
    /// A wheel on the lathe with the passes made on it.
    pub fn of(title: &'a str, cutting: &'a Cutting, system: System) -> Self {
        let cuts = cutting.stages.iter().map(|stage| DrawnCut {
            step: &stage.step,
            words: pass_words(&stage.step.pass, system),
        });
        Self {
            title,
            name: cutting.wheel.name(),
            part: cutting.part,
            cuts: cuts.collect(),
            disc: &cutting.disc_before,
            disc_after: cutting.stages.last().map(|stage| &stage.disc),
        }
    }
}

impl HalfSection<'_> {
    /// The drawing as SVG; `None` where the sections overlap, so that there is no one shape.
    pub fn svg(&self, system: System) -> Option<String> {
        let steps: Vec<&CutStep> = self.cuts.iter().map(|cut| cut.step).collect();
        let shape = Shape::of(self.part, &steps)?;
        let checked = self.disc.check().is_some()
            || self.disc_after.is_some_and(|disc| disc.check().is_some());
        let paper = paper(&shape, self.part, system, checked, self.most_labels());
        let mut pencil = Pencil::new();
        self.head(&mut pencil, &paper);
        metal(&mut pencil, &paper, &shape);
        self.fastened(&mut pencil, &paper, &shape);
        self.diameters(&mut pencil, &paper, &shape);
        self.thicknesses(&mut pencil, &paper, &shape);
        scale(&mut pencil, &paper);
        if checked {
            self.stress(&mut pencil, &paper);
        }
        let foot_px = self.legend(&mut pencil, &paper);
        let patterns: String =
            std::iter::once(hatch("metal", Colour::QUIET, Colour::WASH, 5.0, 45.0))
                .chain((0..self.cuts.len()).map(|cut| {
                    let look = look(cut);
                    // Each pass its own slant: a black-and-white print tells them apart.
                    hatch(
                        &format!("cut-{cut}"),
                        look.line(),
                        look.tint(),
                        3.2,
                        slant(cut),
                    )
                }))
                .collect();
        let title = format!("Half section of \"{}\"", self.name);
        Some(pencil.picture(
            (paper.width_px, foot_px + MARGIN_PX),
            &title,
            &self.described(system),
            &patterns,
        ))
    }

    fn head(&self, pencil: &mut Pencil, paper: &Paper) {
        let most = fitting(paper.width_px - 2.0 * MARGIN_PX, 15.0);
        pencil.heading((MARGIN_PX, 24.0), 15.0, &short(self.name, most));
        let unit = match paper.system {
            System::Metric => "mm",
            System::Imperial => "inches",
        };
        let most = fitting(paper.width_px - 2.0 * MARGIN_PX, TEXT_PX);
        pencil.words(
            (MARGIN_PX, 40.0),
            Hold::Start,
            Colour::QUIET,
            &short(
                &format!("Half section to scale, {unit}; Ø is a diameter"),
                most,
            ),
        );
    }

    fn stress(&self, pencil: &mut Pencil, paper: &Paper) {
        let panel = Panel {
            left_px: paper.width_px - MARGIN_PX - PANEL_PX + 8.0,
            right_px: paper.width_px - MARGIN_PX,
            top_px: HEAD_PX,
            axis_px: paper.axis_px,
            px_per_m: paper.px_per_m,
            system: paper.system,
        };
        panel.draw(
            pencil,
            self.disc.check(),
            self.disc_after.and_then(DiscStanding::check),
            self.part.material().yield_pa.map(Into::into),
        );
    }

    /// What a machinist reads below the drawing; where it ends, px from the top.
    fn legend(&self, pencil: &mut Pencil, paper: &Paper) -> f64 {
        const SWATCH_PX: f64 = 16.0;
        let mut y = paper.axis_px + UNDER_AXIS_PX + 8.0;
        let room = paper.width_px - 2.0 * MARGIN_PX;
        for (index, cut) in self.cuts.iter().enumerate() {
            let corner = |x: f64, up: f64| (MARGIN_PX + x, y - up);
            let swatch = [
                corner(0.0, 10.0),
                corner(SWATCH_PX, 10.0),
                corner(SWATCH_PX, -1.0),
                corner(0.0, -1.0),
            ];
            pencil.area(&swatch, &format!("url(#cut-{index})"));
            pencil.outline(&swatch, Stroke::solid(look(index).line(), 0.8));
            let words = format!("Pass {}: {}", index + 1, cut.words);
            for line in broken(&words, room - SWATCH_PX - 6.0) {
                pencil.words(
                    (MARGIN_PX + SWATCH_PX + 6.0, y),
                    Hold::Start,
                    look(index).text(),
                    &line,
                );
                y += LINE_PX;
            }
        }
        for (colour, words) in self.notes(paper.system) {
            y += 3.0;
            for line in broken(&words, room) {
                pencil.words((MARGIN_PX, y), Hold::Start, colour, &line);
                y += LINE_PX;
            }
        }
        y
    }

    fn notes(&self, system: System) -> Vec<(Colour, String)> {
        let mut notes = vec![
            (Colour::INK, short(self.title, 120)),
            (Colour::INK, self.described(system)),
        ];
        let standing = self.disc_after.unwrap_or(self.disc);
        notes.push(match standing {
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
        });
        notes.push((
            Colour::QUIET,
            String::from(
                "Left: engine side. Right: clutch side, drawn flush: the sheet tells how thick the metal is, not where \
                 it sits. Break sharp edges, leave radii in corners, balance after every pass. A dashed outline is \
                 something fastened on, drawn as a steel ring of its mass.",
            ),
        ));
        notes.push((
            WARNING,
            format!("CAUTION: {BURST_KILLS}; {CRACK_TEST}; {LAST_WORD}."),
        ));
        notes
    }

    /// More labels than this stand on neither side.
    fn most_labels(&self) -> usize {
        let left = self.cuts.last().map_or(self.part, |cut| &cut.step.part);
        let edges = 2 * left.sections().len().max(self.part.sections().len());
        edges + left.holes().len() + left.extras().len()
    }

    /// The wheel in words.
    fn described(&self, system: System) -> String {
        let whole = self.part.mass_properties();
        let figures = |mass_kg: f64, inertia: f64| {
            format!(
                "{}, {}",
                system.show(mass_kg, Kind::Mass),
                system.show(inertia, Kind::Inertia)
            )
        };
        let before = figures(whole.mass_kg, whole.inertia_kg_m2);
        let metal = &self.part.material().name;
        match self.cuts.last() {
            None => format!("{metal}; {before}."),
            Some(cut) => format!(
                "{metal}; as it is {before}; as cut {}.",
                figures(cut.step.after.mass_kg, cut.step.after.inertia_kg_m2)
            ),
        }
    }
}

/// Colour of what must not be overlooked.
const WARNING: Colour = Colour::TEXTS[1];
