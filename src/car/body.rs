//! The car: mass, weight on its axles, drag.

use super::checked::{InnerShare, NonNegative, Positive, Share};
use super::constants::STANDARD_GRAVITY_M_S2;

/// Rolling resistance over weight where the sheet is silent (common practice, no source).
pub const DEFAULT_ROLLING: f64 = 0.015;
/// Time constant of the weight transfer, s, where the sheet is silent (common practice, no source).
pub const DEFAULT_PITCH_TIME_S: f64 = 0.12;
/// Least share of the car's weight left on the driven axle in the model.
pub const LEAST_AXLE_SHARE: f64 = 0.05;

/// How the driven wheels share the axle's torque.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Axle {
    /// Both tyres loaded and driven alike: independent suspension or a locked differential.
    Even,
    /// A live axle with an open differential: the propeller shaft's torque unloads one tyre,
    /// and the other can pass on no more than that one.
    LiveOpen {
        /// Distance between the driven tyres' centres, m.
        track_width_m: Positive,
        /// Front share of the car's roll stiffness.
        front_roll_share: Share,
    },
}

/// Which axle drives, and how.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Drive {
    /// Rear wheels.
    Rear(Axle),
    /// Front wheels.
    Front,
}

/// The car without its engine and driveline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Mass on the line, driver in, kg.
    pub mass_kg: Positive,
    /// Which axle drives.
    pub drive: Drive,
    /// Wheelbase, m.
    pub wheelbase_m: Positive,
    /// Height of the centre of gravity, m.
    pub cg_height_m: Positive,
    /// Share of the weight on the front axle, standing still.
    pub front_share: InnerShare,
    /// Drag coefficient times frontal area, m².
    pub drag_area_m2: NonNegative,
    /// Rolling resistance over weight.
    pub rolling: NonNegative,
    /// Both driven wheels with tyres, half-shafts and brakes, kg·m².
    pub driven_wheels_kg_m2: Positive,
    /// Both undriven wheels, kg·m².
    pub undriven_wheels_kg_m2: NonNegative,
    /// Time constant of the weight transfer, s.
    pub pitch_time_s: Positive,
}

impl Body {
    /// Weight, N.
    pub fn weight_n(&self) -> f64 {
        self.mass_kg.get() * STANDARD_GRAVITY_M_S2
    }

    /// Static load on the front axle, N.
    pub fn static_front_n(&self) -> f64 {
        self.front_share.get() * self.weight_n()
    }

    /// Static load on the driven axle, N.
    pub fn static_driven_n(&self) -> f64 {
        match self.drive {
            Drive::Front => self.static_front_n(),
            Drive::Rear(_) => self.weight_n() - self.static_front_n(),
        }
    }

    /// +1 where acceleration loads the driven axle (rear drive), −1 where it unloads it.
    pub fn transfer_sign(&self) -> f64 {
        match self.drive {
            Drive::Rear(_) => 1.0,
            Drive::Front => -1.0,
        }
    }
}
