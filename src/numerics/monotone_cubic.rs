//! Monotone piecewise-cubic interpolation.

use std::cell::Cell;
use thiserror::Error;

/// One cubic piece `y = y0 + s (c1 + s (c2 + s c3))`, `s = x − x0`.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    /// Where it holds: from its own point to the next; the end pieces without bounds.
    from: f64,
    to: f64,
    x0: f64,
    y0: f64,
    c1: f64,
    c2: f64,
    c3: f64,
}

impl Piece {
    #[inline]
    fn at(&self, x: f64) -> f64 {
        let s = x - self.x0;
        self.y0 + s * (self.c1 + s * (self.c2 + s * self.c3))
    }
}

/// A curve through given points that never overshoots them.
///
/// Inner slopes are the weighted harmonic means of Fritsch & Butland, *A method for
/// constructing local monotone piecewise cubic interpolants*, SIAM J. Sci. Stat.
/// Comput. 5 (1984) 300; end slopes are one-sided three-point estimates, held to
/// the shape. The same rules as SciPy's `PchipInterpolator`, against whose values
/// it is tested.
#[derive(Debug, Clone, PartialEq)]
pub struct MonotoneCubic {
    pieces: Vec<Piece>,
    last_x: f64,
}

/// Why points do not make a curve.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum CurveError {
    /// Fewer points than a curve needs.
    #[error("{found} points where at least {needed} are needed")]
    TooFewPoints {
        /// Points given.
        found: usize,
        /// Points needed.
        needed: usize,
    },
    /// A point does not lie to the right of the one before.
    #[error("point {} does not lie beyond the one before it", index + 1)]
    NotRising {
        /// Index of the offending point.
        index: usize,
    },
    /// A number that is not finite.
    #[error("point {} is not a finite number", index + 1)]
    NotFinite {
        /// Index of the offending point.
        index: usize,
    },
}

const LEAST_POINTS: usize = 3;

impl MonotoneCubic {
    /// A curve through `(x, y)` points with `x` strictly rising.
    ///
    /// # Errors
    /// With fewer than three points, `x` not rising, or a number not finite.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, CurveError> {
        if points.len() < LEAST_POINTS {
            return Err(CurveError::TooFewPoints {
                found: points.len(),
                needed: LEAST_POINTS,
            });
        }
        for (index, (x, y)) in points.iter().enumerate() {
            if !(x.is_finite() && y.is_finite()) {
                return Err(CurveError::NotFinite { index });
            }
        }
        for (index, pair) in points.windows(2).enumerate() {
            if let [before, after] = pair
                && after.0 <= before.0
            {
                return Err(CurveError::NotRising { index: index + 1 });
            }
        }
        let spans: Vec<Span> = points.windows(2).filter_map(Span::of).collect();
        let slopes = slopes(&spans);
        let mut pieces: Vec<Piece> = spans
            .iter()
            .zip(slopes.iter().zip(slopes.iter().skip(1)))
            .map(|(span, (&left, &right))| span.piece(left, right))
            .collect();
        if let Some(first) = pieces.first_mut() {
            first.from = f64::NEG_INFINITY;
        }
        if let Some(last) = pieces.last_mut() {
            last.to = f64::INFINITY;
        }
        Ok(Self {
            pieces,
            last_x: points.last().map_or(f64::NAN, |p| p.0),
        })
    }

    /// Value at `x`; beyond the ends the end pieces are carried on.
    pub fn at(&self, x: f64) -> f64 {
        self.pieces
            .get(self.piece_of(x))
            .map_or(f64::NAN, |piece| piece.at(x))
    }

    /// The same, the piece looked for first where the last `x` was: somebody who goes along the
    /// curve in small steps seldom leaves a piece. Any number will do to begin with.
    #[inline]
    pub fn at_near(&self, x: f64, near: &Cell<usize>) -> f64 {
        match self.pieces.get(near.get()) {
            Some(piece) if piece.from <= x && x < piece.to => piece.at(x),
            _ => {
                near.set(self.piece_of(x));
                self.at(x)
            }
        }
    }

    fn piece_of(&self, x: f64) -> usize {
        let after = self.pieces.partition_point(|piece| piece.x0 <= x);
        after.saturating_sub(1)
    }

    /// First abscissa.
    pub fn first_x(&self) -> f64 {
        self.pieces.first().map_or(f64::NAN, |piece| piece.x0)
    }

    /// Last abscissa.
    pub fn last_x(&self) -> f64 {
        self.last_x
    }
}

/// Width and mean slope between two neighbouring points.
struct Span {
    x0: f64,
    x1: f64,
    y0: f64,
    width: f64,
    slope: f64,
}

