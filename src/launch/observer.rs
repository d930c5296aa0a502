//! What is told of a launch while it goes by.

use super::machine::Guard;
use super::mode::Mode;
use super::rig::Rig;
use super::state::STATES;
use crate::integrate::Leg;

/// A leg of a launch: it stopped at its end or at one of the machine's guards.
pub type DrivenLeg = Leg<STATES, Guard>;

/// Watches a launch go by: told of every leg in turn, and of what happens between two legs.
pub trait Observer {
    /// A leg was driven in a mode.
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg);

    /// Something happened between two legs, at a time in s.
    fn event(&mut self, _event: Event, _time_s: f64) {}
}

/// Two that watch the same launch.
impl<A: Observer, B: Observer> Observer for (A, B) {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        self.0.leg(rig, mode, leg);
        self.1.leg(rig, mode, leg);
    }

    fn event(&mut self, event: Event, time_s: f64) {
        self.0.event(event, time_s);
        self.1.event(event, time_s);
    }
}

/// What happens between legs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Event {
    /// The clutch locked up.
    LockedUp,
    /// The driver's foot begins to lift.
    FootLifts,
    /// The clutch was opened for a shift.
    ShiftBegun,
    /// The next gear went in; the kinetic energy this took out, J.
    NextGear {
        /// Energy lost, J.
        loss_j: f64,
    },
}
