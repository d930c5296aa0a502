//! Dimensions: diameters left of the section, thicknesses and holes right of it.

use super::labels::{Label, spread};
use super::paper::{LABEL_CHARACTERS, LEFT_PX, LINE_PX, MARGIN_PX, Paper, colours, short};
use super::pencil::{Hold, Pencil, Stroke};
use super::shape::Shape;
use super::sheet::HalfSection;
use crate::car::inertia::{BuiltUp, ExtraPlace, Section};
use crate::metal::profile::TOUCHING_M;

impl HalfSection<'_> {
    /// Diameters of every edge, left of the section.
    pub(super) fn diameters(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
        let mut edges: Vec<(f64, Option<usize>)> = Vec::new();
        let mut add = |part: &BuiltUp, cut: Option<usize>| {
            for section in part.sections() {
                for edge in [section.inner_radius_m(), section.outer_radius_m()] {
                    if edge > 0.0
                        && edges
                            .iter()
                            .all(|(known, _)| (known - edge).abs() > TOUCHING_M)
                    {
                        edges.push((edge, cut));
                    }
                }
            }
        };
        add(self.part, None);
        for (index, cut) in self.cuts.iter().enumerate() {
            add(&cut.step.part, Some(index));
        }
        let labels = edges
            .into_iter()
            .map(|(radius_m, cut)| {
                let words = format!("Ø{}", paper.number(2.0 * radius_m));
                Label::new(paper.at((0.0, radius_m)).1, words, cut)
            })
            .collect();
        let back_px = |y: f64| {
            let radius_m = (paper.axis_px - y) / paper.px_per_m;
            paper.at((shape.back_at_m(radius_m), 0.0)).0
        };
        for label in spread(labels, LINE_PX, paper.axis_px - 14.0) {
            let (line, words) = colours(label.cut);
            let text_right = MARGIN_PX + LEFT_PX - 16.0;
            pencil.words(
                (text_right, label.stands_at_px + 4.0),
                Hold::End,
                words,
                &label.words,
            );
            pencil.polyline(
                &[
                    (text_right + 3.0, label.stands_at_px),
                    (text_right + 14.0, label.points_at_px),
                    (back_px(label.points_at_px) - 2.0, label.points_at_px),
                ],
                Stroke::solid(line, 0.7),
            );
        }
    }

    /// Thickness of what is left, holes and bolts, right of the section.
    pub(super) fn thicknesses(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
        let left = self.cuts.last().map_or(self.part, |cut| &cut.step.part);
        let y = |radius_m: f64| paper.at((0.0, radius_m)).1;
        let sections = self.thickness_labels(paper);
        let fresh = self.part.holes().len();
        let drilled_by: Vec<usize> = shape
            .taken
            .iter()
            .enumerate()
            .filter_map(|(index, taken)| taken.holes.map(|_| index))
            .collect();
        let holes = left.holes().iter().enumerate().map(|(index, ring)| {
            let cut = index
                .checked_sub(fresh)
                .and_then(|nth| drilled_by.get(nth).copied());
            let words = format!(
                "{}×Ø{} on Ø{}",
                ring.count,
                paper.number(ring.diameter_m.get()),
                paper.number(2.0 * ring.pitch_radius_m.get())
            );
            Label::new(y(ring.pitch_radius_m.get()), words, cut)
        });
        let extras = self.part.extras().iter().map(|extra| {
            let (radius_m, words) = match extra.place {
                ExtraPlace::Gyration(radius) => (radius.get(), extra.name.clone()),
                ExtraPlace::Points {
                    count,
                    pitch_radius_m,
                } => (
                    pitch_radius_m.get(),
                    format!(
                        "{count} {} Ø{}",
                        extra.name,
                        paper.number(2.0 * pitch_radius_m.get())
                    ),
                ),
            };
            Label::new(y(radius_m), short(&words, LABEL_CHARACTERS), None)
        });
        let labels = sections.into_iter().chain(holes).chain(extras).collect();
        for label in spread(labels, LINE_PX, paper.axis_px - 14.0) {
            let (line, words) = colours(label.cut);
            let text_left = paper.section_right_px + 18.0;
            pencil.words(
                (text_left, label.stands_at_px + 4.0),
                Hold::Start,
                words,
                &short(&label.words, LABEL_CHARACTERS + 2),
            );
            pencil.polyline(
                &[
                    (paper.front_px + 1.5, label.points_at_px),
                    (paper.section_right_px + 4.0, label.points_at_px),
                    (text_left - 3.0, label.stands_at_px),
                ],
                Stroke::solid(line, 0.7),
            );
        }
    }

    /// One label for each thickness of what is left; where a cut parts metal of one thickness,
    /// its widest ring carries the label for all.
    fn thickness_labels(&self, paper: &Paper) -> Vec<Label> {
        let left = self.cuts.last().map_or(self.part, |cut| &cut.step.part);
        let width = |section: &Section| section.outer_radius_m() - section.inner_radius_m();
        let mut kept: Vec<(Option<usize>, String, Section)> = Vec::new();
        for section in left.sections() {
            let (a, b) = (section.thickness_inner_m(), section.thickness_outer_m());
            let words = if (a - b).abs() < TOUCHING_M {
                format!("{} thick", paper.number(a))
            } else {
                format!("{} to {} thick", paper.number(a), paper.number(b))
            };
            let home = home_of(self.part, section);
            let same = kept
                .iter_mut()
                .find(|(other, said, _)| *other == home && *said == words);
            match same {
                Some((_, _, wider)) if width(section) > width(wider) => *wider = *section,
                Some(_) => {}
                None => kept.push((home, words, *section)),
            }
        }
        kept.into_iter()
            .map(|(_, words, section)| {
                let middle = f64::midpoint(section.inner_radius_m(), section.outer_radius_m());
                Label::new(paper.at((0.0, middle)).1, words, self.cut_of(&section))
            })
            .collect()
    }

    /// The pass that gave a ring its thickness; `None` if it has it from the start.
    fn cut_of(&self, section: &Section) -> Option<usize> {
        let middle = f64::midpoint(section.inner_radius_m(), section.outer_radius_m());
        let thickness = |part: &BuiltUp| {
            let there = part
                .sections()
                .iter()
                .find(|s| s.inner_radius_m() < middle && middle < s.outer_radius_m())?;
            Some(there.thickness_at_m(middle))
        };
        let parts = std::iter::once(self.part).chain(self.cuts.iter().map(|cut| &cut.step.part));
        let all: Vec<Option<f64>> = parts.map(thickness).collect();
        all.windows(2).rposition(|pair| match pair {
            [Some(before), Some(after)] => (before - after).abs() > TOUCHING_M,
            _ => false,
        })
    }
}

/// Which section of the wheel as it is a ring was part of.
fn home_of(part: &BuiltUp, ring: &Section) -> Option<usize> {
    let middle = f64::midpoint(ring.inner_radius_m(), ring.outer_radius_m());
    part.sections()
        .iter()
        .position(|s| s.inner_radius_m() < middle && middle < s.outer_radius_m())
}
