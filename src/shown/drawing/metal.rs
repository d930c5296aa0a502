//! The metal, what is cut from it, and what is fastened to it.

use super::half_section::HalfSection;
use super::paper::{CENTRE, HIDDEN, MARGIN_PX, OUTLINE, Paper, TEXT_PX, fill_metal, look, words};
use super::shape::{Shape, Slice};
use crate::car::inertia::{Extra, ExtraPlace, HoleRing};
use crate::car::material::NamedMetal;
use crate::metal::profile::TOUCHING_M;
use crate::shown::pens::{Anchor, CAP_HEIGHT_EM, Colour, Drawn, Line, Paint, Pen, Px, area_as};
use crate::units::{Kind, System};
use std::f64::consts::PI;

/// The scale drawn is no longer than this, px.
const MOST_SCALE_PX: f64 = 80.0;

impl HalfSection<'_> {
    /// Ring gear, bolts, holes.
    pub(super) fn fastened(&self, pen: &Pen<'_>, paper: &Paper, shape: &Shape) -> Drawn {
        for ring in self.part.holes() {
            if let Some(corners) = hole_corners(paper, shape, ring) {
                draw_hidden(pen, &corners)?;
            }
            centre_line(pen, paper, shape, ring.pitch_radius_m.get())?;
        }
        for (index, taken) in shape.taken.iter().enumerate() {
            if let Some(ring) = &taken.holes {
                if let Some(corners) = hole_corners(paper, shape, ring) {
                    draw_cut(pen, &corners, index)?;
                }
                centre_line(pen, paper, shape, ring.pitch_radius_m.get())?;
            }
        }
        for extra in self.part.extras() {
            match extra.place {
                ExtraPlace::Gyration(radius) if radius.get() > shape.rim_m => {
                    ring_gear(pen, paper, shape, extra, radius.get())?;
                }
                ExtraPlace::Gyration(radius) => centre_line(pen, paper, shape, radius.get())?,
                ExtraPlace::Points { pitch_radius_m, .. } => {
                    centre_line(pen, paper, shape, pitch_radius_m.get())?;
                }
            }
        }
        Ok(())
    }
}

pub(super) fn draw_metal(pen: &Pen<'_>, paper: &Paper, shape: &Shape) -> Drawn {
    for slice in &shape.stays {
        fill_metal(pen, &paper.corners(slice))?;
    }
    for (index, taken) in shape.taken.iter().enumerate() {
        for slice in &taken.slices {
            draw_cut(pen, &paper.corners(slice), index)?;
        }
    }
    for run in runs(&shape.stays) {
        let up = run
            .iter()
            .flat_map(|s| [(s.back_m.0, s.inner_m), (s.back_m.1, s.outer_m)]);
        let down = run
            .iter()
            .rev()
            .flat_map(|s| [(s.front_m.1, s.outer_m), (s.front_m.0, s.inner_m)]);
        let points: Vec<Px> = up.chain(down).map(|at| paper.at(at)).collect();
        outline(pen, &points, OUTLINE)?;
    }
    let engine_side = paper.at((-shape.thickest_m, 0.0)).shifted(-22.0, 0.0);
    let clutch_side = paper.at((0.0, 0.0)).shifted(22.0, 0.0);
    pen.line(&[engine_side, clutch_side], CENTRE)
}

fn outline(pen: &Pen<'_>, corners: &[Px], line: Line) -> Drawn {
    let paint = Paint {
        fill: None,
        line: Some(line),
    };
    pen.area(corners, paint)
}

/// Metal that a pass takes.
fn draw_cut(pen: &Pen<'_>, corners: &[Px], cut: usize) -> Drawn {
    area_as(pen, corners, look(cut))?;
    outline(pen, corners, Line::solid(look(cut).line(), 0.9))
}

/// Something cut out of the metal, or fastened on, of which the paper sees no more.
fn draw_hidden(pen: &Pen<'_>, corners: &[Px]) -> Drawn {
    let paint = Paint {
        fill: Some(Colour::PAPER),
        line: Some(HIDDEN),
    };
    pen.area(corners, paint)
}

