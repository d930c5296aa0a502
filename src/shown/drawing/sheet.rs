//! The drawing put together: section, dimensions, stress, legend.

use super::labels::{Label, spread};
use super::pencil::{CHARACTER_EM, Hold, Pencil, Point, Stroke, TEXT_PX, broken, hatch};
use super::shape::{Shape, Slice};
use super::stress::Panel;
use crate::car::inertia::{BuiltUp, Extra, ExtraPlace, HoleRing};
use crate::car::material::NamedMetal;
use crate::metal::cut::CutStep;
use crate::metal::disc::{BURST_KILLS, CRACK_TEST, LAST_WORD, SCREENING};
use crate::metal::profile::TOUCHING_M;
use crate::shown::chart::{Colour, Look};
use crate::shown::text::refusal_words;
use crate::study::ledger::DiscStanding;
use crate::units::{Kind, System};
use std::f64::consts::PI;

/// Room for diameters left of the section, px.
const LEFT_PX: f64 = 74.0;
/// Room for thicknesses and holes right of it, px.
const RIGHT_PX: f64 = 138.0;
/// Width of the stress panel, px.
const PANEL_PX: f64 = 140.0;
/// Clear space on every side, px.
const MARGIN_PX: f64 = 12.0;
/// Height that the wheel's radius is drawn at, px.
const RADIUS_PX: f64 = 330.0;
/// Height of the words above the section, px.
const HEAD_PX: f64 = 58.0;
/// Room under the axis for the scale and the stress axis, px.
const UNDER_AXIS_PX: f64 = 70.0;
/// Line height of text, px.
const LINE_PX: f64 = 14.5;
/// Characters of a label at most.
const LABEL_CHARACTERS: usize = 22;

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

/// Where things lie on the paper.
#[derive(Debug, Clone, Copy)]
struct Paper {
    system: System,
    px_per_m: f64,
    /// The clutch side, px from the left.
    front_px: f64,
    /// The crank's axis, px from the top.
    axis_px: f64,
    width_px: f64,
    section_right_px: f64,
}

impl Paper {
    fn at(&self, (along_m, radius_m): Point) -> Point {
        (
            self.front_px + along_m * self.px_per_m,
            self.axis_px - radius_m * self.px_per_m,
        )
    }

    fn corners(&self, slice: &Slice) -> Vec<Point> {
        slice.corners().into_iter().map(|at| self.at(at)).collect()
    }

    /// A dimension, its unit told once for the whole drawing.
    fn number(&self, length_m: f64) -> String {
        let decimals = match self.system {
            System::Metric => 2,
            System::Imperial => 3,
        };
        let value = self.system.value(length_m, Kind::Length);
        format!("{value:.decimals$}")
    }
}

