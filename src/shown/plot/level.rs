//! A level scale by itself, under charts that have no upright one.

use crate::shown::pens::{
    Anchor, CAP_HEIGHT_EM, Colour, Drawn, Line, Pen, Px, Rect, Scale, face, text,
};

/// Free space between two labels.
pub(super) const LABEL_GAP_PX: f64 = 12.0;

/// Length of a tick.
const TICK_PX: f64 = 5.0;

/// The finest scale over values whose labels find room in a width.
pub(super) fn level_scale(values: Vec<f64>, width: f64, size: f64) -> Scale {
    let fits = |scale: &Scale| {
        let widths = scale
            .labels()
            .into_iter()
            .map(|label| text::width(&label, size) + LABEL_GAP_PX);
        widths.sum::<f64>() <= width
    };
    (2..=11)
        .rev()
        .map(|about| Scale::over(values.iter().copied(), about))
        .find(fits)
        .unwrap_or_else(|| Scale::over(values, 2))
}

/// A level axis along the foot of a plot, its ticks and their labels.
pub(super) fn draw_level_scale(pen: &Pen<'_>, scale: &Scale, plot: &Rect, size: f64) -> Drawn {
    let axis = Line::solid(Colour::AXIS, 1.0);
    for (x, label) in ticks_across(scale, plot).zip(scale.labels()) {
        draw_tick(pen, Px::new(x, plot.bottom), &label, (size, axis))?;
    }
    let ends = [
        Px::new(plot.left, plot.bottom),
        Px::new(plot.right, plot.bottom),
    ];
    pen.line(&ends, axis)
}

/// Where the ticks stand across a plot.
pub(super) fn ticks_across(scale: &Scale, plot: &Rect) -> impl Iterator<Item = f64> {
    let across = |tick: &f64| plot.left + scale.share(*tick) * plot.width();
    scale.ticks.iter().map(across)
}

/// A tick under a point, and its label.
pub(super) fn draw_tick(pen: &Pen<'_>, foot: Px, label: &str, (size, axis): (f64, Line)) -> Drawn {
    pen.line(&[foot, foot.shifted(0.0, TICK_PX)], axis)?;
    let baseline = 2.0 * TICK_PX - 1.0 + size * CAP_HEIGHT_EM;
    let face = face(size, Colour::QUIET, Anchor::Middle);
    pen.text(foot.shifted(0.0, baseline), label, face)
}
