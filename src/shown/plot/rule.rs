//! Reference lines through a plot, and their labels.

use super::labels::{Labels, Wish};
use super::panel::Panel;
use crate::shown::pens::{Colour, Line, Px, Rect, Room, drawable};

/// How reference lines are drawn.
pub(super) const RULE: Line = Line {
    colour: Colour::QUIET,
    width_px: 1.1,
    dash: &[4.0, 3.0],
};

/// A reference line through the plot.
#[derive(Debug, Clone, PartialEq)]
pub enum Rule {
    /// Upright, at an x.
    Upright {
        /// Where.
        x: f64,
        /// What it stands for.
        label: String,
    },
    /// Level, at a y.
    Level {
        /// Where.
        y: f64,
        /// What it stands for.
        label: String,
    },
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
