//! The parts of a line chart: brackets at the foot, end labels, marks, reference lines.

use super::canvas::{Anchor, CAP_HEIGHT_EM, Line, Paint};
use super::labels::{Labels, Wish};
use super::lines::{
    END_LABEL_EM, LEADER_PX, LineChart, Mark, MarkKind, Rule, Series, Spots, runs, series_line,
};
use super::page::Page;
use super::palette::{Colour, Look};
use super::panel::{NO_VALUES, Panel};
use super::pen::{Drawn, GLYPH_REACH_PX, Pen, face};
use super::place::{Px, Rect, Room, Wanted, pushed_apart};
use super::text;
use super::ticks::drawable;

/// Height of the row that holds one bracket.
const LANE_PX: f64 = 13.0;

/// Height of the ticks that end a bracket.
const BRACKET_PX: f64 = 8.0;

/// Glyphs along a line when there are to be few.
const FEW_SPOTS: f64 = 5.0;

/// Distance between the samples of a line that labels keep off.
const SAMPLE_STEP_PX: f64 = 6.0;

/// Half the size of a marked point.
const MARK_REACH_PX: f64 = 6.5;

/// No glyph is set closer than this to a marked point.
const CLEAR_PX: f64 = 16.0;

/// How reference lines are drawn.
pub(super) const RULE: Line = Line {
    colour: Colour::QUIET,
    width_px: 1.1,
    dash: &[4.0, 3.0],
};

/// The windows of the series, one bracket to a row under the range of y.
pub(super) struct Lanes<'c> {
    windows: Vec<(Look, f64, f64)>,
    name: &'c str,
    size: f64,
}

impl<'c> Lanes<'c> {
    pub(super) fn new(chart: &'c LineChart, page: &Page<'_>) -> Self {
        let windows = chart
            .series
            .iter()
            .filter_map(|series| {
                let (one, two) = series.window?;
                (drawable(one) && drawable(two)).then(|| (series.look, one.min(two), one.max(two)))
            })
            .collect();
        Self {
            windows,
            name: chart.window_name.as_deref().unwrap_or_default(),
            size: page.fonts.small,
        }
    }

    fn name_height(&self) -> f64 {
        if self.name.is_empty() {
            4.0
        } else {
            self.size * 1.5
        }
    }

    pub(super) fn height(&self) -> f64 {
        if self.windows.is_empty() {
            return 0.0;
        }
        let rows = f64::from(u32::try_from(self.windows.len()).unwrap_or(u32::MAX));
        self.name_height() + rows * LANE_PX + 4.0
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, panel: &Panel<'_>) -> Drawn {
        if self.windows.is_empty() {
            return Ok(());
        }
        let name = Px::new(panel.plot.left + 6.0, panel.base + self.size * 1.2);
        let room = panel.plot.width() - 12.0;
        let width = text::width(self.name, self.size).min(room);
        let plate = Rect::new(
            name.x,
            name.y - self.size * 0.9,
            name.x + width,
            name.y + self.size * 0.25,
        );
        pen.fill(&plate, Colour::PAPER)?;
        let face = face(self.size, Colour::QUIET, Anchor::Start);
        pen.text_within(name, self.name, room, face)?;
        let mut middle = panel.base + self.name_height() + LANE_PX / 2.0;
        for (look, low, high) in &self.windows {
            let (left, right) = (panel.at(*low, 0.0).x, panel.at(*high, 0.0).x);
            pen.line(
                &[Px::new(left, middle), Px::new(right, middle)],
                series_line(*look),
            )?;
            for end in [left, right] {
                let tick = Line::solid(look.line(), series_line(*look).width_px);
                pen.line(
                    &[
                        Px::new(end, middle - BRACKET_PX / 2.0),
                        Px::new(end, middle + BRACKET_PX / 2.0),
                    ],
                    tick,
                )?;
            }
            let centre = Px::new(f64::midpoint(left, right), middle);
            pen.glyph(centre, look.glyph(), look.line())?;
            middle += LANE_PX;
        }
        Ok(())
    }
}

/// Whether any point of a series can be drawn.
pub(super) fn has_values(series: &Series) -> bool {
    series
        .points
        .iter()
        .any(|(x, y)| drawable(*x) && y.is_some_and(drawable))
}

