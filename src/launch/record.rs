//! Everything one launch reports, gathered while it goes by.

use super::account::{EnergyAccount, Look};
use super::extremes::{Highest, PLACES};
use super::forces::LegForces;
use super::marks::Clock;
use super::mode::{Clutch, Mode};
use super::observer::{DrivenLeg, Event, Observer};
use super::rig::Rig;
use super::state::{Instant, STATES};
use crate::car::schedule::Ramp;
use crate::car::track::Mark;
use crate::integrate::Dense;
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
    fn take_step(&mut self, step: &Watched<'_>, start: Look, to_s: f64) -> Look {
        let length_s = to_s - start.time_s;
        let looks = [
            start,
            step.look(start.time_s + 0.5 * length_s),
            step.look(to_s),
        ];
        let times_s = looks.map(|look| look.time_s);
        self.take_states(step, &times_s, &looks.map(|look| look.now));
        if !self.shifted {
            self.slowest.take_step(
                &times_s,
                &looks.map(|look| -look.now.engine_rad_s),
                &mut |t| -step.state(t).engine_rad_s,
            );
        }
        self.energy.take_step(length_s, step.mode, &looks);
        self.acceleration.take_step(
            &times_s,
            &looks.map(|look| look.all.rates.speed_m_s),
            &mut |t| step.look(t).all.rates.speed_m_s,
        );
        if step.mode.clutch != Clutch::Open {
            self.input_torque.take_step(
                &times_s,
                &looks.map(|look| look.all.clutch_nm.abs()),
                &mut |t| step.look(t).all.clutch_nm.abs(),
            );
        }
        let [start, middle, end] = &looks;
        self.add_spin(step, start, middle);
        self.add_spin(step, middle, end);
        *end
    }

    /// What is watched over the whole run.
    fn take_states(
        &mut self,
        step: &Watched<'_>,
        times_s: &[f64; PLACES],
        states: &[Instant; PLACES],
    ) {
        self.transfer
            .take_step(times_s, &states.map(|now| now.transfer_n), &mut |t| {
                step.state(t).transfer_n
            });
        self.fastest
            .take_step(times_s, &states.map(|now| now.engine_rad_s), &mut |t| {
                step.state(t).engine_rad_s
            });
    }

    /// Adds the part between two looks in which the slip lies beyond the tyre's peak.
    fn add_spin(&mut self, step: &Watched<'_>, left: &Look, right: &Look) {
        let peak_slip = step.rig.tyre().shape.peak_slip();
        let edge = || {
            let edge_s = crossing(left.time_s, right.time_s, |t| {
                step.look(t).all.slip - peak_slip
            });
            (edge_s, step.state(edge_s).distance_m)
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
}

/// A step that goes by, with what it takes to look into it.
struct Watched<'l> {
    rig: &'l Rig<'l>,
    mode: &'l Mode,
    forces: &'l LegForces<'l, 'l>,
    within: Dense<STATES>,
    length_s: f64,
    /// Where the step begins, s.
    begins_s: f64,
}

impl Watched<'_> {
    /// State by the step's own dense output.
    fn state(&self, time_s: f64) -> Instant {
        let share = (time_s - self.begins_s) / self.length_s;
        Instant::from_scaled(&self.within.at_share(share))
    }

    fn look(&self, time_s: f64) -> Look {
        look(self.forces, time_s, self.state(time_s))
    }
}

fn look(forces: &LegForces, time_s: f64, now: Instant) -> Look {
    Look {
        time_s,
        now,
        all: forces.at(time_s, &now),
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
        let forces = LegForces::new(rig, mode);
        let mut until_sixty = (!self.past_sixty)
            .then(|| look(&forces, leg.start_s(), Instant::from_scaled(leg.start())));
        for ((begins_s, to_s), step) in leg.dense_steps() {
            let watched = Watched {
                rig,
                mode,
                forces: &forces,
                within: step.dense(),
                length_s: step.length_s(),
                begins_s,
            };
            let mut from_s = begins_s;
            if let Some(start) = until_sixty {
                from_s = sixty_s.map_or(to_s, |sixty_s| sixty_s.min(to_s));
                let end = self.take_step(&watched, start, from_s);
                until_sixty = (sixty_s != Some(from_s)).then_some(end);
            }
            if from_s < to_s {
                let times_s = [from_s, f64::midpoint(from_s, to_s), to_s];
                self.take_states(
                    &watched,
                    &times_s,
                    &times_s.map(|time_s| watched.state(time_s)),
                );
            }
        }
        if let Some(sixty_s) = sixty_s.filter(|_| !self.past_sixty) {
            self.close_account(rig, mode, leg, sixty_s);
            self.past_sixty = true;
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
