//! The metal, what is cut from it, and what is fastened to it.

use super::paper::{MARGIN_PX, Paper, look};
use super::pencil::{Hold, Pencil, Point, Stroke};
use super::shape::{Shape, Slice};
use super::sheet::HalfSection;
use crate::car::inertia::{Extra, ExtraPlace, HoleRing};
use crate::car::material::NamedMetal;
use crate::metal::profile::TOUCHING_M;
use crate::shown::plot::Colour;
use crate::units::System;
use std::f64::consts::PI;

impl HalfSection<'_> {
    /// Ring gear, bolts, holes.
    pub(super) fn fastened(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
        for ring in self.part.holes() {
            hole(pencil, paper, shape, ring, Stroke::HIDDEN);
        }
        for (index, taken) in shape.taken.iter().enumerate() {
            if let Some(ring) = &taken.holes {
                bored(pencil, paper, shape, ring, index);
            }
        }
        for extra in self.part.extras() {
            match extra.place {
                ExtraPlace::Points { pitch_radius_m, .. } => {
                    centre_line(pencil, paper, shape, pitch_radius_m.get());
                }
                ExtraPlace::Gyration(radius) => {
                    ring_gear(pencil, paper, shape, extra, radius.get());
                }
            }
        }
    }
}

pub(super) fn metal(pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
    for slice in &shape.stays {
        pencil.area(&paper.corners(slice), "url(#metal)");
    }
    for (index, taken) in shape.taken.iter().enumerate() {
        for slice in &taken.slices {
            let corners = paper.corners(slice);
            pencil.area(&corners, &format!("url(#cut-{index})"));
            pencil.outline(&corners, Stroke::solid(look(index).line(), 0.8));
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
        let points: Vec<Point> = up.chain(down).map(|at| paper.at(at)).collect();
        pencil.outline(&points, Stroke::OUTLINE);
    }
    let (left, _) = paper.at((-shape.thickest_m, 0.0));
    pencil.line(
        (left - 22.0, paper.axis_px),
        (paper.section_right_px + 14.0, paper.axis_px),
        Stroke::CENTRE,
    );
    pencil.words(
        (paper.section_right_px + 18.0, paper.axis_px + 4.0),
        Hold::Start,
        Colour::QUIET,
        "axis of the crank",
    );
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

fn centre_line(pencil: &mut Pencil, paper: &Paper, shape: &Shape, radius_m: f64) {
    let (back, y) = paper.at((-shape.thickest_m, radius_m));
    pencil.line((back - 8.0, y), (paper.front_px + 8.0, y), Stroke::CENTRE);
}

/// Corners of a hole in the metal that stays, from the engine side.
fn hole_corners(paper: &Paper, shape: &Shape, ring: &HoleRing) -> Option<[Point; 4]> {
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

fn hole(pencil: &mut Pencil, paper: &Paper, shape: &Shape, ring: &HoleRing, stroke: Stroke) {
    if let Some(corners) = hole_corners(paper, shape, ring) {
        pencil.area(&corners, &Colour::PAPER.to_string());
        pencil.outline(&corners, stroke);
    }
    centre_line(pencil, paper, shape, ring.pitch_radius_m.get());
}

fn bored(pencil: &mut Pencil, paper: &Paper, shape: &Shape, ring: &HoleRing, cut: usize) {
    if let Some(corners) = hole_corners(paper, shape, ring) {
        pencil.area(&corners, &format!("url(#cut-{cut})"));
        pencil.outline(&corners, Stroke::solid(look(cut).line(), 1.0));
    }
    centre_line(pencil, paper, shape, ring.pitch_radius_m.get());
}

/// A ring of steel of the extra's mass round the rim, dashed: its true shape is not told.
fn ring_gear(pencil: &mut Pencil, paper: &Paper, shape: &Shape, extra: &Extra, radius_m: f64) {
    let (inner, outer) = if radius_m > shape.rim_m {
        (shape.rim_m, 2.0 * radius_m - shape.rim_m)
    } else {
        centre_line(pencil, paper, shape, radius_m);
        return;
    };
    let area_m2 = PI * (outer.powi(2) - inner.powi(2));
    let wide_m = extra.mass_properties().mass_kg / (NamedMetal::Steel.density_kg_m3() * area_m2);
    let wide_m = wide_m.min(shape.thickest_m);
    let ring = Slice {
        inner_m: inner,
        outer_m: outer,
        back_m: (-wide_m, -wide_m),
        front_m: (0.0, 0.0),
    };
    let middle = -(shape.thickest_m - wide_m) / 2.0;
    let corners: Vec<Point> = ring
        .corners()
        .into_iter()
        .map(|(along, r)| paper.at((along + middle, r)))
        .collect();
    pencil.area(&corners, &Colour::PAPER.to_string());
    pencil.outline(&corners, Stroke::HIDDEN);
}

pub(super) fn scale(pencil: &mut Pencil, paper: &Paper) {
    let (length_m, words) = match paper.system {
        System::Metric => (0.020, "20 mm"),
        System::Imperial => (0.0254, "1 in"),
    };
    let y = paper.axis_px + 20.0;
    let (left, right) = (MARGIN_PX + 4.0, MARGIN_PX + 4.0 + length_m * paper.px_per_m);
    pencil.line((left, y), (right, y), Stroke::solid(Colour::INK, 1.4));
    for end in [left, right] {
        pencil.line(
            (end, y - 4.0),
            (end, y + 4.0),
            Stroke::solid(Colour::INK, 1.0),
        );
    }
    pencil.words((right + 6.0, y + 4.0), Hold::Start, Colour::INK, words);
}