/// The name at the end of a line; one without any value says so.
pub(super) fn end_name(series: &Series) -> String {
    if has_values(series) || series.name.is_empty() {
        series.name.clone()
    } else {
        format!("{}: {NO_VALUES}", series.name)
    }
}

pub(super) fn draw_end_labels(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    series: &[Series],
    page: &Page<'_>,
) -> Drawn {
    let size = page.fonts.body;
    let ends: Vec<Option<Px>> = series
        .iter()
        .map(|series| {
            let runs = runs(panel, &series.points);
            runs.last().and_then(|run| run.last()).copied()
        })
        .collect();
    let wanted: Vec<Wanted> = ends
        .iter()
        .map(|end| Wanted {
            centre: end.map_or(panel.base, |end| end.y),
            length: size * END_LABEL_EM,
        })
        .collect();
    let Some(centres) = pushed_apart(&wanted, panel.plot.top - size, panel.plot.bottom) else {
        return Ok(());
    };
    let column = panel.plot.right + LEADER_PX;
    for ((series, end), centre) in series.iter().zip(&ends).zip(centres) {
        if let Some(end) = end {
            let elbow = Px::new(column - 4.0, centre);
            let from = end.shifted(3.0, 0.0);
            if from.distance(elbow) > LEADER_PX - 6.0 || (end.y - centre).abs() > 1.5 {
                pen.line(&[from, elbow], Line::solid(series.look.line(), 0.8))?;
            }
        }
        pen.text(
            Px::new(column, centre + size * CAP_HEIGHT_EM / 2.0),
            &end_name(series),
            face(size, series.look.text(), Anchor::Start),
        )?;
    }
    Ok(())
}

/// Points along a stretch, close enough that a label cannot slip between them.
pub(super) fn sampled(run: &[Px]) -> Vec<Px> {
    let mut samples: Vec<Px> = run.first().copied().into_iter().collect();
    for pair in run.windows(2) {
        let [from, to] = pair else { continue };
        let steps = (from.distance(*to) / SAMPLE_STEP_PX).ceil().max(1.0);
        let mut step = 1.0;
        while step <= steps {
            let share = step / steps;
            samples.push(from.shifted((to.x - from.x) * share, (to.y - from.y) * share));
            step += 1.0;
        }
    }
    samples
}

pub(super) fn draw_spots(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    series: &Series,
    runs: &[Vec<Px>],
) -> Drawn {
    let glyph = |at: &Px| pen.glyph(*at, series.look.glyph(), series.look.line());
    let points: Vec<Px> = runs.iter().flatten().copied().collect();
    let lone = runs.iter().filter(|run| run.len() == 1).flatten();
    match series.spots {
        Spots::Every => points.iter().try_for_each(glyph),
        // A point between two gaps has no line: without its glyph it would vanish.
        Spots::None => lone.into_iter().try_for_each(glyph),
        Spots::Few => {
            // A glyph close to a marked point would only blur it.
            let marks: Vec<Px> = series
                .marks
                .iter()
                .filter(|mark| drawable(mark.x) && drawable(mark.y))
                .map(|mark| panel.at(mark.x, mark.y))
                .collect();
            let clear = |spot: &&Px| marks.iter().all(|at| at.distance(**spot) > CLEAR_PX);
            let spots = few_spots(&points, series.look);
            spots.iter().filter(clear).try_for_each(glyph)?;
            lone.into_iter().try_for_each(glyph)
        }
    }
}

/// A few points of a line, evenly spaced in x and out of step with the next look's.
fn few_spots(points: &[Px], look: Look) -> Vec<Px> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let phase = f64::from(u32::try_from(look.index() % 4).unwrap_or(0)) / 4.0;
    let mut spots: Vec<Px> = Vec::new();
    let mut count = 0.25 + phase * 0.75;
    while count < FEW_SPOTS {
        let x = first.x + (last.x - first.x) * count / FEW_SPOTS;
        let nearest = points
            .iter()
            .min_by(|a, b| (a.x - x).abs().total_cmp(&(b.x - x).abs()));
        if let Some(nearest) = nearest
            && spots.last() != Some(nearest)
        {
            spots.push(*nearest);
        }
        count += 1.0;
    }
    spots
}

