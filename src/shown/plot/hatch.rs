//! Hatching: patterns that tell areas apart without colour.
//!
//! The strokes are cut to their rectangle here rather than left to SVG patterns: those need names,
//! and two pictures on one page would share them.

use super::canvas::Line;
use super::palette::{Colour, Look};
use super::pen::{Drawn, Pen};
use super::place::{Px, Rect};

/// Distance between strokes.
const SPACING_PX: f64 = 6.0;

/// The strokes of the second round of looks stand farther apart.
const WIDE_SPACING_PX: f64 = 10.0;

/// A pattern of strokes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Pattern {
    Bare,
    Rising,
    Dotted,
    Falling,
    Level,
    Upright,
    Crossed,
    Gridded,
}

const PATTERNS: [Pattern; 8] = [
    Pattern::Bare,
    Pattern::Rising,
    Pattern::Dotted,
    Pattern::Falling,
    Pattern::Level,
    Pattern::Upright,
    Pattern::Crossed,
    Pattern::Gridded,
];

/// The pattern of a look and the distance between its strokes: twelve looks, no two alike.
pub(super) fn pattern_of(look: Look) -> (Pattern, f64) {
    let second_round = look.index() >= PATTERNS.len();
    // The bare pattern has no spacing to change: the second round skips it.
    let index = look.index() + usize::from(second_round);
    let pattern = PATTERNS.iter().cycle().nth(index).copied();
    let spacing = if second_round {
        WIDE_SPACING_PX
    } else {
        SPACING_PX
    };
    (pattern.unwrap_or(Pattern::Bare), spacing)
}

/// Fills a rectangle in the tint and pattern of a look.
pub(super) fn fill_as(pen: &Pen<'_>, rect: &Rect, look: Look) -> Drawn {
    let (pattern, spacing) = pattern_of(look);
    pen.fill(rect, look.tint())?;
    hatch(pen, rect, pattern, spacing, Line::solid(look.line(), 1.0))
}

/// Fills a rectangle as a place without a value.
pub(super) fn fill_missing(pen: &Pen<'_>, rect: &Rect) -> Drawn {
    pen.fill(rect, Colour::WASH)?;
    let line = Line::solid(Colour::AXIS, 0.8);
    hatch(pen, rect, Pattern::Falling, SPACING_PX, line)
}

fn hatch(pen: &Pen<'_>, rect: &Rect, pattern: Pattern, spacing: f64, line: Line) -> Drawn {
    let directions: &[(f64, f64)] = match pattern {
        Pattern::Bare => &[],
        Pattern::Rising => &[(1.0, 1.0)],
        Pattern::Falling => &[(1.0, -1.0)],
        Pattern::Level | Pattern::Dotted => &[(0.0, 1.0)],
        Pattern::Upright => &[(1.0, 0.0)],
        Pattern::Crossed => &[(1.0, 1.0), (1.0, -1.0)],
        Pattern::Gridded => &[(0.0, 1.0), (1.0, 0.0)],
    };
    let line = if pattern == Pattern::Dotted {
        Line {
            width_px: 1.8,
            dash: &[1.0, 2.4],
            ..line
        }
    } else {
        line
    };
    let strokes: Vec<[Px; 2]> = directions
        .iter()
        .flat_map(|direction| strokes(rect, *direction, spacing))
        .collect();
    pen.strokes(&strokes, line)
}

/// The stretches inside a rectangle of the lines `a·x + b·y = k·spacing`, k whole.
fn strokes(rect: &Rect, (a, b): (f64, f64), spacing: f64) -> Vec<[Px; 2]> {
    // Diagonals: the same distance across as along an axis.
    let spacing = spacing * f64::hypot(a, b);
    let levels = rect.corners().map(|corner| a * corner.x + b * corner.y);
    let least = levels.into_iter().fold(f64::INFINITY, f64::min);
    let most = levels.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let mut found = Vec::new();
    // Half a step in, so that no stroke runs along an edge at a round coordinate.
    let mut level = ((least / spacing - 0.5).floor() + 1.5) * spacing;
    while level < most {
        found.extend(cut(rect, (a, b), level));
        level += spacing;
    }
    found
}

fn cut(rect: &Rect, (a, b): (f64, f64), level: f64) -> Option<[Px; 2]> {
    if b == 0.0 {
        let x = level / a;
        return Some([Px::new(x, rect.top), Px::new(x, rect.bottom)]);
    }
    // y falls or rises with x; hold x where y is inside.
    let y_at = |x: f64| (level - a * x) / b;
    if a == 0.0 {
        let y = y_at(0.0);
        return Some([Px::new(rect.left, y), Px::new(rect.right, y)]);
    }
    let x_at = |y: f64| (level - b * y) / a;
    let (one, two) = (x_at(rect.top), x_at(rect.bottom));
    let from = one.min(two).max(rect.left);
    let to = one.max(two).min(rect.right);
    (from < to).then(|| [Px::new(from, y_at(from)), Px::new(to, y_at(to))])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn law_twelve_looks_share_no_pattern() {
        let bare = (0..Look::COUNT)
            .filter(|nth| pattern_of(Look::nth(*nth)).0 == Pattern::Bare)
            .count();
        assert_eq!(bare, 1);
        let patterns: HashSet<String> = (0..Look::COUNT)
            .map(|nth| format!("{:?}", pattern_of(Look::nth(nth))))
            .collect();
        assert_eq!(patterns.len(), Look::COUNT);
    }

    #[test]
    fn law_strokes_stay_inside_their_rectangle() {
        let rect = Rect::new(13.0, 7.0, 61.0, 29.0);
        // Round-off of a quotient.
        let outer = rect.grown(1e-9);
        for direction in [(1.0, 1.0), (1.0, -1.0), (0.0, 1.0), (1.0, 0.0)] {
            let found = strokes(&rect, direction, 6.0);
            assert!(found.len() >= 3, "{direction:?}: {}", found.len());
            for [from, to] in found {
                assert!(outer.holds(from) && outer.holds(to), "{from:?} {to:?}");
            }
        }
    }

    #[test]
    fn law_a_rectangle_without_extent_holds_no_diagonal() {
        let rect = Rect::new(5.0, 5.0, 5.0, 5.0);
        assert!(strokes(&rect, (1.0, 1.0), 6.0).is_empty());
    }
}
