//! The drawing put together: section, dimensions, stress, legend.

use super::half_section::HalfSection;
use super::labels::{draw_left, draw_right};
use super::legend::Legend;
use super::metal::{draw_metal, draw_scale};
use super::paper::{Form, HEAD_PX, MARGIN_PX, PANEL_PX, Paper, TEXT_PX, UNDER_AXIS_PX, words};
use super::shape::Shape;
use super::stress::Panel;
use crate::metal::cut::CutStep;
use crate::shown::pens::{Anchor, ChartError, Colour, Drawn, Pen, Picture, Px, Type, Weight, face};
use crate::study::ledger::DiscStanding;
use crate::units::System;

/// Where the crank's axis lies on a half section, and how large its metal is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfSectionScale {
    /// The axis, px from the top.
    pub axis_px: f64,
    /// Drawn px a metre.
    pub px_per_m: f64,
}

/// A drawing with its scale.
type Scaled = (String, HalfSectionScale);

impl HalfSection<'_> {
    /// The drawing as SVG; `None` where the sections overlap, so that there is no one shape.
    ///
    /// # Errors
    /// [`ChartError`] if the drawing library fails; no flywheel does that.
    pub fn svg(&self, system: System) -> Option<Result<String, ChartError>> {
        self.scaled(system).map(unscaled)
    }

    /// The drawing as [`HalfSection::svg`] makes it, with its scale.
    ///
    /// # Errors
    /// As [`HalfSection::svg`].
    pub fn scaled(&self, system: System) -> Option<Result<Scaled, ChartError>> {
        self.drawn(system, Form::Wide)
    }

    /// The drawing for a phone held upright: as [`HalfSection::svg`], without the stresses.
    ///
    /// # Errors
    /// As [`HalfSection::svg`].
    pub fn svg_for_phone(&self, system: System) -> Option<Result<String, ChartError>> {
        self.scaled_for_phone(system).map(unscaled)
    }

    /// The drawing as [`HalfSection::svg_for_phone`] makes it, with its scale.
    ///
    /// # Errors
    /// As [`HalfSection::svg`].
    pub fn scaled_for_phone(&self, system: System) -> Option<Result<Scaled, ChartError>> {
        self.drawn(system, Form::Phone)
    }

    fn drawn(&self, system: System, form: Form) -> Option<Result<Scaled, ChartError>> {
        let steps: Vec<&CutStep> = self.cuts.iter().map(|cut| cut.step).collect();
        let shape = Shape::of(self.part, &steps)?;
        let checked = self.disc.check().is_some()
            || self.disc_after.is_some_and(|disc| disc.check().is_some());
        let with_stress = checked && form == Form::Wide;
        let (left, right) = (self.diameters(system), self.thicknesses(system, &shape));
        let columns = [&left, &right].map(|column| (column.width_px(form), column.height_px()));
        let paper = Paper::new(&shape, self.part, system, columns, (form, with_stress));
        let legend = Legend::of(self, system, paper.room_px());
        let legend_px = paper.axis_px + UNDER_AXIS_PX;
        let height_px = (legend_px + legend.height_px() + MARGIN_PX).ceil();
        let picture = Picture {
            size_px: (paper.width_px, height_px),
            title: &format!("Half section of \"{}\"", self.name),
            description: &self.described(system),
        };
        let scale = HalfSectionScale {
            axis_px: paper.axis_px,
            px_per_m: paper.px_per_m,
        };
        let svg = picture.svg(|pen| {
            self.head(pen, &paper)?;
            draw_metal(pen, &paper, &shape)?;
            self.fastened(pen, &paper, &shape)?;
            draw_left(pen, &paper, &shape, &left)?;
            draw_right(pen, &paper, &right)?;
            draw_scale(pen, &paper)?;
            if with_stress {
                self.stress(pen, &paper)?;
            }
            legend.draw(pen, legend_px)
        });
        Some(svg.map(|svg| (svg, scale)))
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
}

fn unscaled(drawn: Result<Scaled, ChartError>) -> Result<String, ChartError> {
    drawn.map(|(svg, _)| svg)
}
