//! Time slips: what the strip, and at will the car's own log, say of runs.

use super::logged_run::LoggedRun;
use super::track::Mark;

/// What a slip may show of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// Time at a mark on the strip's clock, s.
    Time(Mark),
    /// Speed through the trap before a mark, m/s.
    TrapSpeed(Mark),
    /// Lowest engine speed to 60 ft, rad/s.
    LowestEngineSpeed,
    /// First lock-up, s from first bite.
    LockUp,
}

impl Shown {
    /// The furthest mark that a run must reach for it.
    pub fn mark(self) -> Mark {
        match self {
            Self::Time(mark) | Self::TrapSpeed(mark) => mark,
            Self::LowestEngineSpeed | Self::LockUp => Mark::Ft60,
        }
    }

    /// Short fixed name, for documents.
    pub const fn identifier(self) -> &'static str {
        match self {
            Self::Time(Mark::Ft60) => "sixty_foot_s",
            Self::Time(Mark::Ft330) => "330_s",
            Self::Time(Mark::Ft660) => "660_s",
            Self::Time(Mark::Ft1000) => "1000_s",
            Self::Time(Mark::Ft1320) => "1320_s",
            Self::TrapSpeed(Mark::Ft660) => "660_speed",
            Self::TrapSpeed(_) => "1320_speed",
            Self::LowestEngineSpeed => "lowest_rpm",
            Self::LockUp => "lock_s",
        }
    }
}

/// One figure of a slip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlipFigure {
    /// What it is of.
    pub shown: Shown,
    /// The figure, SI.
    pub value: f64,
    /// Step of its last digit, SI: what was rounded away lies within half of it.
    pub step: f64,
}

/// One run.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// Row of the file, from 1, the row of names not counted.
    pub row: usize,
    /// Place of its flywheel among the sheet's.
    pub wheel: usize,
    /// Place of its meeting among the sheet's; `None` for the track as it stands.
    pub meeting: Option<usize>,
    /// Launch speed as read, rad/s; `None` where nobody knows.
    pub launch_speed_rad_s: Option<f64>,
    /// What the slip shows; at least one figure, or a log.
    pub figures: Vec<SlipFigure>,
    /// What the car's own log shows.
    pub log: Option<LoggedRun>,
    /// What was remarked of it.
    pub remark: Option<String>,
}

impl Slip {
    /// A figure of it.
    pub fn figure(&self, shown: Shown) -> Option<f64> {
        self.figures
            .iter()
            .find(|figure| figure.shown == shown)
            .map(|figure| figure.value)
    }
}