/// Slices that touch, run by run.
fn runs(slices: &[Slice]) -> Vec<Vec<Slice>> {
    let mut runs: Vec<Vec<Slice>> = Vec::new();
    for slice in slices {
        match runs.last_mut() {
            Some(run)
                if run
                    .last()
                    .is_some_and(|last| slice.inner_m - last.outer_m < TOUCHING_M) =>
            {
                run.push(*slice);
            }
            _ => runs.push(vec![*slice]),
        }
    }
    runs
}

fn centre_line(pen: &Pen<'_>, paper: &Paper, shape: &Shape, radius_m: f64) -> Drawn {
    let back = paper.at((-shape.thickest_m, radius_m)).shifted(-8.0, 0.0);
    let front = paper.at((0.0, radius_m)).shifted(8.0, 0.0);
    pen.line(&[back, front], CENTRE)
}

/// Corners of a hole in the metal that stays, from the engine side.
fn hole_corners(paper: &Paper, shape: &Shape, ring: &HoleRing) -> Option<[Px; 4]> {
    let (pitch, radius) = (ring.pitch_radius_m.get(), ring.diameter_m.get() / 2.0);
    let (back, front) = shape.sides_at_m(pitch)?;
    let end = (back + ring.depth_m.get()).min(front);
    let at = |along, r| paper.at((along, r));
    Some([
        at(back, pitch - radius),
        at(back, pitch + radius),
        at(end, pitch + radius),
        at(end, pitch - radius),
    ])
}

/// A ring of steel of the extra's mass round the rim, dashed: its true shape is not told.
fn ring_gear(pen: &Pen<'_>, paper: &Paper, shape: &Shape, extra: &Extra, radius_m: f64) -> Drawn {
    let (inner, outer) = (shape.rim_m, 2.0 * radius_m - shape.rim_m);
    let area_m2 = PI * (outer.powi(2) - inner.powi(2));
    let wide_m = extra.mass_properties().mass_kg / (NamedMetal::Steel.density_kg_m3() * area_m2);
    let half_m = wide_m.min(shape.thickest_m) / 2.0;
    let middle_m = -shape.thickest_m / 2.0;
    let ring = Slice {
        inner_m: inner,
        outer_m: outer,
        back_m: (middle_m - half_m, middle_m - half_m),
        front_m: (middle_m + half_m, middle_m + half_m),
    };
    draw_hidden(pen, &paper.corners(&ring))
}

/// A round length at the paper's scale.
pub(super) fn draw_scale(pen: &Pen<'_>, paper: &Paper) -> Drawn {
    let lengths: &[(f64, &str)] = match paper.system {
        System::Metric => &[
            (0.05, "50 mm"),
            (0.02, "20 mm"),
            (0.01, "10 mm"),
            (0.005, "5 mm"),
            (0.002, "2 mm"),
        ],
        System::Imperial => &[
            (2.0, "2 in"),
            (1.0, "1 in"),
            (0.5, "1/2 in"),
            (0.25, "1/4 in"),
            (0.125, "1/8 in"),
        ],
    };
    let px = |length: f64| match paper.system {
        System::Metric => length * paper.px_per_m,
        System::Imperial => length * paper.px_per_m / System::Imperial.value(1.0, Kind::Length),
    };
    let fits = lengths
        .iter()
        .find(|(length, _)| px(*length) <= MOST_SCALE_PX);
    let Some((length, said)) = fits.or(lengths.last()) else {
        return Ok(());
    };
    let left = Px::new(MARGIN_PX + 4.0, paper.axis_px + 24.0);
    let right = left.shifted(px(*length), 0.0);
    pen.line(&[left, right], Line::solid(Colour::INK, 1.4))?;
    for end in [left, right] {
        let tick = [end.shifted(0.0, -4.0), end.shifted(0.0, 4.0)];
        pen.line(&tick, Line::solid(Colour::INK, 1.0))?;
    }
    let at = right.shifted(6.0, TEXT_PX * CAP_HEIGHT_EM / 2.0);
    pen.text(at, said, words(Colour::INK, Anchor::Start))
}
