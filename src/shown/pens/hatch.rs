//! Hatching: patterns that tell areas apart without colour.
//!
//! The strokes are cut to their area here rather than left to SVG patterns: those need names,
//! and two pictures on one page would share them.

use super::canvas::{Line, Paint};
use super::palette::{Colour, Look};
use super::pen::{Drawn, Pen};
use super::place::{Px, Rect};

/// Distance between strokes.
const SPACING_PX: f64 = 6.0;

/// The strokes of the second round of looks stand farther apart.
const WIDE_SPACING_PX: f64 = 10.0;

/// A pattern of strokes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Pattern {
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
fn pattern_of(look: Look) -> (Pattern, f64) {
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

/// The looks that are hatched, and otherwise than in a pattern.
pub(crate) fn looks_unlike(pattern: Pattern) -> impl Iterator<Item = Look> + Clone {
    (0..Look::COUNT)
        .map(Look::nth)
        .filter(move |look| ![Pattern::Bare, pattern].contains(&pattern_of(*look).0))
}

/// Fills a rectangle in the tint and pattern of a look.
pub(crate) fn fill_as(pen: &Pen<'_>, rect: &Rect, look: Look) -> Drawn {
    area_as(pen, &rect.corners(), look)
}

/// Fills a convex area in the tint and pattern of a look.
pub(crate) fn area_as(pen: &Pen<'_>, corners: &[Px], look: Look) -> Drawn {
    let line = Line::solid(look.line(), 1.0);
    hatched(pen, corners, pattern_of(look), look.tint(), line)
}

/// Fills a rectangle as a place without a value.
pub(crate) fn fill_missing(pen: &Pen<'_>, rect: &Rect) -> Drawn {
    let line = Line::solid(Colour::AXIS, 0.8);
    let falling = (Pattern::Falling, SPACING_PX);
    hatched(pen, &rect.corners(), falling, Colour::WASH, line)
}

/// Fills a convex area with a ground and the strokes of a pattern.
pub(crate) fn hatched(
    pen: &Pen<'_>,
    corners: &[Px],
    (pattern, spacing): (Pattern, f64),
    ground: Colour,
    line: Line,
) -> Drawn {
    pen.area(
        corners,
        Paint {
            fill: Some(ground),
            line: None,
        },
    )?;
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
        .flat_map(|direction| strokes(corners, *direction, spacing))
        .collect();
    pen.strokes(&strokes, line)
}

/// The stretches inside a convex area of the lines `a·x + b·y = k·spacing`, k whole.
fn strokes(corners: &[Px], (a, b): (f64, f64), spacing: f64) -> Vec<[Px; 2]> {
    // Diagonals: the same distance across as along an axis.
    let spacing = spacing * f64::hypot(a, b);
    let levels = corners.iter().map(|corner| a * corner.x + b * corner.y);
    let least = levels.clone().fold(f64::INFINITY, f64::min);
    let most = levels.fold(f64::NEG_INFINITY, f64::max);
    let mut found = Vec::new();
    // Half a step in, so that no stroke runs along an edge at a round coordinate.
    let mut level = ((least / spacing - 0.5).floor() + 1.5) * spacing;
    while level < most {
        found.extend(stretch(corners, (a, b), level));
        level += spacing;
    }
    found
}

/// The stretch of one line inside a convex area, from left to right, or downward.
fn stretch(corners: &[Px], (a, b): (f64, f64), level: f64) -> Option<[Px; 2]> {
    let over = |corner: Px| a * corner.x + b * corner.y - level;
    let next = corners.iter().cycle().skip(1);
    let mut crossed: Vec<Px> = corners
        .iter()
        .zip(next)
        .filter(|(from, to)| (over(**from) < 0.0) != (over(**to) < 0.0))
        .map(|(from, to)| {
            let share = over(*from) / (over(*from) - over(*to));
            from.shifted(share * (to.x - from.x), share * (to.y - from.y))
        })
        .collect();
    crossed.sort_by(|one, two| one.x.total_cmp(&two.x).then(one.y.total_cmp(&two.y)));
    match crossed.as_slice() {
        [from, to] if from != to => Some([*from, *to]),
        _ => None,
    }
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
    fn law_strokes_stay_inside_their_area() {
        let rect = Rect::new(13.0, 7.0, 61.0, 29.0);
        // Round-off of a quotient.
        let outer = rect.grown(1e-9);
        for direction in [(1.0, 1.0), (1.0, -1.0), (0.0, 1.0), (1.0, 0.0)] {
            let found = strokes(&rect.corners(), direction, 6.0);
            assert!(found.len() >= 3, "{direction:?}: {}", found.len());
            for [from, to] in found {
                assert!(outer.holds(from) && outer.holds(to), "{from:?} {to:?}");
            }
        }
    }

    #[test]
    fn law_strokes_end_on_the_edges_of_a_slanting_area() {
        // Right of the line from (0, 0) to (10, 20), left of 40.
        let corners = [
            Px::new(0.0, 0.0),
            Px::new(40.0, 0.0),
            Px::new(40.0, 20.0),
            Px::new(10.0, 20.0),
        ];
        let level = strokes(&corners, (0.0, 1.0), 6.0);
        assert_eq!(level.len(), 3);
        for [from, to] in level {
            assert!((from.x - from.y / 2.0).abs() < 1e-9 && (to.x - 40.0).abs() < 1e-9);
        }
    }

    #[test]
    fn law_a_rectangle_without_extent_holds_no_diagonal() {
        let rect = Rect::new(5.0, 5.0, 5.0, 5.0);
        assert!(strokes(&rect.corners(), (1.0, 1.0), 6.0).is_empty());
    }
}
