//! Where a function falls through zero, between two times that bracket it.

use roots::{Convergency, find_root_brent};

/// Stops Brent's method at round-off of the abscissa.
struct ToRoundOff {
    width: f64,
}

/// Brent's method needs at most a few dozen rounds to get there from any step.
const MOST_ROUNDS: usize = 100;
/// Widest bracket counted as found, as a share of the numbers' size.
const ROUND_OFF: f64 = 4.0 * f64::EPSILON;

impl Convergency<f64> for ToRoundOff {
    fn is_root_found(&mut self, y: f64) -> bool {
        y == 0.0
    }
    fn is_converged(&mut self, x1: f64, x2: f64) -> bool {
        (x1 - x2).abs() <= self.width
    }
    fn is_iteration_limit_reached(&mut self, round: usize) -> bool {
        round >= MOST_ROUNDS
    }
}

/// The abscissa between `low` and `high` where `function` crosses zero. If its ends do not
/// bracket a zero (round-off at an end), the end where it is nearer to zero.
pub fn crossing(low: f64, high: f64, mut function: impl FnMut(f64) -> f64) -> f64 {
    let (at_low, at_high) = (function(low), function(high));
    if at_low == 0.0 {
        return low;
    }
    if at_high == 0.0 {
        return high;
    }
    let nearer = if at_low.abs() < at_high.abs() {
        low
    } else {
        high
    };
    if at_low.is_sign_negative() == at_high.is_sign_negative() {
        return nearer;
    }
    let mut until = ToRoundOff {
        width: ROUND_OFF * low.abs().max(high.abs()).max(high - low),
    };
    find_root_brent(low, high, &mut function, &mut until).map_or(nearer, |x| x.clamp(low, high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reference_root_of_two() {
        let root = crossing(1.0, 2.0, |x| x * x - 2.0);
        assert!((root - std::f64::consts::SQRT_2).abs() < 1e-15);
    }

    #[test]
    fn law_ends_that_do_not_bracket_give_the_nearer_end() {
        assert!((crossing(0.0, 1.0, |x| x + 0.1) - 0.0).abs() < f64::EPSILON);
        assert!((crossing(0.0, 1.0, |x| x - 1.1) - 1.0).abs() < f64::EPSILON);
    }
}
