//! Claims about the swing test.

mod coverage;
mod judged;
mod reference;

use super::*;
use crate::car::checked::{InnerShare, Positive};
use crate::numerics::uncertainty::Measured;
use std::num::NonZeroU32;

fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

fn count(number: u32) -> NonZeroU32 {
    NonZeroU32::new(number).unwrap()
}

fn ninety_five() -> InnerShare {
    InnerShare::new(0.95).unwrap()
}

fn counted(swings: u32, total_s: f64) -> Timing {
    Timing::Counted {
        swings: count(swings),
        total_s: positive(total_s),
        reaction_sd_s: positive(REACTION_SD_S),
    }
}

fn splits(readings: &[(u32, f64)]) -> Timing {
    Timing::Splits {
        splits: readings
            .iter()
            .map(|(swing, time_s)| Split {
                swing: *swing,
                time_s: *time_s,
            })
            .collect(),
        reaction_sd_s: None,
    }
}

/// An invented flywheel on three cords and a platform.
fn measurement() -> SwingMeasurement {
    SwingMeasurement {
        cords: count(3),
        radius_m: Measured::standard(0.120, 0.0003),
        length_m: Measured::standard(1.500, 0.001),
        mass_kg: Measured::standard(6.9, 0.005),
        timing: counted(50, 61.7 * 2.0),
        amplitude: Amplitude::Told(Measured::standard(0.08, 0.02)),
        platform: Some(PlatformSwing {
            mass_kg: Measured::standard(1.1, 0.002),
            timing: counted(50, 80.5 * 2.0),
            amplitude: Amplitude::Told(Measured::standard(0.08, 0.02)),
        }),
        gravity_m_s2: standard_gravity(),
    }
}
