//! Everything one launch reports, gathered while it goes by.

use super::account::{EnergyAccount, Look};
use super::extremes::{Highest, PLACES};
use super::forces::forces;
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

    /// Takes in a step, or the part of one, before the sixty-foot mark, from a look at its start; a
    /// look at its end is handed on to the next.
    fn take_step(&mut self, legs: &Watched<'_>, start: Look, to_s: f64) -> Look {
        let length_s = to_s - start.time_s;
        let looks = [
            start,
            legs.look(start.time_s + 0.5 * length_s),
            legs.look(to_s),
        ];
        let times_s = looks.map(|look| look.time_s);
        self.take_states(legs, &times_s, &looks.map(|look| look.now));
        if !self.shifted {
            self.slowest.take_step(
                &times_s,
                &looks.map(|look| -look.now.engine_rad_s),
                &mut |t| -legs.state(t).engine_rad_s,
            );
        }
        self.energy.take_step(length_s, legs.mode, &looks);
        self.acceleration.take_step(
            &times_s,
            &looks.map(|look| look.all.rates.speed_m_s),
            &mut |t| legs.look(t).all.rates.speed_m_s,
        );
        if legs.mode.clutch != Clutch::Open {
            self.input_torque.take_step(
                &times_s,
                &looks.map(|look| look.all.clutch_nm.abs()),
                &mut |t| legs.look(t).all.clutch_nm.abs(),
            );
        }
        let [start, middle, end] = &looks;
        self.add_spin(legs, start, middle);
        self.add_spin(legs, middle, end);
        *end
    }

    /// What is watched over the whole run.
    fn take_states(
        &mut self,
        legs: &Watched<'_>,
        times_s: &[f64; PLACES],
        states: &[Instant; PLACES],
    ) {
        self.transfer
            .take_step(times_s, &states.map(|now| now.transfer_n), &mut |t| {
                legs.state(t).transfer_n
            });
        self.fastest
            .take_step(times_s, &states.map(|now| now.engine_rad_s), &mut |t| {
                legs.state(t).engine_rad_s
            });
    }

    /// Adds the part between two looks in which the slip lies beyond the tyre's peak.
    fn add_spin(&mut self, legs: &Watched<'_>, left: &Look, right: &Look) {
        let peak_slip = legs.rig.tyre().shape.peak_slip();
        let edge = || {
            let edge_s = crossing(left.time_s, right.time_s, |t| {
                legs.look(t).all.slip - peak_slip
            });
            (edge_s, legs.state(edge_s).distance_m)
        };
        let end = |look: &Look| (look.time_s, look.now.distance_m);
        let (begin, end) = match (left.all.slip > peak_slip, right.all.slip > peak_slip) {
            (true, true) => (end(left), end(right)),
            (true, false) => (end(left), edge()),
            (false, true) => (edge(), end(right)),
            (false, false) => return,
        };
        self.spin_time_s += end.0 - begin.0;
        self.spin_distance_m += end.1 - begin.1;
    }

    /// Takes in the steps of a leg from a time on, past the sixty-foot mark.
    fn take_rest(&mut self, legs: &Watched<'_>, from_s: f64) {
        for (step_from_s, to_s) in legs.leg.steps().filter(|(_, to_s)| *to_s > from_s) {
            let begin_s = step_from_s.max(from_s);
            let times_s = [begin_s, f64::midpoint(begin_s, to_s), to_s];
            self.take_states(legs, &times_s, &times_s.map(|time_s| legs.state(time_s)));
        }
    }
}

/// A leg that goes by, with what it takes to look at it.
struct Watched<'l> {
    rig: &'l Rig<'l>,
    mode: &'l Mode,
    leg: &'l DrivenLeg,
}

impl Watched<'_> {
    fn state(&self, time_s: f64) -> Instant {
        Instant::from_scaled(&self.leg.at(time_s))
    }

    fn look(&self, time_s: f64) -> Look {
        let now = self.state(time_s);
        Look {
            time_s,
            now,
            all: forces(self.rig, self.mode, time_s, &now),
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
        let watched = Watched { rig, mode, leg };
        let before_sixty = !self.past_sixty;
        if before_sixty {
            let until_s = sixty_s.unwrap_or(f64::INFINITY);
            let mut look = watched.look(leg.start_s());
            for (_, to_s) in leg.steps() {
                if look.time_s < until_s {
                    look = self.take_step(&watched, look, to_s.min(until_s));
                }
            }
        }
        if let Some(sixty_s) = sixty_s {
            if before_sixty {
                self.close_account(rig, mode, leg, sixty_s);
                self.past_sixty = true;
            }
            self.take_rest(&watched, sixty_s);
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
