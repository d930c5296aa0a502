//! The track: its air, its grip, its clock.

use super::checked::{NonNegative, Positive};
use super::constants::FOOT_M;
use super::weather::Weather;
use thiserror::Error;

/// Roll-out before the clock starts, m, where the sheet is silent (0.28 to 0.33 m follows from
/// the chord a wheel cuts in a beam about 40 mm up; common practice, no source).
pub const DEFAULT_ROLLOUT_M: f64 = 0.30;
/// Spread of the track's grip where nobody measured it (common practice, no source).
pub const DEFAULT_GRIP_SD: f64 = 0.03;
/// Sixty-foot time that a launch may lose and still lie in the window, s (common practice, no source).
pub const DEFAULT_TOLERANCE_S: f64 = 0.02;
/// What a stalled launch counts for in a mean, s (common practice, no source).
pub const DEFAULT_STALL_COST_S: f64 = 5.0;

/// A timing mark of the strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// 60 ft, 18.288 m.
    Ft60,
    /// 330 ft.
    Ft330,
    /// 660 ft, the eighth mile.
    Ft660,
    /// 1,000 ft.
    Ft1000,
    /// 1,320 ft, the quarter mile.
    Ft1320,
}

impl Mark {
    /// All marks, nearest first.
    pub const ALL: [Self; 5] = [
        Self::Ft60,
        Self::Ft330,
        Self::Ft660,
        Self::Ft1000,
        Self::Ft1320,
    ];

    /// Distance in feet.
    pub const fn feet(self) -> u32 {
        match self {
            Self::Ft60 => 60,
            Self::Ft330 => 330,
            Self::Ft660 => 660,
            Self::Ft1000 => 1000,
            Self::Ft1320 => 1320,
        }
    }

    /// Distance in metres.
    pub fn distance_m(self) -> f64 {
        f64::from(self.feet()) * FOOT_M
    }

    /// The marks up to and including this one.
    pub fn up_to(self) -> impl Iterator<Item = Self> {
        Self::ALL.into_iter().filter(move |mark| *mark <= self)
    }
}

/// Where the car stands and when the clock starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Staging {
    rollout_m: Positive,
    depth_m: NonNegative,
}

/// Staged so deep that the clock would run before the car moves.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("the stage depth is not less than the roll-out")]
pub struct StagingError;

impl Staging {
    /// Roll-out from first staging, and how much further in the car stands, m.
    ///
    /// # Errors
    /// When the depth is not less than the roll-out.
    pub fn new(rollout_m: Positive, depth_m: NonNegative) -> Result<Self, StagingError> {
        if depth_m.get() < rollout_m.get() {
            Ok(Self { rollout_m, depth_m })
        } else {
            Err(StagingError)
        }
    }

    /// Distance rolled when the clock starts, m.
    pub fn clock_start_m(&self) -> f64 {
        self.rollout_m.get() - self.depth_m.get()
    }

    /// Distance rolled when a mark is tripped, m.
    pub fn trip_m(&self, mark: Mark) -> f64 {
        mark.distance_m() - self.depth_m.get()
    }

    /// Roll-out, m.
    pub fn rollout_m(&self) -> f64 {
        self.rollout_m.get()
    }

    /// Stage depth, m.
    pub fn depth_m(&self) -> f64 {
        self.depth_m.get()
    }
}

/// The track on the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Track {
    /// Its weather.
    pub weather: Weather,
    /// Grip over the tyre's own.
    pub grip: Positive,
    /// Spread of that grip, one standard deviation, as a share of it.
    pub grip_sd: NonNegative,
    /// Staging.
    pub staging: Staging,
    /// Sixty-foot time a launch may lose and still lie in the window, s.
    pub tolerance_s: Positive,
    /// What a stalled launch counts for in a mean, s.
    pub stall_cost_s: Positive,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// The strip's distances in metres, by the exact foot.
    #[test]
    fn reference_marks_in_metres() {
        let metres: Vec<f64> = Mark::ALL.iter().map(|m| m.distance_m()).collect();
        for (got, want) in metres
            .iter()
            .zip([18.288, 100.584, 201.168, 304.8, 402.336])
        {
            assert_relative_eq!(*got, want, max_relative = 1e-12);
        }
    }

    #[test]
    fn law_deep_staging_starts_the_clock_sooner_and_shortens_the_way() {
        let staging =
            Staging::new(Positive::new(0.3).unwrap(), NonNegative::new(0.1).unwrap()).unwrap();
        assert_relative_eq!(staging.clock_start_m(), 0.2, max_relative = 1e-12);
        assert_relative_eq!(staging.trip_m(Mark::Ft60), 18.188, max_relative = 1e-12);
        assert!(Staging::new(Positive::new(0.3).unwrap(), NonNegative::new(0.3).unwrap()).is_err());
    }
}
