//! Follows a motion to its end or its first event, with either stepper.

use super::guard::{Watch, guard_value};
use super::leg::{Leg, Stop};
use super::step::Step;
use super::task::Task;
use super::{Accuracy, IntegrationFailure, Motion, State, Stepper};
use super::{fixed_arrays, ode_solvers_stepper};
use crate::numerics::crossing;

/// Legs shorter than this, s, are over before they begin.
const SHORTEST_LEG_S: f64 = 1e-12;
/// Integrates a motion from a state at a time, s, to `end_s` or to the first guard that falls.
///
/// `first_step_s` is a first step to try, such as the last leg's; `None` lets the stepper choose.
///
/// # Errors
/// When the state is not finite, or the motion cannot be followed any further.
pub fn integrate_leg<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    start: (f64, State<N>),
    end_s: f64,
    first_step_s: Option<f64>,
    accuracy: &Accuracy,
) -> Result<Leg<N, M::Guard>, IntegrationFailure> {
    integrate_leg_in(Vec::new(), motion, start, end_s, first_step_s, accuracy)
}

/// As [`integrate_leg`], in room that an earlier leg gave back ([`Leg::into_room`]): the steps
/// of a launch then ask for no memory.
///
/// # Errors
/// As [`integrate_leg`].
pub fn integrate_leg_in<const N: usize, const G: usize, M: Motion<N, G>>(
    mut room: Vec<Step<N>>,
    motion: &M,
    (start_s, start): (f64, State<N>),
    end_s: f64,
    first_step_s: Option<f64>,
    accuracy: &Accuracy,
) -> Result<Leg<N, M::Guard>, IntegrationFailure> {
    room.clear();
    let guards = motion.guards(start_s, &start);
    let numbers = start.iter().chain(&guards);
    if end_s.is_nan() || !numbers.copied().all(f64::is_finite) {
        return Err(IntegrationFailure::NotFinite { time_s: start_s });
    }
    let mut watch = Watch::new(M::GUARDS, guards);
    let mut leg = Leg {
        start_s,
        end_s: start_s,
        start,
        end: start,
        stop: Stop::End,
        steps: room,
        evaluations: 0,
    };
    if let Some(guard) = watch.fallen_at_start() {
        leg.stop = Stop::Guard(guard);
        return Ok(leg);
    }
    let length_s = end_s - start_s;
    leg.end_s = end_s.max(start_s);
    if length_s < SHORTEST_LEG_S {
        return Ok(leg);
    }
    let longest_step_s = accuracy.longest_step_s.min(length_s);
    let task = Task {
        start_s,
        start,
        length_s,
        first_step_s: first_step_s
            .filter(|step| *step > 0.0)
            .map(|step| step.min(longest_step_s)),
        longest_step_s,
        accuracy,
    };
    let arrival = match accuracy.stepper {
        Stepper::OdeSolvers => ode_solvers_stepper::run(motion, &task, &mut watch, &mut leg.steps)?,
        Stepper::FixedArrays => fixed_arrays::run(motion, &task, &mut watch, &mut leg.steps)?,
    };
    leg.end = arrival.end;
    leg.evaluations = arrival.evaluations;
    stop_at_first_fall(&mut leg, motion, &watch, &arrival.guards)?;
    Ok(leg)
}

/// Cuts a leg off at the guard that fell first within its last step, if one did.
fn stop_at_first_fall<const N: usize, const G: usize, M: Motion<N, G>>(
    leg: &mut Leg<N, M::Guard>,
    motion: &M,
    watch: &Watch<M::Guard, G>,
    at_end: &[f64; G],
) -> Result<(), IntegrationFailure> {
    let Some(last) = leg.steps.last() else {
        return Ok(());
    };
    let (last_start, last_end) = (last.from_s, last.end_s());
    if !at_end.iter().copied().all(f64::is_finite) {
        return Err(IntegrationFailure::NotFinite {
            time_s: leg.start_s + last_end,
        });
    }
    let within = last.dense();
    let fall = watch.first_fall(at_end, |index, armed| {
        let guard = |since_start_s: f64| {
            let time_s = leg.start_s + since_start_s;
            guard_value(motion, index, time_s, &within.at(since_start_s))
        };
        let above = if armed {
            Some(last_start)
        } else {
            places(last_start, last_end).find(|place| guard(*place) > 0.0)
        };
        above.map_or(last_end, |above| crossing(above, last_end, guard))
    });
    if let Some((guard, since_start_s)) = fall {
        leg.end = within.at(since_start_s);
        leg.end_s = leg.start_s + since_start_s;
        leg.stop = Stop::Guard(guard);
    }
    Ok(())
}

/// Where a guard that began at zero is looked at within the step that it ends below zero: it
/// may have risen and fallen again, or never have risen; then it counts at the step's end.
fn places(from: f64, to: f64) -> impl Iterator<Item = f64> {
    const PARTS: u8 = 32;
    (1..PARTS).map(move |part| from + (to - from) * f64::from(part) / f64::from(PARTS))
}
