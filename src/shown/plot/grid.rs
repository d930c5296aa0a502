//! The cells of a map: which can be drawn, where they lie, and the borders between steps.

use super::labels::{Labels, Wish};
use super::panel::Panel;
use super::steps::Classes;
use crate::shown::pens::{Colour, Drawn, Pen, Px, Rect, Room, drawable, fill_missing};

/// Neighbouring cells overlap by this, so that no paper shows between them.
const SEAM_PX: f64 = 1.0;

/// Half the extent given to a lone row or column.
const LONE_HALF_EXTENT: f64 = 0.5;

/// Edges of cells about their rising middles: half-way between neighbours, as far outside.
fn cell_edges(middles: &[f64]) -> Vec<f64> {
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

/// The cells that can be drawn, with the edges between them.
pub(super) struct Cells {
    pub(super) column_edges: Vec<f64>,
    pub(super) row_edges: Vec<f64>,
    /// As many rows as `row_edges` has gaps, as many values in each as `column_edges` has.
    pub(super) values: Vec<Vec<Option<f64>>>,
}

impl Cells {
    pub(super) fn of(columns: &[f64], rows: &[f64], values: &[Vec<Option<f64>>]) -> Self {
        let (kept_columns, kept_rows) = (rising(columns), rising(rows));
        let value = |row: usize, column: usize| {
            let value = values.get(row)?.get(column).copied()?;
            value.filter(|value| drawable(*value))
        };
        let middles = |kept: &[usize], all: &[f64]| -> Vec<f64> {
            kept.iter()
                .filter_map(|nth| all.get(*nth).copied())
                .collect()
        };
        Self {
            column_edges: cell_edges(&middles(&kept_columns, columns)),
            row_edges: cell_edges(&middles(&kept_rows, rows)),
            values: kept_rows
                .iter()
                .map(|row| {
                    kept_columns
                        .iter()
                        .map(|column| value(*row, *column))
                        .collect()
                })
                .collect(),
        }
    }

    pub(super) fn holds(&self, x: f64, y: f64) -> bool {
        let within = |edges: &[f64], value: f64| match (edges.first(), edges.last()) {
            (Some(low), Some(high)) => (*low..=*high).contains(&value),
            _ => false,
        };
        within(&self.column_edges, x) && within(&self.row_edges, y)
    }
}

/// The places of the values that go on rising.
fn rising(values: &[f64]) -> Vec<usize> {
    let mut highest = f64::NEG_INFINITY;
    let mut kept = Vec::new();
    for (nth, value) in values.iter().enumerate() {
        if drawable(*value) && *value > highest {
            highest = *value;
            kept.push(nth);
        }
    }
    kept
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
                    None => fill_missing(pen, &rect)?,
                }
            }
            from = to;
        }
    }
    Ok(())
}

/// Writes a mark in the middle of each cell; a mark too wide for its cell is cut.
pub(super) fn draw_marks(
    pen: &Pen<'_>,
    panel: &Panel<'_>,
    cells: &Cells,
    marks: &[Vec<String>],
    size: f64,
) -> Drawn {
    let mut labels = Labels::default();
    for (row, heights) in marks.iter().zip(cells.row_edges.windows(2)) {
        for (mark, widths) in row.iter().zip(cells.column_edges.windows(2)) {
            let ([low, high], [left, right]) = (heights, widths) else {
                continue;
            };
            let ends = (panel.at(*left, *low), panel.at(*right, *high));
            let middle = Px::new(
                f64::midpoint(ends.0.x, ends.1.x),
                f64::midpoint(ends.0.y, ends.1.y),
            );
            let wish = Wish {
                text: mark,
                size,
                colour: Colour::INK,
                widest: (ends.1.x - ends.0.x).abs(),
            };
            labels.right_at(middle, wish);
        }
    }
    labels.draw(pen)
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
    let limits = classes.inner_limits();
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
}
