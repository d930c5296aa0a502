//! The parts of a line chart: brackets at the foot, end labels, marks, reference lines.

use super::canvas::{Anchor, CAP_HEIGHT_EM, Line, Paint};
use super::lines::{
    END_LABEL_EM, LEADER_PX, LineChart, MarkKind, Rule, Series, Spots, runs, series_line,
};
use super::page::Page;
use super::palette::{Colour, Look};
use super::panel::Panel;
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

/// How reference lines are drawn.
pub(super) const RULE: Line = Line {
    colour: Colour::QUIET,
    width_px: 1.1,
    dash: &[4.0, 3.0],
};

/// Padding of a label against its surroundings.
const PAD_PX: f64 = 3.0;

/// A label farther than this from its point gets a leader line.
const LEADER_FROM_PX: f64 = 15.0;

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

/// The name at the end of a line; one without any value says so.
pub(super) fn end_name(series: &Series) -> String {
    let has_values = series
        .points
        .iter()
        .any(|(x, y)| drawable(*x) && y.is_some_and(drawable));
    if has_values || series.name.is_empty() {
        series.name.clone()
    } else {
        format!("{}: no values", series.name)
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

pub(super) fn draw_spots(pen: &Pen<'_>, series: &Series, runs: &[Vec<Px>]) -> Drawn {
    let glyph = |at: &Px| pen.glyph(*at, series.look.glyph(), series.look.line());
    let points: Vec<Px> = runs.iter().flatten().copied().collect();
    let lone = runs.iter().filter(|run| run.len() == 1).flatten();
    match series.spots {
        Spots::Every => points.iter().try_for_each(glyph),
        // A point between two gaps has no line: without its glyph it would vanish.
        Spots::None => lone.into_iter().try_for_each(glyph),
        Spots::Few => {
            few_spots(&points, series.look).iter().try_for_each(glyph)?;
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

pub(super) fn draw_rule_label(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    rule: &Rule,
    room: &mut Room,
    size: f64,
) -> Drawn {
    let (Rule::Upright { label, .. } | Rule::Level { label, .. }) = rule;
    if label.is_empty() {
        return Ok(());
    }
    let plot = &panel.plot;
    let width = text::width(label, size).min(plot.width() * 0.7) + 2.0 * PAD_PX;
    let height = size + 2.0 * PAD_PX;
    let offered: Vec<Rect> = match rule {
        Rule::Upright { x, .. } if drawable(*x) => {
            let x = panel.at(*x, 0.0).x;
            rows(plot.top + 1.0, panel.base, height)
                .flat_map(|top| [(x + 3.0, top), (x - 3.0 - width, top)])
                .map(|(left, top)| Rect::new(left, top, left + width, top + height))
                .collect()
        }
        Rule::Level { y, .. } if drawable(*y) => {
            let y = panel.at(0.0, *y).y;
            rows(plot.left + 1.0, plot.right - width, 12.0)
                .flat_map(|left| {
                    let right = plot.right - (left - plot.left) - width;
                    [(right, y - height - 2.0), (right, y + 2.0)]
                })
                .map(|(left, top)| Rect::new(left, top, left + width, top + height))
                .collect()
        }
        _ => Vec::new(),
    };
    match room.quietest(offered) {
        Some(rect) => draw_label(pen, &rect, label, size, Colour::QUIET),
        None => Ok(()),
    }
}

fn rows(from: f64, to: f64, step: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(from), move |at| Some(at + step)).take_while(move |at| *at <= to)
}

/// Text on a plate that keeps the lines behind it off.
pub(super) fn draw_label(
    pen: &Pen<'_>,
    rect: &Rect,
    label: &str,
    size: f64,
    colour: Colour,
) -> Drawn {
    let inner = Rect::new(
        rect.left + 1.0,
        rect.top + 1.0,
        rect.right - 1.0,
        rect.bottom - 1.0,
    );
    pen.fill(&inner, Colour::PAPER)?;
    pen.text_within(
        rect.centre().shifted(0.0, size * CAP_HEIGHT_EM / 2.0),
        label,
        rect.width() - 2.0 * PAD_PX + 0.5,
        face(size, colour, Anchor::Middle),
    )
}

pub(super) fn draw_marks(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    series: &[Series],
    room: &mut Room,
    label_size: Option<f64>,
) -> Drawn {
    let marks: Vec<_> = series
        .iter()
        .flat_map(|series| series.marks.iter().map(|mark| (series.look, mark)))
        .filter(|(_, mark)| drawable(mark.x) && drawable(mark.y))
        .map(|(look, mark)| (look, mark, panel.at(mark.x, mark.y)))
        .collect();
    for (_, _, at) in &marks {
        let side = 2.0 * MARK_REACH_PX;
        room.take(Rect::about(*at, side, side));
    }
    for (look, mark, at) in &marks {
        let Some(size) = label_size.filter(|_| !mark.label.is_empty()) else {
            continue;
        };
        let width = text::width(&mark.label, size).min(panel.plot.width() * 0.6) + 2.0 * PAD_PX;
        if let Some(rect) = room.near(*at, width, size + 2.0 * PAD_PX) {
            draw_leader(pen, *at, &rect, look.line())?;
            draw_label(pen, &rect, &mark.label, size, look.text())?;
        }
    }
    for (look, mark, at) in &marks {
        draw_mark(pen, *at, mark.kind, *look)?;
    }
    Ok(())
}

/// A line from a point to a label that could not stand beside it.
pub(super) fn draw_leader(pen: &Pen<'_>, at: Px, label: &Rect, colour: Colour) -> Drawn {
    let edge = label.grown(-PAD_PX).nearest_to(at);
    if edge.distance(at) < LEADER_FROM_PX {
        return Ok(());
    }
    pen.line(&[at, edge], Line::solid(colour, 0.8))
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
