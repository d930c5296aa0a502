//! One attempt at a launch.

/// One attempt: what the driver does this time, and the day's chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attempt {
    /// Engine speed held before first bite, rad/s.
    pub launch_speed_rad_s: f64,
    /// Release time over the sheet's own.
    pub release_stretch: f64,
    /// Grip over the track's own.
    pub grip_factor: f64,
}

impl Attempt {
    /// An attempt from this speed with everything else as the sheet has it.
    pub const fn from_speed(launch_speed_rad_s: f64) -> Self {
        Self {
            launch_speed_rad_s,
            release_stretch: 1.0,
            grip_factor: 1.0,
        }
    }
}
