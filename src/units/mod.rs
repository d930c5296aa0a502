//! Units: read from a sheet, shown on a screen, one table for both.
//!
//! Everything behind this module is SI. [`parse`] turns `"7.4 kg"` into a number in SI units,
//! [`System`] turns such a number back into what an engine builder reads.

mod echo;
mod number;
mod quantity;
mod shown;
mod stated;
mod table;

pub use echo::unshowable;
pub use quantity::QuantityError;
pub use shown::System;
pub use stated::{Spread, Stated, parse, parse_stated, parse_stated_number};
pub use table::{UNITS, Unit};

pub(crate) use echo::{quote, upsets_a_screen};
pub(crate) use shown::plain;
pub(crate) use table::{FT, IN, KM_H, M_S, MPH, RPM};

/// What a quantity measures. Two kinds may share their units and differ only in the one that
/// is chosen to show them: a hole is shown in millimetres, a strip in metres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Mass, kg.
    Mass,
    /// Length of a part, m.
    Length,
    /// Distance along the strip or height above the sea, m.
    Distance,
    /// Angular speed, rad/s.
    AngularSpeed,
    /// Angular acceleration of a sweep dynamometer, rad/s².
    SweepRate,
    /// Torque, N·m.
    Torque,
    /// Moment of inertia, kg·m².
    Inertia,
    /// Force, N.
    Force,
    /// Pressure of the air, Pa.
    Pressure,
    /// Stress and strength, Pa.
    Stress,
    /// Temperature, K.
    Temperature,
    /// Rise of temperature, K.
    TemperatureRise,
    /// Time, s.
    Time,
    /// Speed of the car, m/s.
    Speed,
    /// Acceleration of the car, m/s².
    Acceleration,
    /// Area, m².
    Area,
    /// Density, kg/m³.
    Density,
    /// Density of air, kg/m³.
    AirDensity,
    /// Power, W.
    Power,
    /// Energy, J.
    Energy,
    /// Specific heat, J/(kg·K).
    SpecificHeat,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 21] = [
        Self::Mass,
        Self::Length,
        Self::Distance,
        Self::AngularSpeed,
        Self::SweepRate,
        Self::Torque,
        Self::Inertia,
        Self::Force,
        Self::Pressure,
        Self::Stress,
        Self::Temperature,
        Self::TemperatureRise,
        Self::Time,
        Self::Speed,
        Self::Acceleration,
        Self::Area,
        Self::Density,
        Self::AirDensity,
        Self::Power,
        Self::Energy,
        Self::SpecificHeat,
    ];

    /// The kind whose units this one is read in.
    #[must_use]
    pub const fn read_as(self) -> Self {
        match self {
            Self::Distance => Self::Length,
            Self::Stress => Self::Pressure,
            Self::AirDensity => Self::Density,
            other => other,
        }
    }

    /// Its name in a sentence, with the article: `a mass`.
    pub const fn with_article(self) -> &'static str {
        match self {
            Self::Mass => "a mass",
            Self::Length => "a length",
            Self::Distance => "a distance",
            Self::AngularSpeed => "a speed of rotation",
            Self::SweepRate => "a sweep rate",
            Self::Torque => "a torque",
            Self::Inertia => "an inertia",
            Self::Force => "a force",
            Self::Pressure => "a pressure",
            Self::Stress => "a stress",
            Self::Temperature => "a temperature",
            Self::TemperatureRise => "a rise of temperature",
            Self::Time => "a time",
            Self::Speed => "a speed",
            Self::Acceleration => "an acceleration",
            Self::Area => "an area",
            Self::Density => "a density",
            Self::AirDensity => "a density of air",
            Self::Power => "a power",
            Self::Energy => "an energy",
            Self::SpecificHeat => "a specific heat",
        }
    }

    /// The units it is read in, in the table's order.
    pub fn units(self) -> impl Iterator<Item = &'static Unit> {
        UNITS
            .iter()
            .copied()
            .filter(move |unit| unit.kind == self.read_as())
    }

    /// Its units as a list in words: `kg, g, lb or oz`.
    pub fn units_in_words(self) -> String {
        let symbols: Vec<&str> = self.units().map(|unit| unit.symbol).collect();
        match symbols.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
            None => String::new(),
        }
    }
}

#[cfg(test)]
#[path = "units_tests.rs"]
mod tests;