impl Span {
    fn of(pair: &[(f64, f64)]) -> Option<Self> {
        let [(x0, y0), (x1, y1)] = *pair else {
            return None;
        };
        Some(Self {
            x0,
            x1,
            y0,
            width: x1 - x0,
            slope: (y1 - y0) / (x1 - x0),
        })
    }

    fn piece(&self, left: f64, right: f64) -> Piece {
        let h = self.width;
        Piece {
            from: self.x0,
            to: self.x1,
            x0: self.x0,
            y0: self.y0,
            c1: left,
            c2: (3.0 * self.slope - 2.0 * left - right) / h,
            c3: (left + right - 2.0 * self.slope) / (h * h),
        }
    }
}

fn slopes(spans: &[Span]) -> Vec<f64> {
    let ends = |near: Option<&Span>, next: Option<&Span>| match (near, next) {
        (Some(near), Some(next)) => end_slope(near, next),
        (Some(only), None) => only.slope,
        _ => 0.0,
    };
    let inner = spans.windows(2).map(|pair| match pair {
        [left, right] => inner_slope(left, right),
        _ => 0.0,
    });
    std::iter::once(ends(spans.first(), spans.get(1)))
        .chain(inner)
        .chain(std::iter::once(ends(
            spans.last(),
            spans.len().checked_sub(2).and_then(|i| spans.get(i)),
        )))
        .collect()
}

/// Weighted harmonic mean of the slopes on both sides; 0 at a turning point.
fn inner_slope(left: &Span, right: &Span) -> f64 {
    if left.slope * right.slope <= 0.0 {
        return 0.0;
    }
    let w_left = 2.0 * right.width + left.width;
    let w_right = right.width + 2.0 * left.width;
    (w_left + w_right) / (w_left / left.slope + w_right / right.slope)
}

/// One-sided three-point slope, kept to the sign of the end span and to three times its slope.
fn end_slope(near: &Span, next: &Span) -> f64 {
    let estimate = ((2.0 * near.width + next.width) * near.slope - near.width * next.slope)
        / (near.width + next.width);
    if estimate * near.slope <= 0.0 {
        0.0
    } else if near.slope * next.slope < 0.0 && estimate.abs() > 3.0 * near.slope.abs() {
        3.0 * near.slope
    } else {
        estimate
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_cases::same_every_time;
    use proptest::prelude::*;

    #[test]
    fn law_bad_points_are_refused_with_their_place() {
        assert!(matches!(
            MonotoneCubic::new(&[(0.0, 1.0), (1.0, 2.0)]),
            Err(CurveError::TooFewPoints { found: 2, .. })
        ));
        assert!(matches!(
            MonotoneCubic::new(&[(0.0, 1.0), (1.0, 2.0), (1.0, 3.0)]),
            Err(CurveError::NotRising { index: 2 })
        ));
        assert!(matches!(
            MonotoneCubic::new(&[(0.0, f64::NAN), (1.0, 2.0), (2.0, 3.0)]),
            Err(CurveError::NotFinite { index: 0 })
        ));
    }

    proptest! {
        #![proptest_config(same_every_time(256))]

        /// Wherever one comes from, the piece remembered makes no difference.
        #[test]
        fn law_a_remembered_piece_changes_nothing(ys in prop::collection::vec(-100.0..100.0f64, 4..12), xs in prop::collection::vec(-2.0..14.0f64, 1..40)) {
            let points: Vec<(f64, f64)> = ys.iter().zip(0_u8..).map(|(y, i)| (f64::from(i) * 1.1, *y)).collect();
            let curve = MonotoneCubic::new(&points).unwrap();
            let near = Cell::new(99);
            for x in xs.into_iter().chain(points.iter().map(|point| point.0)) {
                prop_assert_eq!(curve.at_near(x, &near).to_bits(), curve.at(x).to_bits());
            }
        }

        /// Between two points the curve stays between their values.
        #[test]
        fn law_the_curve_never_overshoots(ys in prop::collection::vec(-100.0..100.0f64, 4..12), share in 0.0..1.0f64) {
            let points: Vec<(f64, f64)> = ys.iter().enumerate().map(|(i, y)| (f64::from(u8::try_from(i).unwrap()).powf(1.3), *y)).collect();
            let curve = MonotoneCubic::new(&points).unwrap();
            for pair in points.windows(2) {
                let x = pair[0].0 + share * (pair[1].0 - pair[0].0);
                let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
                prop_assert!(curve.at(x) >= low - 1e-9 && curve.at(x) <= high + 1e-9);
            }
        }
    }
}
