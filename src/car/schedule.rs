//! Shares over time: how a clutch is let in, how a throttle is opened.

use super::checked::{NonNegative, Positive, Share};
use thiserror::Error;

/// A share from 0 to 1 over time: straight between points, the first share before
/// the first point, `finally` after the last.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    points: Vec<(f64, f64)>,
    finally: f64,
}

/// One straight piece of a schedule: `share = at_start + rate (t − start)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ramp {
    /// Time the piece is written from, s.
    pub start_s: f64,
    /// Share at that time.
    pub at_start: f64,
    /// Rise of the share, 1/s.
    pub rate_per_s: f64,
}

impl Ramp {
    /// A share that never changes.
    pub const fn constant(share: f64) -> Self {
        Self {
            start_s: 0.0,
            at_start: share,
            rate_per_s: 0.0,
        }
    }

    /// The share at a time within the piece.
    pub fn at(&self, time_s: f64) -> f64 {
        self.at_start + self.rate_per_s * (time_s - self.start_s)
    }
}

/// Why points do not make a schedule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ScheduleError {
    /// No points at all.
    #[error("the table has no points")]
    Empty,
    /// A time that is not later than the one before.
    #[error("time {} is not later than the one before it", index + 1)]
    NotRising {
        /// Index of the offending point.
        index: usize,
    },
}

impl Schedule {
    /// 0 to 1 in a straight line over `duration_s`, then 1.
    pub fn ramp(duration_s: Positive) -> Self {
        Self {
            points: vec![(0.0, 0.0), (duration_s.get(), 1.0)],
            finally: 1.0,
        }
    }

    /// One share for all time, no corner.
    pub fn constant(share: f64) -> Self {
        Self {
            points: Vec::new(),
            finally: share,
        }
    }

    /// A clutch release table: the clutch is home after the last point. Shares may fall
    /// in between (a driver who dips the pedal again).
    ///
    /// # Errors
    /// When empty or times do not rise.
    pub fn release(points: &[(NonNegative, Share)]) -> Result<Self, ScheduleError> {
        Ok(Self {
            finally: 1.0,
            ..Self::table(points)?
        })
    }

    /// A throttle table: the last share is held.
    ///
    /// # Errors
    /// When empty or times do not rise.
    pub fn throttle(points: &[(NonNegative, Share)]) -> Result<Self, ScheduleError> {
        Self::table(points)
    }

    fn table(points: &[(NonNegative, Share)]) -> Result<Self, ScheduleError> {
        let last = points.last().ok_or(ScheduleError::Empty)?;
        for (index, pair) in points.windows(2).enumerate() {
            if let [before, after] = pair
                && after.0.get() <= before.0.get()
            {
                return Err(ScheduleError::NotRising { index: index + 1 });
            }
        }
        Ok(Self {
            points: points.iter().map(|(t, s)| (t.get(), s.get())).collect(),
            finally: last.1.get(),
        })
    }

    /// The same schedule, all times multiplied.
    #[must_use]
    pub fn stretched(&self, factor: f64) -> Self {
        Self {
            points: self.points.iter().map(|(t, s)| (t * factor, *s)).collect(),
            finally: self.finally,
        }
    }

    /// The same schedule begun later by `delay_s`.
    #[must_use]
    pub fn delayed(&self, delay_s: f64) -> Self {
        Self {
            points: self.points.iter().map(|(t, s)| (t + delay_s, *s)).collect(),
            finally: self.finally,
        }
    }

    /// First corner later than a time, s.
    pub fn next_corner_s(&self, time_s: f64) -> Option<f64> {
        self.points.iter().map(|p| p.0).find(|&t| t > time_s)
    }

    /// Time of the last point, s.
    pub fn last_corner_s(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p.0)
    }

    /// The straight piece that begins at (or contains) a time.
    pub fn piece_from(&self, time_s: f64) -> Ramp {
        let after = self.points.partition_point(|p| p.0 <= time_s);
        let before = after.checked_sub(1).and_then(|i| self.points.get(i));
        match (before, self.points.get(after)) {
            (Some(&(t0, s0)), Some(&(t1, s1))) => Ramp {
                start_s: t0,
                at_start: s0,
                rate_per_s: (s1 - s0) / (t1 - t0),
            },
            (None, Some(&(_, first))) => Ramp::constant(first),
            _ => Ramp::constant(self.finally),
        }
    }

    /// Share at a time.
    pub fn at(&self, time_s: f64) -> f64 {
        self.piece_from(time_s).at(time_s)
    }

    /// The points, (s, share).
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn points(list: &[(f64, f64)]) -> Vec<(NonNegative, Share)> {
        list.iter()
            .map(|&(t, s)| (NonNegative::new(t).unwrap(), Share::new(s).unwrap()))
            .collect()
    }

    #[test]
    fn law_a_release_is_straight_between_points_and_home_after_the_last() {
        let table = Schedule::release(&points(&[(0.1, 0.2), (0.3, 0.6)])).unwrap();
        assert_relative_eq!(table.at(0.0), 0.2);
        assert_relative_eq!(table.at(0.2), 0.4, max_relative = 1e-12);
        assert_relative_eq!(table.at(0.3), 1.0);
        assert_relative_eq!(table.at(9.0), 1.0);
    }

    #[test]
    fn law_a_throttle_holds_its_last_share() {
        let table = Schedule::throttle(&points(&[(0.0, 1.0), (0.5, 0.4)])).unwrap();
        assert_relative_eq!(table.at(2.0), 0.4);
    }

    #[test]
    fn law_corners_are_met_one_after_another() {
        let ramp = Schedule::ramp(Positive::new(0.25).unwrap());
        assert_eq!(ramp.next_corner_s(0.0), Some(0.25));
        assert_eq!(ramp.next_corner_s(0.25), None);
        assert_eq!(
            ramp.stretched(2.0).delayed(1.0).next_corner_s(1.0),
            Some(1.5)
        );
    }

    #[test]
    fn law_times_that_do_not_rise_are_refused_with_their_place() {
        let result = Schedule::release(&points(&[(0.0, 0.0), (0.2, 0.5), (0.2, 1.0)]));
        assert_eq!(result, Err(ScheduleError::NotRising { index: 2 }));
    }
}
