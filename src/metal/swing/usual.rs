//! From a sheet's swing test to a measurement: what the sheet leaves open about its instruments
//! is taken from common practice, and told.

use super::analysis::{Amplitude, PlatformSwing, SwingMeasurement, standard_gravity};
use super::timing::{REACTION_SD_S, Timing};
use crate::car::checked::Positive;
use crate::car::swing::SwingTest;
use crate::numerics::uncertainty::Measured;
use std::num::NonZeroU32;

/// A cord circle measured with a steel rule lies within ± this, m. Common practice, no source.
pub const RADIUS_WITHIN_M: f64 = 0.0005;

/// A cord's length measured with a tape lies within ± this, m. Common practice, no source.
pub const LENGTH_WITHIN_M: f64 = 0.002;

/// A mass from good kitchen scales lies within ± this, kg. Common practice, no source.
pub const MASS_WITHIN_KG: f64 = 0.020;

/// Swings counted between two presses of the stopwatch. Common practice, no source.
pub const SWINGS: u32 = 20;

/// A twist read by eye lies within ± this, rad (2°). Common practice, no source.
pub const AMPLITUDE_WITHIN_RAD: f64 = 2.0 * std::f64::consts::PI / 180.0;

/// Something that was not told of a swing test, so taken as usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Assumed {
    /// [`RADIUS_WITHIN_M`].
    RadiusWithin,
    /// [`LENGTH_WITHIN_M`].
    LengthWithin,
    /// [`MASS_WITHIN_KG`].
    MassWithin,
    /// [`SWINGS`].
    Swings,
    /// [`REACTION_SD_S`].
    Reaction,
}

impl Assumed {
    /// All, in the order in which they are looked for.
    pub const ALL: [Self; 5] = [
        Self::RadiusWithin,
        Self::LengthWithin,
        Self::MassWithin,
        Self::Swings,
        Self::Reaction,
    ];

    /// Short fixed name for programs.
    pub const fn id(self) -> &'static str {
        match self {
            Self::RadiusWithin => "radius_within",
            Self::LengthWithin => "length_within",
            Self::MassWithin => "mass_within",
            Self::Swings => "swings",
            Self::Reaction => "reaction",
        }
    }
}

/// The measurement that a sheet's test stands for, and what was assumed for it. `None` would mean
/// that a constant above is out of range.
pub fn measurement(test: &SwingTest) -> Option<(SwingMeasurement, Vec<Assumed>)> {
    let told = &test.precision;
    let mut assumed = Vec::new();
    let mut within = |told: Option<Positive>, usual: f64, what: Assumed| {
        told.map_or_else(
            || {
                assumed.push(what);
                usual
            },
            Positive::get,
        )
    };
    let radius_within = within(told.radius_within_m, RADIUS_WITHIN_M, Assumed::RadiusWithin);
    let length_within = within(told.length_within_m, LENGTH_WITHIN_M, Assumed::LengthWithin);
    let mass_within = within(told.mass_within_kg, MASS_WITHIN_KG, Assumed::MassWithin);
    let reaction = within(told.reaction_sd_s, REACTION_SD_S, Assumed::Reaction);
    if told.swings.is_none() {
        assumed.push(Assumed::Swings);
    }
    let swings = told.swings.or(NonZeroU32::new(SWINGS))?;
    let counted = |period_s: Positive| {
        Some(Timing::Counted {
            swings,
            total_s: Positive::new(period_s.get() * f64::from(swings.get()))?,
            reaction_sd_s: Positive::new(reaction)?,
        })
    };
    let amplitude = told.amplitude_rad.map_or(Amplitude::NotTold, |twist| {
        Amplitude::Told(Measured::within(twist.get(), AMPLITUDE_WITHIN_RAD))
    });
    let platform = match test.platform {
        None => None,
        Some(platform) => Some(PlatformSwing {
            mass_kg: Measured::within(platform.mass_kg.get(), mass_within),
            timing: counted(platform.period_s)?,
            amplitude,
        }),
    };
    let measurement = SwingMeasurement {
        cords: test.cords,
        radius_m: Measured::within(test.radius_m.get(), radius_within),
        length_m: Measured::within(test.length_m.get(), length_within),
        mass_kg: Measured::within(test.mass_kg.get(), mass_within),
        timing: counted(test.period_s)?,
        amplitude,
        platform,
        gravity_m_s2: standard_gravity(),
    };
    Some((measurement, assumed))
}
