//! Dimensions: diameters left of the section, thicknesses and holes right of it.

use super::half_section::HalfSection;
use super::paper::{Form, HEAD_PX, LINE_PX, Paper, TEXT_PX, colours, number, words};
use super::shape::Shape;
use crate::car::inertia::{BuiltUp, ExtraPlace, Section};
use crate::metal::profile::TOUCHING_M;
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Colour, Drawn, Line, Pen, Px, Wanted, pushed_apart, text,
};
use crate::units::System;

/// Between the lowest label and the axis, px.
const OFF_AXIS_PX: f64 = 7.0;

/// What stands beside the axis itself, right of the section.
const AXIS_WORDS: &str = "axis of the crank";

/// One label: the radius it points at, and which pass it belongs to, for its colour.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    radius_m: f64,
    words: String,
    cut: Option<usize>,
}

/// Labels on one side of the section.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column {
    labels: Vec<Label>,
    /// What stands beside the axis itself.
    on_axis: Option<&'static str>,
}

impl Column {
    pub(super) fn width_px(&self, form: Form) -> f64 {
        let words = self.labels.iter().map(|label| label.words.as_str());
        words
            .chain(self.on_axis)
            .map(|words| text::width(words, TEXT_PX))
            .fold(0.0, f64::max)
            .min(form.most_label_px())
    }

    /// What the labels need if all stand in one heap.
    pub(super) fn height_px(&self) -> f64 {
        LINE_PX * self.labels.iter().map(|_| 1.0).sum::<f64>() + OFF_AXIS_PX
    }

    /// Each label with the height it points at and the one it stands at: as near to one another
    /// as can be, none over another and none on the axis.
    fn placed(&self, paper: &Paper) -> Vec<(&Label, f64, f64)> {
        let wanted: Vec<Wanted> = self
            .labels
            .iter()
            .map(|label| Wanted {
                centre: paper.at((0.0, label.radius_m)).y,
                length: LINE_PX,
            })
            .collect();
        let foot = paper.axis_px - OFF_AXIS_PX;
        let stands = pushed_apart(&wanted, foot - self.height_px().max(foot - HEAD_PX), foot);
        let stands = stands.unwrap_or_default();
        let points = wanted.iter().map(|want| want.centre);
        let places = points.zip(stands);
        self.labels
            .iter()
            .zip(places)
            .map(|(label, (points, stands))| (label, points, stands))
            .collect()
    }
}

