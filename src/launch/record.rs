//! Everything one launch reports, gathered while it goes by.

use super::account::EnergyAccount;
use super::drive::{Event, Observer};
use super::extremes::Highest;
use super::forces::{Forces, forces};
use super::machine::{Clutch, Mode};
use super::marks::Clock;
use super::rig::Rig;
use super::state::{Instant, STATES};
use crate::car::track::Mark;
use crate::integrate::{Leg, crossing};

/// Looks for the tyre's slip passing its peak at so many equal parts of a step.
const SPIN_PARTS: u32 = 6;

/// Gathers marks, extremes, spin, heat and the energy account.
#[derive(Debug, Clone)]
pub struct Recorder {
    pub(super) clock: Clock,
    pub(super) launch_speed_rad_s: f64,
    /// Lowest engine speed, as its highest negative.
    pub(super) slowest: Highest,
    pub(super) acceleration: Highest,
    pub(super) input_torque: Highest,
    /// Whole run: load transferred, engine speed.
    pub(super) transfer: Highest,
    pub(super) fastest: Highest,
    pub(super) spin_time_s: f64,
    pub(super) spin_distance_m: f64,
    pub(super) first_lock_s: Option<f64>,
    pub(super) first_lock_heat_j: Option<f64>,
    pub(super) energy: EnergyAccount,
    shifted: bool,
    past_sixty: bool,
    last: Instant,
}

impl Recorder {
    /// A recorder for a launch from a speed in rad/s to a mark.
    pub fn new(launch_speed_rad_s: f64, to: Mark) -> Self {
        Self {
            clock: Clock::new(to),
            launch_speed_rad_s,
            slowest: Highest {
                value: -launch_speed_rad_s,
                time_s: 0.0,
            },
            acceleration: Highest::none(),
            input_torque: Highest::none(),
            transfer: Highest::none(),
            fastest: Highest::none(),
            spin_time_s: 0.0,
            spin_distance_m: 0.0,
            first_lock_s: None,
            first_lock_heat_j: None,
            energy: EnergyAccount::default(),
            shifted: false,
            past_sixty: false,
            last: Instant::default(),
        }
    }

    /// Heat in the clutch to first lock-up, or to 60 ft if that comes first, J.
    pub(super) fn heat_j(&self) -> f64 {
        self.first_lock_heat_j.unwrap_or(self.energy.clutch_j)
    }

    fn take_whole_run(&mut self, step: (f64, f64), at: &impl Fn(f64) -> Instant) {
        self.transfer.take_step(step, &mut |t| at(t).transfer_n);
        self.fastest.take_step(step, &mut |t| at(t).engine_rad_s);
    }

    fn take_before_sixty(
        &mut self,
        step: (f64, f64),
        mode: &Mode,
        peak_slip: f64,
        at: &mut impl FnMut(f64) -> (Instant, Forces),
    ) {
        self.energy.take_step(step, mode, at);
        self.acceleration
            .take_step(step, &mut |t| at(t).1.rates.speed_m_s);
        if mode.clutch != Clutch::Open {
            self.input_torque
                .take_step(step, &mut |t| at(t).1.clutch_nm.abs());
        }
        if !self.shifted {
            self.slowest.take_step(step, &mut |t| -at(t).0.engine_rad_s);
        }
        self.add_spin(step, peak_slip, at);
    }

    /// Adds the parts of a step in which the slip lies beyond the tyre's peak.
    fn add_spin(
        &mut self,
        (from, to): (f64, f64),
        peak_slip: f64,
        at: &mut impl FnMut(f64) -> (Instant, Forces),
    ) {
        let width = (to - from) / f64::from(SPIN_PARTS);
        let mut left = from;
        let mut left_beyond = at(left).1.slip - peak_slip;
        for part in 1..=SPIN_PARTS {
            let right = if part == SPIN_PARTS {
                to
            } else {
                from + width * f64::from(part)
            };
            let right_beyond = at(right).1.slip - peak_slip;
            let edge = if (left_beyond > 0.0) == (right_beyond > 0.0) {
                right
            } else {
                crossing(left, right, |t| at(t).1.slip - peak_slip)
            };
            let (begin, end) = match (left_beyond > 0.0, right_beyond > 0.0) {
                (true, _) => (left, edge),
                (false, true) => (edge, right),
                (false, false) => (left, left),
            };
            if end > begin {
                self.spin_time_s += end - begin;
                self.spin_distance_m += at(end).0.distance_m - at(begin).0.distance_m;
            }
            (left, left_beyond) = (right, right_beyond);
        }
    }
}

impl Observer for Recorder {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &Leg<STATES>) {
        self.clock.leg(rig, mode, leg);
        let state_at = |time_s: f64| Instant::from_scaled(&leg.at(time_s));
        let mut all_at = |time_s: f64| {
            let now = state_at(time_s);
            (now, forces(rig, mode, time_s, &now))
        };
        let peak_slip = rig.tyre().shape.peak_slip();
        let sixty_s = self.clock.since_bite_s(Mark::Ft60);
        for (from, to) in leg.steps() {
            self.take_whole_run((from, to), &state_at);
            let until = sixty_s.map_or(to, |sixty| sixty.min(to));
            if !self.past_sixty && until > from {
                self.take_before_sixty((from, until), mode, peak_slip, &mut all_at);
            }
        }
        if !self.past_sixty {
            let end = state_at(sixty_s.unwrap_or_else(|| leg.end_s()));
            self.energy.close(rig, mode, self.launch_speed_rad_s, &end);
            self.past_sixty = sixty_s.is_some();
        }
        self.last = state_at(leg.end_s());
    }

    fn event(&mut self, event: Event, time_s: f64) {
        match event {
            Event::LockedUp => {
                if self.first_lock_s.is_none() {
                    self.first_lock_s = Some(time_s);
                    if !self.past_sixty {
                        self.first_lock_heat_j = Some(self.last.heat_j);
                    }
                }
            }
            Event::ShiftBegun => self.shifted = true,
            Event::NextGear { loss_j } => {
                if !self.past_sixty {
                    self.energy.driveline_loss_j += loss_j;
                }
            }
        }
    }
}
