//! A run as a logger took it down.

/// What a logger may have taken down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Channel {
    /// Engine speed, rad/s.
    Engine,
    /// Speed of the gearbox's input shaft, rad/s.
    InputShaft,
    /// Speed of the driven wheels, rad/s.
    DrivenWheels,
    /// Car speed, m/s.
    Car,
}

impl Channel {
    /// All of them.
    pub const ALL: [Self; 4] = [
        Self::Engine,
        Self::InputShaft,
        Self::DrivenWheels,
        Self::Car,
    ];

    /// Short fixed name, for documents.
    pub const fn identifier(self) -> &'static str {
        match self {
            Self::Engine => "engine",
            Self::InputShaft => "input_shaft",
            Self::DrivenWheels => "driven_wheels",
            Self::Car => "car",
        }
    }

    /// Short fixed name of one of its readings, for documents.
    pub const fn reading(self) -> &'static str {
        match self {
            Self::Engine => "engine_reading",
            Self::InputShaft => "input_shaft_reading",
            Self::DrivenWheels => "driven_wheels_reading",
            Self::Car => "car_reading",
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Engine => "engine speed",
            Self::InputShaft => "input-shaft speed",
            Self::DrivenWheels => "driven-wheel speed",
            Self::Car => "car speed",
        }
    }
}

/// One channel: readings in the order of time, gaps left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Logged {
    /// What.
    pub channel: Channel,
    /// Times on the logger's own clock, s, rising, and readings, SI.
    pub readings: Vec<(f64, f64)>,
}

/// A run as a logger took it down, on the logger's own clock, at any rate, gaps and all.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LoggedRun {
    /// The channels there are.
    pub channels: Vec<Logged>,
}

impl LoggedRun {
    /// The readings of a channel; empty where it was not logged.
    pub fn readings(&self, channel: Channel) -> &[(f64, f64)] {
        self.channels
            .iter()
            .find(|logged| logged.channel == channel)
            .map_or(&[], |logged| &logged.readings)
    }
}
