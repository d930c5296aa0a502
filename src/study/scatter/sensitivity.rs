//! Which of launch speed, release and grip is to blame for the scatter of sixty-foot time.

use super::variance_shares::{INPUTS, InputShare};

/// What a launch's scatter comes from, in the order of the shares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The driver misses the launch speed.
    LaunchSpeed,
    /// The driver lets the clutch out faster or slower.
    Release,
    /// The track's grip is not the same twice.
    Grip,
}

impl Cause {
    /// All of them, in the order of the shares.
    pub const ALL: [Self; INPUTS] = [Self::LaunchSpeed, Self::Release, Self::Grip];

    /// What programs know it by.
    pub const fn id(self) -> &'static str {
        match self {
            Self::LaunchSpeed => "launch_speed",
            Self::Release => "clutch_release",
            Self::Grip => "track_grip",
        }
    }

    /// What it is called.
    pub const fn words(self) -> &'static str {
        match self {
            Self::LaunchSpeed => "launch speed",
            Self::Release => "clutch release",
            Self::Grip => "the track's grip",
        }
    }
}

/// The shares of every cause, for one flywheel at its aim.
pub type Sensitivity = [InputShare; INPUTS];
