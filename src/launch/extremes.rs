//! Highest and lowest values over a launch, found between the steps' ends.

use crate::numerics::lowest_between;
use std::convert::Infallible;

/// How many places of a step are looked at: both ends and the middle. Steps follow the motion, so
/// that a value rises and falls at most once within one, and a parabola tells where.
pub const PLACES: usize = 3;

/// A top is narrowed to this share of its bracket: of a 20 ms step under a microsecond is left,
/// far below what any figure shows.
const NEAR_ENOUGH_SHARE: f64 = 1e-5;

/// The highest value met so far, and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Highest {
    /// The value.
    pub value: f64,
    /// When it was first met, s.
    pub time_s: f64,
}

impl Highest {
    /// Nothing met yet.
    pub const fn none() -> Self {
        Self {
            value: f64::NEG_INFINITY,
            time_s: 0.0,
        }
    }

    /// Takes in a function over one step, known at both its ends and its middle: the values there,
    /// and the top between them where a parabola through the three turns within the step and
    /// stands higher than anything met so far.
    pub fn take_step(
        &mut self,
        times_s: &[f64; PLACES],
        values: &[f64; PLACES],
        function: &mut impl FnMut(f64) -> f64,
    ) {
        for (&value, &time_s) in values.iter().zip(times_s) {
            if value > self.value {
                *self = Self { value, time_s };
            }
        }
        let (&[left, middle, right], &[low, _, high]) = (values, times_s);
        if top_of_parabola(left, middle, right).is_some_and(|top| top > self.value) {
            self.refine((low, high), function);
        }
    }

    fn refine(&mut self, (low, high): (f64, f64), function: &mut impl FnMut(f64) -> f64) {
        let near_enough = (high - low) * NEAR_ENOUGH_SHARE;
        let Ok(lowest) = lowest_between((low, high), near_enough, None, |time_s| {
            Ok::<_, Infallible>(-function(time_s))
        });
        if -lowest.value > self.value {
            *self = Self {
                value: -lowest.value,
                time_s: lowest.at,
            };
        }
    }
}

/// Height of the parabola through three evenly spaced values, where it has a top between them.
fn top_of_parabola(left: f64, middle: f64, right: f64) -> Option<f64> {
    let bend = left - 2.0 * middle + right;
    let tilt = (right - left) / 2.0;
    (bend < 0.0 && tilt.abs() <= -bend).then(|| middle - tilt * tilt / (2.0 * bend))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places((from, to): (f64, f64)) -> [f64; PLACES] {
        [from, f64::midpoint(from, to), to]
    }

    /// A parabola's top between two samples: the search narrows time to a microsecond, and a
    /// parabola is flat there.
    #[test]
    fn reference_top_of_a_parabola() {
        let mut highest = Highest::none();
        let mut parabola = |t: f64| 3.0 - (t - 0.617).powi(2);
        for step in [(0.0, 0.5), (0.5, 1.2)] {
            let times_s = places(step);
            highest.take_step(&times_s, &times_s.map(&mut parabola), &mut parabola);
        }
        assert!((highest.value - 3.0).abs() < 1e-10);
        assert!((highest.time_s - 0.617).abs() < 1e-5);
    }

    #[test]
    fn law_the_first_of_equals_is_kept() {
        let mut highest = Highest::none();
        for step in [(0.0, 1.0), (1.0, 2.0)] {
            highest.take_step(&places(step), &[2.0; PLACES], &mut |_| 2.0);
        }
        assert!(highest.time_s.abs() < f64::EPSILON);
    }
}
