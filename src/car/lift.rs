//! A driver who lifts when the tyres spin.

use crate::numerics::checked::{NonNegative, Positive, Share};

/// Share of the torque the foot goes to where the sheet is silent (common practice, no source).
pub const DEFAULT_LIFT_TO: f64 = 0.5;
/// Slip speed of the tread that makes a driver lift, m/s, where the sheet is silent (common
/// practice, no source).
pub const DEFAULT_LIFT_AT_M_S: f64 = 3.0;
/// Time from hearing the tyres to moving the foot, s, where the sheet is silent (common practice,
/// no source).
pub const DEFAULT_LIFT_REACTION_S: f64 = 0.25;
/// Time the foot takes to move, s, where the sheet is silent (common practice, no source).
pub const DEFAULT_LIFT_OVER_S: f64 = 0.10;

/// How a driver lifts: when the tread slips faster than a speed, the foot goes part of the way up
/// after a reaction time, and back down again once the tread slips slower than half of it.
///
/// It is a factor ψ on the throttle, 1 with the foot down: with it
/// `Te = λ (ψ Tfull − (1−ψ) Tm) − (1−λ) T0`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    to: Share,
    at_m_s: Positive,
    reaction_s: NonNegative,
    over_s: NonNegative,
}

impl Lift {
    /// A lift to a share `to` of full throttle, at a slip speed in m/s, after a reaction time in s,
    /// the foot moving for `over_s`; `None` where `to` is 1: that is no lift.
    pub fn new(
        to: Share,
        at_m_s: Positive,
        reaction_s: NonNegative,
        over_s: NonNegative,
    ) -> Option<Self> {
        (to.get() < 1.0).then_some(Self {
            to,
            at_m_s,
            reaction_s,
            over_s,
        })
    }

    /// Factor ψ on the throttle that the foot goes to, 0 to below 1.
    pub fn to(&self) -> f64 {
        self.to.get()
    }

    /// Slip speed of the tread that makes the driver lift, m/s.
    pub fn at_m_s(&self) -> f64 {
        self.at_m_s.get()
    }

    /// Slip speed below which the foot goes down again, m/s: half of [`Lift::at_m_s`].
    pub fn down_again_m_s(&self) -> f64 {
        0.5 * self.at_m_s.get()
    }

    /// Time from hearing to moving, s.
    pub fn reaction_s(&self) -> f64 {
        self.reaction_s.get()
    }

    /// Time the foot takes to move, s; 0 is a jump.
    pub fn over_s(&self) -> f64 {
        self.over_s.get()
    }
}