impl HalfSection<'_> {
    /// The drawing as SVG; `None` where the sections overlap, so that there is no one shape.
    pub fn svg(&self, system: System) -> Option<String> {
        let steps: Vec<&CutStep> = self.cuts.iter().map(|cut| cut.step).collect();
        let shape = Shape::of(self.part, &steps)?;
        let checked = self.disc.check().is_some()
            || self.disc_after.is_some_and(|disc| disc.check().is_some());
        let paper = paper(&shape, self.part, system, checked);
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
        let unit = paper.system.unit(Kind::Length).symbol;
        let most = fitting(paper.width_px - 2.0 * MARGIN_PX, TEXT_PX);
        pencil.words(
            (MARGIN_PX, 40.0),
            Hold::Start,
            Colour::QUIET,
            &short(
                &format!("Half section, to scale. Dimensions in {unit}, ⌀ diameter."),
                most,
            ),
        );
    }

    /// Ring gear, bolts, holes.
    fn fastened(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
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

    /// Diameters of every edge, left of the section.
    fn diameters(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
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
                let words = format!("⌀{}", paper.number(2.0 * radius_m));
                Label::new(paper.at((0.0, radius_m)).1, words, cut)
            })
            .collect();
        let back_px = paper.at((-shape.thickest_m, 0.0)).0;
        for label in spread(labels, LINE_PX, paper.axis_px - 4.0) {
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
                    (back_px - 2.0, label.points_at_px),
                ],
                Stroke::solid(line, 0.7),
            );
        }
    }

    /// Thickness of what is left, holes and bolts, right of the section.
    fn thicknesses(&self, pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
        let left = self.cuts.last().map_or(self.part, |cut| &cut.step.part);
        let y = |radius_m: f64| paper.at((0.0, radius_m)).1;
        let sections = left.sections().iter().map(|section| {
            let middle = f64::midpoint(section.inner_radius_m(), section.outer_radius_m());
            let (a, b) = (section.thickness_inner_m(), section.thickness_outer_m());
            let words = if (a - b).abs() < TOUCHING_M {
                format!("{} thick", paper.number(a))
            } else {
                format!("{} to {} thick", paper.number(a), paper.number(b))
            };
            Label::new(y(middle), words, None)
        });
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
                "{}×⌀{} on ⌀{}",
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
                        "{count} {} ⌀{}",
                        extra.name,
                        paper.number(2.0 * pitch_radius_m.get())
                    ),
                ),
            };
            Label::new(y(radius_m), short(&words, LABEL_CHARACTERS), None)
        });
        let labels = sections.chain(holes).chain(extras).collect();
        for label in spread(labels, LINE_PX, paper.axis_px - 4.0) {
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
        let mut y = paper.axis_px + UNDER_AXIS_PX;
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
                    crate::shown::text::verdict_words(check.verdict())
                ),
            ),
            DiscStanding::Refused { reason, lacks } => (
                look(1).text(),
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
            look(1).text(),
            format!("CAUTION: {BURST_KILLS}; {CRACK_TEST}; {LAST_WORD}."),
        ));
        notes
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

/// The look of a cut: blue is left to the stresses.
const fn look(cut: usize) -> Look {
    Look::nth(cut + 1)
}

fn slant(cut: usize) -> f64 {
    /// Slants that a print in black and white tells apart, degrees.
    const SLANTS: [f64; 4] = [-45.0, 0.0, 90.0, -20.0];
    SLANTS.get(cut % SLANTS.len()).copied().unwrap_or(0.0)
}

fn colours(cut: Option<usize>) -> (Colour, Colour) {
    cut.map_or((Colour::AXIS, Colour::INK), |cut| {
        (look(cut).line(), look(cut).text())
    })
}

fn fitting(width_px: f64, text_px: f64) -> usize {
    let mut count = 0_usize;
    let mut used = 0.0;
    while used + CHARACTER_EM * text_px <= width_px {
        used += CHARACTER_EM * text_px;
        count += 1;
    }
    count
}

/// Words cut to so many characters.
fn short(words: &str, most: usize) -> String {
    if words.chars().count() <= most {
        return words.to_owned();
    }
    let kept: String = words.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Outermost radius of anything fastened on, m.
fn reach_m(part: &BuiltUp, rim_m: f64) -> f64 {
    part.extras()
        .iter()
        .map(|extra| match extra.place {
            ExtraPlace::Gyration(radius) => 2.0 * radius.get() - rim_m,
            ExtraPlace::Points { pitch_radius_m, .. } => pitch_radius_m.get(),
        })
        .fold(rim_m, f64::max)
}

fn paper(shape: &Shape, part: &BuiltUp, system: System, panel: bool) -> Paper {
    /// A wheel of odd proportions must not run into its labels.
    const MOST_SECTION_PX: f64 = 150.0;
    let tallest_m = reach_m(part, shape.rim_m).min(2.0 * shape.rim_m);
    let px_per_m = (RADIUS_PX / tallest_m).min(MOST_SECTION_PX / shape.thickest_m);
    let section_px = shape.thickest_m * px_per_m;
    let front_px = MARGIN_PX + LEFT_PX + section_px + 8.0;
    let section_right_px = front_px + 8.0;
    let panel_px = if panel { PANEL_PX } else { 0.0 };
    Paper {
        system,
        px_per_m,
        front_px,
        axis_px: HEAD_PX + tallest_m * px_per_m + 6.0,
        width_px: section_right_px + RIGHT_PX + panel_px + MARGIN_PX,
        section_right_px,
    }
}

fn metal(pencil: &mut Pencil, paper: &Paper, shape: &Shape) {
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

fn scale(pencil: &mut Pencil, paper: &Paper) {
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
