//! How launches scatter with one flywheel.

use crate::launch::{Attempt, LaunchError};

/// Something that takes a launch speed, a release and a grip, and gives a sixty-foot time.
pub trait SixtyFoot: Sync {
    /// Sixty-foot time of an attempt, s; `None` if it did not get away.
    ///
    /// # Errors
    /// When the launch cannot be computed.
    fn sixty_foot_s(&self, attempt: &Attempt) -> Result<Option<f64>, LaunchError>;
}

/// How launches scatter with one flywheel, and what a stall costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Law {
    /// Standard deviation of the launch speed, rad/s.
    pub launch_sd_rad_s: f64,
    /// Release time aimed at, over the sheet's own.
    pub release_stretch: f64,
    /// Standard deviation of the logarithm of the release time.
    pub release_sd: f64,
    /// Standard deviation of the grip, over its mean.
    pub grip_sd: f64,
    /// Draws of launch speed are kept above this, the stall speed, rad/s.
    pub lowest_rad_s: f64,
    /// Draws of launch speed are kept below this, the limiter, rad/s.
    pub highest_rad_s: f64,
    /// What a launch that did not get away counts for in a mean, s.
    pub stall_cost_s: f64,
}

/// Least grip of a draw, over the mean (common practice, no source).
const LEAST_GRIP_FACTOR: f64 = 0.3;

impl Law {
    /// The attempt from a launch speed (rad/s) with chances of release and grip.
    pub fn attempt(&self, launch_speed_rad_s: f64, release: f64, grip: f64) -> Attempt {
        Attempt {
            launch_speed_rad_s: launch_speed_rad_s.clamp(self.lowest_rad_s, self.highest_rad_s),
            release_stretch: self.release_stretch * (self.release_sd * release).exp(),
            grip_factor: (1.0 + self.grip_sd * grip).max(LEAST_GRIP_FACTOR),
        }
    }
}
