//! The drawing put together: section, dimensions, stress, legend.

use super::labels::{draw_left, draw_right};
use super::legend::Legend;
use super::metal::{draw_metal, draw_scale};
use super::paper::{HEAD_PX, MARGIN_PX, PANEL_PX, Paper, TEXT_PX, UNDER_AXIS_PX, words};
use super::shape::Shape;
use super::stress::Panel;
use crate::car::inertia::BuiltUp;
use crate::metal::cut::CutStep;
use crate::shown::pens::{Anchor, ChartError, Colour, Drawn, Pen, Picture, Px, Type, Weight, face};
use crate::shown::text::pass_words;
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
    ///
    /// # Errors
    /// [`ChartError`] if the drawing library fails; no flywheel does that.
    pub fn svg(&self, system: System) -> Option<Result<String, ChartError>> {
        let steps: Vec<&CutStep> = self.cuts.iter().map(|cut| cut.step).collect();
        let shape = Shape::of(self.part, &steps)?;
        let checked = self.disc.check().is_some()
            || self.disc_after.is_some_and(|disc| disc.check().is_some());
        let (left, right) = (self.diameters(system), self.thicknesses(system, &shape));
        let paper = Paper::new(&shape, self.part, system, [&left, &right], checked);
        let legend = Legend::of(self, system, paper.room_px());
        let legend_px = paper.axis_px + UNDER_AXIS_PX;
        let height_px = (legend_px + legend.height_px() + MARGIN_PX).ceil();
        let picture = Picture {
            size_px: (paper.width_px, height_px),
            title: &format!("Half section of \"{}\"", self.name),
            description: &self.described(system),
        };
        Some(picture.svg(|pen| {
            self.head(pen, &paper)?;
            draw_metal(pen, &paper, &shape)?;
            self.fastened(pen, &paper, &shape)?;
            draw_left(pen, &paper, &shape, &left)?;
            draw_right(pen, &paper, &right)?;
            draw_scale(pen, &paper)?;
            if checked {
                self.stress(pen, &paper)?;
            }
            legend.draw(pen, legend_px)
        }))
    }

    fn head(&self, pen: &Pen<'_>, paper: &Paper) -> Drawn {
        let name = Type {
            weight: Weight::Bold,
            ..face(15.0, Colour::INK, Anchor::Start)
        };
        pen.text_within(Px::new(MARGIN_PX, 24.0), self.name, paper.room_px(), name)?;
        let unit = match paper.system {
            System::Metric => "mm",
            System::Imperial => "inches",
        };
        let said = format!("Half section to scale, {unit}; Ø is a diameter");
        let quiet = words(Colour::QUIET, Anchor::Start);
        let below = Px::new(MARGIN_PX, 28.0 + TEXT_PX);
        pen.text_within(below, &said, paper.room_px(), quiet)
    }

    fn stress(&self, pen: &Pen<'_>, paper: &Paper) -> Drawn {
        let right_px = paper.width_px - MARGIN_PX;
        let panel = Panel {
            left_px: right_px - PANEL_PX + 14.0,
            right_px,
            top_px: HEAD_PX,
            axis_px: paper.axis_px,
            px_per_m: paper.px_per_m,
            system: paper.system,
        };
        panel.draw(
            pen,
            self.disc.check(),
            self.disc_after.and_then(DiscStanding::check),
            self.part.material().yield_pa.map(Into::into),
        )
    }

    /// The metal that is left in the end.
    pub(super) fn left(&self) -> &BuiltUp {
        self.cuts.last().map_or(self.part, |cut| &cut.step.part)
    }

    /// The wheel in words.
    pub(super) fn described(&self, system: System) -> String {
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
