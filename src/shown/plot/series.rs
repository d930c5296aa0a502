//! One line of a chart: its points, its glyphs and its name at the end.

use super::mark::Mark;
use super::page::Page;
use super::panel::{NO_VALUES, Panel};
use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Drawn, Line, Look, Pen, Px, Wanted, drawable, face, pushed_apart,
};

/// Pairs of x and y in the order drawn; a missing y leaves a gap.
pub type Curve = Vec<(f64, Option<f64>)>;

/// Width of a series line.
const SERIES_PX: f64 = 2.2;

/// Line height of end labels in ems.
pub(super) const END_LABEL_EM: f64 = 1.3;

/// Gap between the plot and the end labels, room for leader lines.
pub(super) const LEADER_PX: f64 = 16.0;

/// Glyphs along a line when there are to be few.
const FEW_SPOTS: f64 = 5.0;

/// Distance between the samples of a line that labels keep off.
const SAMPLE_STEP_PX: f64 = 6.0;

/// No glyph is set closer than this to a marked point.
const CLEAR_PX: f64 = 16.0;

/// Where along a line its glyph is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spots {
    /// A handful, evenly spaced: for curves of many points.
    #[default]
    Few,
    /// At every point: for measured values.
    Every,
    /// Nowhere.
    None,
}

/// One named line.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Its name.
    pub name: String,
    /// How it is drawn.
    pub look: Look,
    /// Its points.
    pub points: Curve,
    /// A second, thinner line of the same thing, such as input-shaft speed under engine speed.
    pub companion: Curve,
    /// Where its glyph is set.
    pub spots: Spots,
    /// A window on the x axis, drawn as a bracket at the foot of the plot.
    pub window: Option<(f64, f64)>,
    /// Its marked points.
    pub marks: Vec<Mark>,
}

impl Series {
    /// A line with neither companion, window nor marks.
    pub fn new(name: impl Into<String>, look: Look, points: Curve) -> Self {
        Self {
            name: name.into(),
            look,
            points,
            companion: Vec::new(),
            spots: Spots::Few,
            window: None,
            marks: Vec::new(),
        }
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

/// How the line of a series is drawn.
pub(super) fn series_line(look: Look) -> Line {
    Line {
        colour: look.line(),
        width_px: SERIES_PX,
        dash: look.dash(),
    }
}

/// The unbroken stretches of a curve in pixels; a lone point is a stretch of one.
pub(super) fn runs(panel: &Panel<'_>, curve: &Curve) -> Vec<Vec<Px>> {
    let mut runs: Vec<Vec<Px>> = Vec::new();
    let mut open = false;
    for (x, y) in curve {
        match y.filter(|y| drawable(*y) && drawable(*x)) {
            Some(y) => {
                let point = panel.at(*x, y);
                match runs.last_mut() {
                    Some(run) if open => run.push(point),
                    _ => runs.push(vec![point]),
                }
                open = true;
            }
            None => open = false,
        }
    }
    runs
}
