//! The right-hand sides of a launch by themselves: as many as its steps take, each in its place.

use flyheft::integrate::Motion;
use flyheft::launch::Rig;
use flyheft::launch::machine::Machine;
use flyheft::launch::mode::Mode;
use flyheft::launch::observer::{DrivenLeg, Observer};
use flyheft::launch::state::Scaled;
use std::hint::black_box;

/// What a launch passes through: each leg's mode, and where its steps begin.
#[derive(Default)]
pub(crate) struct Passed(Vec<(Mode, Vec<(f64, Scaled)>)>);

impl Observer for Passed {
    fn leg(&mut self, _rig: &Rig, mode: &Mode, leg: &DrivenLeg) {
        let starts = leg.steps().map(|(from_s, _)| (from_s, leg.at(from_s)));
        self.0.push((*mode, starts.collect()));
    }
}

/// Whether each evaluation waits for the one before, as a stepper's do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Order {
    /// All from the step's start: the processor may work on several at once.
    Loop,
    /// Each from the state that the last one moved.
    Chained,
}

/// Stages of a step that ask for rates.
const STAGES: u32 = 6;
/// How far a state is moved along its rates before they are asked for again, s: so little that
/// the launch stays what it was, and enough that each waits for the one before.
const NUDGE_S: f64 = 1e-9;

impl Passed {
    /// As many right-hand sides as the launch's steps take; a number made of all of them.
    pub(crate) fn right_hand_sides(&self, rig: &Rig, order: Order) -> f64 {
        let mut sum = 0.0;
        for (mode, starts) in &self.0 {
            let machine = Machine::new(rig, *mode);
            for (time_s, start) in starts {
                let (mut state, mut rates) = (*start, *start);
                for _ in 0..STAGES {
                    machine.rates(*time_s, black_box(&state), &mut rates);
                    if order == Order::Chained {
                        state += rates * NUDGE_S;
                    }
                }
                sum += rates.sum();
            }
        }
        sum
    }
}
