//! The driver: how speed is held, the throttle opened, and how unsteadily.

use super::checked::NonNegative;
use super::lift::Lift;
use super::practice::Practice;
use super::schedule::Schedule;

/// Time a foot takes to open the throttle, s, where the sheet is silent (common practice, no source).
pub const DEFAULT_FOOT_THROTTLE_S: f64 = 0.15;
/// Time torque takes to come back when a launch limiter lets go, s (common practice, no source).
pub const DEFAULT_LIMITER_THROTTLE_S: f64 = 0.02;
/// Standard deviation of launch speed, rpm, where nobody measured it (common practice, no source).
pub const DEFAULT_LAUNCH_SD_RPM: f64 = 200.0;
/// Standard deviation of ln(release time) where nobody measured it (common practice, no source).
pub const DEFAULT_RELEASE_SD: f64 = 0.15;
/// Exponent `p` of the inertia rule `σ ∝ J⁻ᵖ` where the sheet is silent. By foot from a
/// crossover-model operator against a torque disturbance (McRuer & Krendel, AGARD-AG-188, 1974);
/// on a launch limiter because the ripple between cut and restored spark is torque × cut time
/// over `J` (`docs/steadiness.md`).
pub const DEFAULT_HOLD_EXPONENT: f64 = 1.0;
/// Lowest launch speed looked at where the sheet is silent, rpm.
pub const DEFAULT_RANGE_START_RPM: f64 = 1500.0;

/// How the driver holds the launch speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// By foot: the lighter the wheel, the less steady.
    Foot,
    /// On a launch limiter, which cuts and restores the spark: the lighter the wheel, the larger
    /// the ripple.
    Limiter,
}

impl Hold {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Foot, Self::Limiter];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Foot => "foot",
            Self::Limiter => "limiter",
        }
    }

    /// Time to full throttle where the sheet is silent, s.
    pub const fn default_throttle_s(self) -> f64 {
        match self {
            Self::Foot => DEFAULT_FOOT_THROTTLE_S,
            Self::Limiter => DEFAULT_LIMITER_THROTTLE_S,
        }
    }
}

/// A range of launch speeds, rad/s; the lower end below the upper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedRange {
    low_rad_s: f64,
    high_rad_s: f64,
}

impl SpeedRange {
    /// A range, if its lower end is above zero and below its upper end.
    pub fn new(low_rad_s: f64, high_rad_s: f64) -> Option<Self> {
        (low_rad_s > 0.0 && high_rad_s > low_rad_s && high_rad_s.is_finite()).then_some(Self {
            low_rad_s,
            high_rad_s,
        })
    }

    /// Lower end, rad/s.
    pub fn low_rad_s(&self) -> f64 {
        self.low_rad_s
    }

    /// Upper end, rad/s.
    pub fn high_rad_s(&self) -> f64 {
        self.high_rad_s
    }

    /// Whether a speed lies within, ends included.
    pub fn contains(&self, speed_rad_s: f64) -> bool {
        (self.low_rad_s..=self.high_rad_s).contains(&speed_rad_s)
    }
}

/// A range of release times, s; the lower end below the upper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReleaseRange {
    quickest_s: f64,
    slowest_s: f64,
}

impl ReleaseRange {
    /// A range, if its lower end is above zero and below its upper end.
    pub fn new(quickest_s: f64, slowest_s: f64) -> Option<Self> {
        (quickest_s > 0.0 && slowest_s > quickest_s && slowest_s.is_finite()).then_some(Self {
            quickest_s,
            slowest_s,
        })
    }

    /// Quickest release, s.
    pub fn quickest_s(&self) -> f64 {
        self.quickest_s
    }

    /// Slowest release, s.
    pub fn slowest_s(&self) -> f64 {
        self.slowest_s
    }
}

/// The driver's own unsteadiness, one standard deviation each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unsteadiness {
    /// Launch speed with the fitted flywheel, rad/s.
    pub launch_sd_rad_s: NonNegative,
    /// Exponent of the inertia rule.
    pub hold_exponent: NonNegative,
    /// Logarithm of the release time.
    pub release_sd: NonNegative,
}

/// The driver.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// How the launch speed is held.
    pub hold: Hold,
    /// Throttle over time from first bite.
    pub throttle: Schedule,
    /// How the driver lifts when the tyres spin; `None` for one who never does.
    pub lift: Option<Lift>,
    /// Launch speeds looked at.
    pub launch_range: SpeedRange,
    /// Release times that the driver may practise, each flywheel its own; `None`: every flywheel is
    /// driven with the sheet's one release.
    pub release_range: Option<ReleaseRange>,
    /// How unsteadily it is done.
    pub unsteadiness: Unsteadiness,
    /// The practice launches that the unsteadiness was taken from, if there are any.
    pub practice: Option<Practice>,
}
