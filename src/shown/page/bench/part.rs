//! The places of the page that answers are put in.

/// A place of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// What to do, first of all.
    Verdict,
    /// The flywheels in rows.
    Wheels,
    /// Sixty-foot time over launch speed.
    Lines,
    /// How much metal to leave, and what to find out first.
    Metal,
    /// The launch under the finger.
    Tried,
    /// Launches from every other speed.
    TriedAround,
    /// The same on average.
    TriedOnAverage,
    /// The flywheel on the lathe.
    Lathe,
    /// What time slips say.
    Slips,
    /// The torque curve that the sheet has.
    Torque,
    /// The flywheels in half section.
    Drawings,
    /// A dynamometer's printout looked at.
    Printout,
}

impl Part {
    /// Every one, in the page's order.
    pub const ALL: [Self; 12] = [
        Self::Verdict,
        Self::Wheels,
        Self::Lines,
        Self::Metal,
        Self::Tried,
        Self::TriedAround,
        Self::TriedOnAverage,
        Self::Lathe,
        Self::Slips,
        Self::Torque,
        Self::Drawings,
        Self::Printout,
    ];

    /// What the page's script knows it by.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Verdict => "verdict",
            Self::Wheels => "wheels",
            Self::Lines => "lines",
            Self::Metal => "metal",
            Self::Tried => "tried",
            Self::TriedAround => "tried-around",
            Self::TriedOnAverage => "tried-on-average",
            Self::Lathe => "lathe",
            Self::Slips => "slips",
            Self::Torque => "torque",
            Self::Drawings => "drawings",
            Self::Printout => "printout",
        }
    }
}

/// What stands in a part: HTML, and what to tell somebody who does not see it change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fragment {
    /// Where it stands.
    pub part: Part,
    /// Its HTML.
    pub html: String,
    /// What is new, in one sentence; empty where it is not worth a word.
    pub said: String,
}
