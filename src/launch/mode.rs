//! The modes of a launch: everything that stays the same within a leg.

use super::foot::Hears;
use super::rig::Gear;
use crate::car::engine::Band;
use crate::car::schedule::Ramp;

/// Which way a clutch slips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Engine faster than input shaft: the clutch drives the car.
    EngineFaster,
    /// Input shaft faster than engine: the clutch drives the engine.
    InputFaster,
}

impl Direction {
    /// +1 or −1.
    #[inline]
    pub const fn sign(self) -> f64 {
        match self {
            Self::EngineFaster => 1.0,
            Self::InputFaster => -1.0,
        }
    }

    /// The direction of a slip speed or of a torque; zero counts as positive.
    pub fn of(value: f64) -> Self {
        if value >= 0.0 {
            Self::EngineFaster
        } else {
            Self::InputFaster
        }
    }
}

/// What the clutch does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clutch {
    /// Slips: carries its kinetic torque.
    Slipping(Direction),
    /// Holds: engine and input shaft turn as one.
    Locked,
    /// Pedal down in a shift: carries nothing.
    Open,
}

/// Whether reaching the shift speed ends a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShiftCall {
    /// No gear is left, the clutch is not home yet, or a shift is being made.
    NotListened,
    /// It does, at this input-shaft speed, rad/s.
    At(f64),
}

/// A mode: everything that stays the same within a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mode {
    /// Gear engaged (while open in a shift: the old one).
    pub gear: Gear,
    /// What the clutch does.
    pub clutch: Clutch,
    /// Engagement e over time.
    pub engagement: Ramp,
    /// Throttle λ over time.
    pub throttle: Ramp,
    /// Factor ψ of a foot that lifts, over time.
    pub foot: Ramp,
    /// What the driver listens for.
    pub hears: Hears,
    /// Torque it takes to turn the engine over where the throttle is not open, N·m: nothing
    /// before the first shift (the engine is held steady), the motoring torque after.
    pub closed_throttle_nm: f64,
    /// Peak friction over the tyre's own.
    pub grip_factor: f64,
    /// Range of engine speed whose torque rule applies.
    pub band: Band,
    /// Whether the shift speed is listened to.
    pub shift: ShiftCall,
    /// Distance at which the run ends, m.
    pub finish_m: f64,
}
