//! The parts of a cell map: its steps of colour, their legend, the cells, the labelled borders.

use super::canvas::{Anchor, CAP_HEIGHT_EM};
use super::cells::{Cells, Shade};
use super::labels::{Labels, Wish};
use super::page::Fonts;
use super::palette::Colour;
use super::panel::Panel;
use super::pen::{Drawn, Pen, face};
use super::place::{Px, Rect, Room};
use super::ticks::Scale;
use super::{Axis, hatch, text};

/// Steps of colour aimed for.
const STEPS_AIMED_FOR: usize = 6;

/// Widest and lowest box of the legend.
const BOX_PX: (f64, f64) = (64.0, 14.0);

/// Neighbouring cells overlap by this, so that no paper shows between them.
const SEAM_PX: f64 = 1.0;

/// Half the extent given to a lone row or column.
const LONE_HALF_EXTENT: f64 = 0.5;

/// Edges of cells about their rising middles: half-way between neighbours, as far outside.
pub(super) fn cell_edges(middles: &[f64]) -> Vec<f64> {
    let mut edges: Vec<f64> = middles
        .windows(2)
        .filter_map(|pair| match pair {
            [one, two] => Some(f64::midpoint(*one, *two)),
            _ => None,
        })
        .collect();
    let (Some(first), Some(last)) = (middles.first(), middles.last()) else {
        return Vec::new();
    };
    let reach = |edge: Option<&f64>, middle: f64| {
        edge.map_or(LONE_HALF_EXTENT, |edge| (edge - middle).abs())
    };
    let low = first - reach(edges.first(), *first);
    let high = last + reach(edges.last(), *last);
    edges.insert(0, low);
    edges.push(high);
    edges
}

/// Steps of colour with round limits.
pub(super) struct Classes {
    scale: Scale,
    shade: Shade,
}

impl Classes {
    pub(super) fn of(values: impl Iterator<Item = f64>, shade: Shade) -> Self {
        let values: Vec<f64> = values.collect();
        let scale = (2..=STEPS_AIMED_FOR)
            .rev()
            .map(|steps| Scale::over(values.iter().copied(), steps + 1))
            .find(|scale| scale.ticks.len() <= Colour::STEPS.len() + 1)
            .unwrap_or_else(|| Scale::over(values.iter().copied(), 2));
        Self { scale, shade }
    }

    fn count(&self) -> usize {
        self.scale.ticks.len().saturating_sub(1)
    }

    fn limits(&self) -> &[f64] {
        &self.scale.ticks
    }

    /// The step a value falls in; one on a limit falls in the step above.
    fn step_of(&self, value: f64) -> usize {
        let passed = self
            .limits()
            .iter()
            .filter(|limit| **limit <= value)
            .count();
        passed.clamp(1, self.count().max(1)) - 1
    }

    /// The colour of a step: the scale's ends where there are several, evenly between.
    fn colour(&self, step: usize) -> Colour {
        let last = self.count().max(2) - 1;
        let step = match self.shade {
            Shade::HighIsDark => step,
            Shade::LowIsDark => last.saturating_sub(step),
        };
        let darkest = Colour::STEPS.len() - 1;
        let index = (step * darkest + last / 2) / last;
        Colour::STEPS
            .get(index.min(darkest))
            .copied()
            .unwrap_or(Colour::WASH)
    }
}

/// The legend of the steps: a row of boxes with the limits under their borders.
pub(super) struct Legend<'m> {
    title: String,
    classes: &'m Classes,
    width: f64,
    box_width: f64,
    inset: f64,
    size: f64,
}

impl<'m> Legend<'m> {
    pub(super) fn new(axis: &Axis, classes: &'m Classes, width: f64, fonts: Fonts) -> Self {
        let size = fonts.small;
        let widest = classes
            .scale
            .labels()
            .iter()
            .map(|label| text::width(label, size))
            .fold(0.0, f64::max);
        let boxes = f64::from(u32::try_from(classes.count().max(1)).unwrap_or(1));
        Self {
            title: axis.title(),
            classes,
            width,
            box_width: ((width - widest) / boxes).min(BOX_PX.0.max(widest + 10.0)),
            inset: widest / 2.0,
            size,
        }
    }

    /// Width from the left edge to the end of the last limit.
    pub(super) fn width(&self) -> f64 {
        let boxes = f64::from(u32::try_from(self.classes.count()).unwrap_or(u32::MAX));
        let row = boxes * self.box_width + 2.0 * self.inset;
        row.max(text::width(&self.title, self.size)).min(self.width)
    }

    /// Height of the middle of the boxes.
    pub(super) fn middle(&self) -> f64 {
        self.size * 1.5 + BOX_PX.1 / 2.0
    }

