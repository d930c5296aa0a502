//! Everything one launch reports, gathered while it goes by.

use super::account::EnergyAccount;
use super::extremes::{Highest, PLACES, places};
use super::forces::{Forces, forces};
use super::marks::Clock;
use super::mode::{Clutch, Mode};
use super::observer::{DrivenLeg, Event, Observer};
use super::rig::Rig;
use super::state::Instant;
use crate::car::schedule::Ramp;
use crate::car::track::Mark;
use crate::numerics::crossing;

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
    pub(super) lifts: u32,
    pub(super) lifted_time_s: f64,
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
            lifts: 0,
            lifted_time_s: 0.0,
            shifted: false,
            past_sixty: false,
            last: Instant::default(),
        }
    }

    /// Heat in the clutch to first lock-up, or to 60 ft if that comes first, J.
    pub(super) fn heat_j(&self) -> f64 {
        self.first_lock_heat_j.unwrap_or(self.energy.clutch_j)
    }

    fn close_account(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg, time_s: f64) {
        let end = Instant::from_scaled(&leg.at(time_s));
        self.energy.close(rig, mode, self.launch_speed_rad_s, &end);
    }

    /// Takes in a step or the part of one on either side of the sixty-foot mark.
    fn take_step(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg, step: (f64, f64)) {
        let state_at = |time_s: f64| Instant::from_scaled(&leg.at(time_s));
        let times_s = places(step);
        let states = times_s.map(state_at);
        self.transfer
            .take_step(&times_s, &states.map(|now| now.transfer_n), &mut |t| {
                state_at(t).transfer_n
            });
        self.fastest
            .take_step(&times_s, &states.map(|now| now.engine_rad_s), &mut |t| {
                state_at(t).engine_rad_s
            });
        if self.past_sixty {
            return;
        }
        if !self.shifted {
            self.slowest
                .take_step(&times_s, &states.map(|now| -now.engine_rad_s), &mut |t| {
                    -state_at(t).engine_rad_s
                });
        }
        let mut all_at = |time_s: f64| {
            let now = state_at(time_s);
            (now, forces(rig, mode, time_s, &now))
        };
        self.energy.take_step(step, mode, &mut all_at);
        let all = times_s.map(|time_s| all_at(time_s).1);
        self.take_forces(&times_s, &all, mode, &mut |t| all_at(t).1);
        self.add_spin(rig.tyre().shape.peak_slip(), &times_s, &all, &mut all_at);
    }

    fn take_forces(
        &mut self,
        times_s: &[f64; PLACES],
        all: &[Forces; PLACES],
        mode: &Mode,
        at: &mut impl FnMut(f64) -> Forces,
    ) {
        self.acceleration
            .take_step(times_s, &all.map(|all| all.rates.speed_m_s), &mut |t| {
                at(t).rates.speed_m_s
            });
        if mode.clutch != Clutch::Open {
            self.input_torque
                .take_step(times_s, &all.map(|all| all.clutch_nm.abs()), &mut |t| {
                    at(t).clutch_nm.abs()
                });
        }
    }

    /// Adds the parts of a step in which the slip lies beyond the tyre's peak.
    fn add_spin(
        &mut self,
        peak_slip: f64,
        times_s: &[f64; PLACES],
        all: &[Forces; PLACES],
        at: &mut impl FnMut(f64) -> (Instant, Forces),
    ) {
        for (times_s, all) in times_s.windows(2).zip(all.windows(2)) {
            let (&[left, right], [at_left, at_right]) = (times_s, all) else {
                continue;
            };
            let mut edge = || crossing(left, right, |t| at(t).1.slip - peak_slip);
            let (begin, end) = match (at_left.slip > peak_slip, at_right.slip > peak_slip) {
                (true, true) => (left, right),
                (true, false) => (left, edge()),
                (false, true) => (edge(), right),
                (false, false) => continue,
            };
            self.spin_time_s += end - begin;
            self.spin_distance_m += at(end).0.distance_m - at(begin).0.distance_m;
        }
    }
}

impl Observer for Recorder {
    fn leg(&mut self, rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        self.clock.leg(rig, mode, leg);
        let sixty_s = self.clock.since_bite_s(Mark::Ft60);
        if !self.past_sixty && mode.foot != Ramp::constant(1.0) {
            self.lifted_time_s +=
                sixty_s.map_or(leg.end_s(), |sixty_s| sixty_s.min(leg.end_s())) - leg.start_s();
        }
        for (from, to) in leg.steps() {
            match sixty_s {
                Some(sixty_s) if !self.past_sixty && sixty_s <= to => {
                    self.take_step(rig, mode, leg, (from, sixty_s));
                    self.close_account(rig, mode, leg, sixty_s);
                    self.past_sixty = true;
                    if sixty_s < to {
                        self.take_step(rig, mode, leg, (sixty_s, to));
                    }
                }
                _ => self.take_step(rig, mode, leg, (from, to)),
            }
        }
        if !self.past_sixty {
            self.close_account(rig, mode, leg, leg.end_s());
        }
        self.last = Instant::from_scaled(leg.end());
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
            Event::FootLifts => {
                if !self.past_sixty {
                    self.lifts += 1;
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