/// The two ends of a reference line; none if its value cannot be drawn.
pub(super) fn rule_line(panel: &Panel<'_>, rule: &Rule) -> Vec<Px> {
    let plot = &panel.plot;
    match rule {
        Rule::Upright { x, .. } if drawable(*x) => {
            let x = panel.at(*x, 0.0).x;
            vec![Px::new(x, plot.top), Px::new(x, plot.bottom)]
        }
        Rule::Level { y, .. } if drawable(*y) => {
            let y = panel.at(0.0, *y).y;
            vec![Px::new(plot.left, y), Px::new(plot.right, y)]
        }
        _ => Vec::new(),
    }
}

pub(super) fn place_rule_label<'r>(
    panel: &Panel<'_>,
    rule: &'r Rule,
    room: &mut Room,
    labels: &mut Labels<'r>,
    size: f64,
) {
    let (Rule::Upright { label, .. } | Rule::Level { label, .. }) = rule;
    let plot = &panel.plot;
    let wish = Wish {
        text: label,
        size,
        colour: Colour::QUIET,
        widest: plot.width() * 0.7,
    };
    let (width, height) = wish.extent();
    let corners: Vec<(f64, f64)> = match rule {
        Rule::Upright { x, .. } if drawable(*x) => {
            let x = panel.at(*x, 0.0).x;
            rows(plot.top + 1.0, panel.base, height)
                .flat_map(|top| [(x + 3.0, top), (x - 3.0 - width, top)])
                .collect()
        }
        Rule::Level { y, .. } if drawable(*y) => {
            let y = panel.at(0.0, *y).y;
            rows(width, plot.width(), 12.0)
                .flat_map(|back| {
                    let left = plot.right - back;
                    [(left, y - height - 2.0), (left, y + 2.0)]
                })
                .collect()
        }
        _ => Vec::new(),
    };
    let offered = corners
        .into_iter()
        .map(|(left, top)| Rect::new(left, top, left + width, top + height));
    labels.on_one_of(room, offered, wish);
}

fn rows(from: f64, to: f64, step: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(from), move |at| Some(at + step)).take_while(move |at| *at <= to)
}

/// A mark with its place and the look of its series.
pub(super) struct Placed<'s> {
    mark: &'s Mark,
    look: Look,
    at: Px,
}

/// The marks that can be drawn; their ground is taken.
pub(super) fn placed_marks<'s>(
    panel: &Panel<'_>,
    series: &'s [Series],
    room: &mut Room,
) -> Vec<Placed<'s>> {
    let side = 2.0 * MARK_REACH_PX;
    series
        .iter()
        .flat_map(|series| series.marks.iter().map(|mark| (series.look, mark)))
        .filter(|(_, mark)| drawable(mark.x) && drawable(mark.y))
        .map(|(look, mark)| {
            let at = panel.at(mark.x, mark.y);
            room.take(Rect::about(at, side, side));
            Placed { mark, look, at }
        })
        .collect()
}

impl<'s> Placed<'s> {
    pub(super) fn place_label(
        &self,
        room: &mut Room,
        labels: &mut Labels<'s>,
        size: f64,
        widest: f64,
    ) {
        let wish = Wish {
            text: &self.mark.label,
            size,
            colour: self.look.text(),
            widest,
        };
        labels.near(room, self.at, self.look.line(), wish);
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) -> Drawn {
        draw_mark(pen, self.at, self.mark.kind, self.look)
    }
}

/// The sign of a marked point: a ring for the quickest, a bull's-eye for the aim.
pub(super) fn draw_mark(pen: &Pen<'_>, at: Px, kind: MarkKind, look: Look) -> Drawn {
    let ring = |radius: f64, width: f64| {
        let paint = Paint {
            fill: Some(Colour::PAPER),
            line: Some(Line::solid(look.line(), width)),
        };
        pen.disc(at, radius, paint)
    };
    match kind {
        MarkKind::Quickest => ring(MARK_REACH_PX - 1.5, 2.2),
        MarkKind::Aim => {
            ring(MARK_REACH_PX, 1.8)?;
            let dot = Paint {
                fill: Some(look.line()),
                line: None,
            };
            pen.disc(at, MARK_REACH_PX * 0.45, dot)
        }
        MarkKind::Plain => pen.glyph_sized(at, look.glyph(), look.line(), GLYPH_REACH_PX + 0.8),
    }
}
