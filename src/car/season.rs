//! What the builder decides for: the first meeting, the season after it, and what counts there.

use std::num::NonZeroU32;

/// Launches of a first meeting where the sheet is silent (common practice, no source).
pub const DEFAULT_MEETING: NonZeroU32 = launches(8);
/// Launches of the season after it where the sheet is silent (common practice, no source).
pub const DEFAULT_LAUNCHES: NonZeroU32 = launches(60);

const fn launches(count: u32) -> NonZeroU32 {
    match NonZeroU32::new(count) {
        Some(count) => count,
        None => NonZeroU32::MIN,
    }
}

/// What counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Counts {
    /// A quick mean sixty-foot time.
    #[default]
    QuickToSixtyFeet,
    /// A quick mean time over the quarter mile.
    QuickToQuarterMile,
    /// Launches that are alike: a small spread of the sixty-foot time.
    Steady,
}

impl Counts {
    /// All of them.
    pub const ALL: [Self; 3] = [
        Self::QuickToSixtyFeet,
        Self::QuickToQuarterMile,
        Self::Steady,
    ];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::QuickToSixtyFeet => "quick to 60 ft",
            Self::QuickToQuarterMile => "quick to 1320 ft",
            Self::Steady => "steady",
        }
    }
}

/// The season that a flywheel is chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Season {
    /// Launches of the first meeting, after which its slips are read.
    pub meeting: NonZeroU32,
    /// Launches of the rest of the season.
    pub launches: NonZeroU32,
    /// What counts in both.
    pub counts: Counts,
}

impl Default for Season {
    fn default() -> Self {
        Self {
            meeting: DEFAULT_MEETING,
            launches: DEFAULT_LAUNCHES,
            counts: Counts::default(),
        }
    }
}