impl HalfSection<'_> {
    /// Diameters of every edge.
    pub(super) fn diameters(&self, system: System) -> Column {
        let mut labels: Vec<Label> = Vec::new();
        let mut add = |part: &BuiltUp, cut: Option<usize>| {
            for section in part.sections() {
                for radius_m in [section.inner_radius_m(), section.outer_radius_m()] {
                    let known = labels
                        .iter()
                        .any(|label| (label.radius_m - radius_m).abs() <= TOUCHING_M);
                    if radius_m > 0.0 && !known {
                        let words = format!("Ø{}", number(system, 2.0 * radius_m));
                        labels.push(Label {
                            radius_m,
                            words,
                            cut,
                        });
                    }
                }
            }
        };
        add(self.part, None);
        for (index, cut) in self.cuts.iter().enumerate() {
            add(&cut.step.part, Some(index));
        }
        Column {
            labels,
            on_axis: None,
        }
    }

    /// Thickness of what is left, holes and bolts.
    pub(super) fn thicknesses(&self, system: System, shape: &Shape) -> Column {
        let fresh = self.part.holes().len();
        let drilled_by: Vec<usize> = shape
            .taken
            .iter()
            .enumerate()
            .filter_map(|(index, taken)| taken.holes.map(|_| index))
            .collect();
        let holes = self.left().holes().iter().enumerate().map(|(index, ring)| {
            let pitch_m = ring.pitch_radius_m.get();
            let across = number(system, ring.diameter_m.get());
            let circle = number(system, 2.0 * pitch_m);
            Label {
                radius_m: pitch_m,
                words: format!("{}×Ø{across} on Ø{circle}", ring.count),
                cut: index
                    .checked_sub(fresh)
                    .and_then(|nth| drilled_by.get(nth).copied()),
            }
        });
        let extras = self.part.extras().iter().map(|extra| {
            let (radius_m, words) = match extra.place {
                ExtraPlace::Gyration(radius) => (radius.get(), extra.name.clone()),
                ExtraPlace::Points {
                    count,
                    pitch_radius_m,
                } => {
                    let circle = number(system, 2.0 * pitch_radius_m.get());
                    let words = format!("{count} {} Ø{circle}", extra.name);
                    (pitch_radius_m.get(), words)
                }
            };
            Label {
                radius_m,
                words,
                cut: None,
            }
        });
        let mut labels = self.thickness_labels(system);
        labels.extend(holes.chain(extras));
        Column {
            labels,
            on_axis: Some(AXIS_WORDS),
        }
    }

    /// One label for each thickness of what is left; where a cut parts metal of one thickness,
    /// its widest ring carries the label for all.
    fn thickness_labels(&self, system: System) -> Vec<Label> {
        let width = |section: &Section| section.outer_radius_m() - section.inner_radius_m();
        let mut kept: Vec<(Option<usize>, String, Section)> = Vec::new();
        for section in self.left().sections() {
            let (a, b) = (section.thickness_inner_m(), section.thickness_outer_m());
            let words = if (a - b).abs() < TOUCHING_M {
                format!("{} thick", number(system, a))
            } else {
                format!("{} to {} thick", number(system, a), number(system, b))
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
            .map(|(_, words, section)| Label {
                radius_m: middle_m(&section),
                words,
                cut: self.cut_of(&section),
            })
            .collect()
    }

    /// The pass that gave a ring its thickness; `None` if it has it from the start.
    fn cut_of(&self, ring: &Section) -> Option<usize> {
        let thickness = |part: &BuiltUp| {
            let home = home_of(part, ring)?;
            let section = part.sections().get(home)?;
            Some(section.thickness_at_m(middle_m(ring)))
        };
        let parts = std::iter::once(self.part).chain(self.cuts.iter().map(|cut| &cut.step.part));
        let all: Vec<Option<f64>> = parts.map(thickness).collect();
        all.windows(2).rposition(|pair| match pair {
            [Some(before), Some(after)] => (before - after).abs() > TOUCHING_M,
            _ => false,
        })
    }
}

pub(super) fn draw_left(pen: &Pen<'_>, paper: &Paper, shape: &Shape, column: &Column) -> Drawn {
    for (label, points, stands) in column.placed(paper) {
        let words_end = Px::new(paper.left_words_px, stands);
        let edge = paper.at((shape.back_at_m(label.radius_m), 0.0)).x - 2.0;
        let way = [
            words_end.shifted(3.0, 0.0),
            Px::new(paper.left_words_px + paper.leader_px / 2.0, points),
            Px::new(edge, points),
        ];
        draw(pen, paper, label, words_end, Anchor::End, &way)?;
    }
    Ok(())
}

pub(super) fn draw_right(pen: &Pen<'_>, paper: &Paper, column: &Column) -> Drawn {
    for (label, points, stands) in column.placed(paper) {
        let words_start = Px::new(paper.right_words_px, stands);
        let way = [
            Px::new(paper.front_px + 1.5, points),
            Px::new(paper.right_words_px - paper.leader_px / 2.0, points),
            words_start.shifted(-3.0, 0.0),
        ];
        draw(pen, paper, label, words_start, Anchor::Start, &way)?;
    }
    let axis = Px::new(
        paper.right_words_px,
        paper.axis_px + TEXT_PX * CAP_HEIGHT_EM / 2.0,
    );
    let quiet = words(Colour::QUIET, Anchor::Start);
    pen.text(axis, AXIS_WORDS, quiet)
}

fn draw(pen: &Pen<'_>, paper: &Paper, label: &Label, at: Px, anchor: Anchor, way: &[Px]) -> Drawn {
    let (line, text) = colours(label.cut);
    pen.line(way, Line::solid(line, 0.7))?;
    let baseline = at.shifted(0.0, TEXT_PX * CAP_HEIGHT_EM / 2.0);
    // Widths are compared as sums: leave room for round-off.
    let room = paper.form.most_label_px() + 0.5;
    pen.text_within(baseline, &label.words, room, words(text, anchor))
}

fn middle_m(ring: &Section) -> f64 {
    f64::midpoint(ring.inner_radius_m(), ring.outer_radius_m())
}

/// Which section of a wheel a ring is part of.
fn home_of(part: &BuiltUp, ring: &Section) -> Option<usize> {
    let middle = middle_m(ring);
    part.sections()
        .iter()
        .position(|s| s.inner_radius_m() < middle && middle < s.outer_radius_m())
}
