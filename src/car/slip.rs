//! Time slips: what the strip, and at will the car's own log, say of runs.

use super::logged_run::{Channel, LoggedRun};
use super::track::Mark;

/// A time on a log, counted from what is taken for first bite in it; told apart to a microsecond.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SinceBite(i32);

/// Of these the time counts so many, 1/s.
const PER_SECOND: f64 = 1e6;

impl SinceBite {
    /// So many seconds after first bite; `None` beyond half an hour either way.
    pub fn new(time_s: f64) -> Option<Self> {
        let counted = (time_s * PER_SECOND).round();
        #[expect(clippy::cast_possible_truncation, reason = "looked at beforehand")]
        (counted.abs() < f64::from(i32::MAX)).then_some(Self(counted as i32))
    }

    /// In seconds.
    pub fn seconds(self) -> f64 {
        f64::from(self.0) / PER_SECOND
    }
}

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
    /// A reading of the run's log, rad/s or m/s.
    Logged(Channel, SinceBite),
}

impl Shown {
    /// The furthest mark that a run must reach for it.
    pub fn mark(self) -> Mark {
        match self {
            Self::Time(mark) | Self::TrapSpeed(mark) => mark,
            Self::LowestEngineSpeed | Self::LockUp | Self::Logged(..) => Mark::Ft60,
        }
    }

    /// When it was logged; `None` of what is no reading of a log.
    pub fn logged_at(self) -> Option<SinceBite> {
        match self {
            Self::Logged(_, at) => Some(at),
            Self::Time(_) | Self::TrapSpeed(_) | Self::LowestEngineSpeed | Self::LockUp => None,
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
            Self::Logged(channel, _) => channel.reading(),
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