    pub(super) fn height(&self) -> f64 {
        self.size * 1.5 + BOX_PX.1 + self.size * 1.5 + 8.0
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, at: Px) -> Drawn {
        let title = at.shifted(0.0, self.size * CAP_HEIGHT_EM + 2.0);
        let ink = face(self.size, Colour::INK, Anchor::Start);
        pen.text_within(title, &self.title, self.width, ink)?;
        let top = at.y + self.size * 1.5;
        let mut left = at.x + self.inset;
        for step in 0..self.classes.count() {
            let rect = Rect::new(left, top, left + self.box_width, top + BOX_PX.1);
            pen.fill(&rect, self.classes.colour(step))?;
            pen.outline(&rect, Colour::AXIS)?;
            left = rect.right;
        }
        let mut left = at.x + self.inset;
        for label in self.classes.scale.labels() {
            let baseline = top + BOX_PX.1 + 4.0 + self.size * CAP_HEIGHT_EM;
            let quiet = face(self.size, Colour::QUIET, Anchor::Middle);
            pen.text(Px::new(left, baseline), &label, quiet)?;
            left += self.box_width;
        }
        Ok(())
    }
}

pub(super) fn draw_cells(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    cells: &Cells,
    classes: &Classes,
) -> Drawn {
    for (row, edges) in cells.values.iter().zip(cells.row_edges.windows(2)) {
        let [low, high] = edges else { continue };
        let mut from = 0;
        for stretch in row.chunk_by(|one, two| {
            one.map(|value| classes.step_of(value)) == two.map(|value| classes.step_of(value))
        }) {
            let to = from + stretch.len();
            let ends = (cells.column_edges.get(from), cells.column_edges.get(to));
            if let (Some(left), Some(right)) = ends {
                let (top_left, bottom_right) = (panel.at(*left, *high), panel.at(*right, *low));
                let rect = Rect::new(
                    top_left.x,
                    (top_left.y - SEAM_PX).max(panel.plot.top),
                    (bottom_right.x + SEAM_PX).min(panel.plot.right),
                    bottom_right.y,
                );
                match stretch.first().copied().flatten() {
                    Some(value) => pen.fill(&rect, classes.colour(classes.step_of(value)))?,
                    None => hatch::fill_missing(pen, &rect)?,
                }
            }
            from = to;
        }
    }
    Ok(())
}

/// Writes each limit once on the border it stands for.
pub(super) fn draw_contour_labels(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    cells: &Cells,
    classes: &Classes,
    room: &mut Room,
    size: f64,
) -> Drawn {
    let inner = classes.limits().iter().skip(1);
    let limits: Vec<(f64, String)> = inner
        .take(classes.count().saturating_sub(1))
        .map(|limit| (*limit, text::number(*limit, classes.scale.decimals)))
        .collect();
    let mut labels = Labels::default();
    for (limit, text) in &limits {
        let wish = Wish {
            text,
            size,
            colour: Colour::INK,
            widest: panel.plot.width(),
        };
        let (width, height) = wish.extent();
        let spots = border(panel, cells, *limit);
        // From the middle of the border outward.
        let middle = spots.len() / 2;
        let mut ranked: Vec<(usize, Px)> = spots.into_iter().enumerate().collect();
        ranked.sort_by_key(|(nth, _)| nth.abs_diff(middle));
        let offered = ranked
            .into_iter()
            .map(|(_, spot)| Rect::about(spot, width, height));
        labels.on_one_of(room, offered, wish);
    }
    labels.draw(pen)
}

/// Middles of the cell edges that part values below a limit from values on or above it.
fn border(panel: &Panel<'_>, cells: &Cells, limit: f64) -> Vec<Px> {
    let above = |row: usize, column: usize| {
        let value = cells.values.get(row)?.get(column).copied()?;
        value.map(|value| value >= limit)
    };
    let parted = |one: Option<bool>, two: Option<bool>| match (one, two) {
        (Some(one), Some(two)) => one != two,
        _ => false,
    };
    let mut spots = Vec::new();
    for (row, heights) in cells.row_edges.windows(2).enumerate() {
        for (column, widths) in cells.column_edges.windows(2).enumerate() {
            let ([low, high], [left, right]) = (heights, widths) else {
                continue;
            };
            let here = above(row, column);
            if parted(here, above(row, column + 1)) {
                spots.push(panel.at(*right, f64::midpoint(*low, *high)));
            }
            if parted(here, above(row + 1, column)) {
                spots.push(panel.at(f64::midpoint(*left, *right), *high));
            }
        }
    }
    spots
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_edges_lie_half_way_and_close_the_ends() {
        assert_eq!(cell_edges(&[1.0, 2.0, 4.0]), [0.5, 1.5, 3.0, 5.0]);
        assert_eq!(cell_edges(&[7.0]), [6.5, 7.5]);
        assert!(cell_edges(&[]).is_empty());
    }

    #[test]
    fn law_steps_are_few_round_and_each_of_its_own_colour() {
        for (low, high) in [(1.87, 2.31), (0.0, 1.0), (5.0, 5.0), (-3.0, 1200.0)] {
            let classes = Classes::of([low, high].into_iter(), Shade::LowIsDark);
            assert!((1..=Colour::STEPS.len()).contains(&classes.count()));
            let mut colours: Vec<Colour> = (0..classes.count())
                .map(|step| classes.colour(step))
                .collect();
            assert!(
                colours
                    .windows(2)
                    .all(|pair| pair[0].luminance() < pair[1].luminance())
            );
            colours.dedup();
            assert_eq!(colours.len(), classes.count());
            for value in [low, high] {
                let step = classes.step_of(value);
                let (from, to) = (classes.limits()[step], classes.limits()[step + 1]);
                assert!((from..=to).contains(&value), "{value} in {from} to {to}");
            }
        }
    }
}
