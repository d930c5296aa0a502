//! The one place that speaks to `ode_solvers`.
//!
//! What the crate asks for, and what is done about it here, each held by a test:
//! continuous output only (its other dense output extrapolates past the end); time counted
//! from 0 in every leg; a fresh stepper and a fresh output model a leg; no leg of zero length;
//! a first step never longer than the leg or the longest step; a bounded step, so that guards
//! are looked at often enough; no stiffness abort.

use super::guard::{Watch, guard_value};
use super::leg::{Leg, Stop};
use super::root::crossing;
use super::{Accuracy, IntegrationFailure, Motion, State};
use ode_solvers::continuous_output_model::ContinuousOutputModel;
use ode_solvers::dop_shared::{IntegrationError, OutputType};
use ode_solvers::{Dopri5, System};

/// Step-size control as published with the pair (Hairer, Nørsett & Wanner I, sec. II.4).
const SAFETY_FACTOR: f64 = 0.9;
const PI_CONTROL_BETA: f64 = 0.04;
const LEAST_GROWTH: f64 = 0.2;
const MOST_GROWTH: f64 = 10.0;
/// Steps after which a leg is given up; a whole minute of the longest launch takes under 20,000.
const MOST_STEPS: u32 = 100_000;
/// Turns the crate's stiffness abort off: step control alone decides.
const NO_STIFFNESS_TEST: u32 = 0;
/// Legs shorter than this, s, are over before they begin.
const SHORTEST_LEG_S: f64 = 1e-12;
/// Lets the stepper choose its own first step.
const CHOOSE_FIRST_STEP: f64 = 0.0;

/// What the stepper sees of a motion: time counted from the leg's start, guards watched.
struct Watched<'m, M: Motion<N, G>, const N: usize, const G: usize> {
    motion: &'m M,
    start_s: f64,
    watch: Watch<M::Guard, G>,
}

impl<const N: usize, const G: usize, M: Motion<N, G>> System<f64, State<N>>
    for &mut Watched<'_, M, N, G>
{
    /// The stepper hands over rates of an earlier call: an entry that a motion forgot to write
    /// shall be no number, and so an error, rather than a number of another time.
    fn system(&self, since_start_s: f64, state: &State<N>, rates: &mut State<N>) {
        rates.fill(f64::NAN);
        self.motion
            .rates(self.start_s + since_start_s, state, rates);
    }

    fn solout(&mut self, since_start_s: f64, state: &State<N>, _rates: &State<N>) -> bool {
        let values = self.motion.guards(self.start_s + since_start_s, state);
        self.watch.any_falls(values)
    }
}

/// Integrates a motion from a state at a time, s, to `end_s` or to the first guard that falls.
///
/// `first_step_s` is a first step to try, such as the last leg's; `None` lets the stepper choose.
///
/// # Errors
/// When the state is not finite, or the motion cannot be followed any further.
pub fn integrate_leg<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    (start_s, start): (f64, State<N>),
    end_s: f64,
    first_step_s: Option<f64>,
    accuracy: &Accuracy,
) -> Result<Leg<N, M::Guard>, IntegrationFailure> {
    let guards = motion.guards(start_s, &start);
    let numbers = start.iter().chain(&guards);
    if end_s.is_nan() || !numbers.copied().all(f64::is_finite) {
        return Err(IntegrationFailure::NotFinite { time_s: start_s });
    }
    let mut watched = Watched {
        motion,
        start_s,
        watch: Watch::new(M::GUARDS, guards),
    };
    if let Some(guard) = watched.watch.fallen_at_start() {
        return Ok(without_steps(start_s, start, Stop::Guard(guard)));
    }
    let length_s = end_s - start_s;
    if length_s < SHORTEST_LEG_S {
        return Ok(without_steps(end_s.max(start_s), start, Stop::End));
    }
    let longest_step_s = accuracy.longest_step_s.min(length_s);
    let mut stepper = Dopri5::from_param(
        &mut watched,
        0.0,
        length_s,
        length_s,
        start,
        accuracy.relative,
        accuracy.absolute,
        SAFETY_FACTOR,
        PI_CONTROL_BETA,
        LEAST_GROWTH,
        MOST_GROWTH,
        longest_step_s,
        first_step_s
            .filter(|step| *step > 0.0)
            .map_or(CHOOSE_FIRST_STEP, |step| step.min(longest_step_s)),
        MOST_STEPS,
        NO_STIFFNESS_TEST,
        OutputType::Continuous,
    );
    let mut between = ContinuousOutputModel::new();
    let stats = stepper
        .integrate_with_continuous_output_model(&mut between)
        .map_err(|error| failure(&error, start_s))?;
    let step_ends = stepper.x_out().clone();
    let end = stepper.y_out().last().copied().unwrap_or(start);
    let leg = Leg {
        start_s,
        end_s,
        start,
        end,
        stop: Stop::End,
        last_step_s: None,
        step_ends,
        between,
        evaluations: stats.num_eval,
    };
    stopped_at_first_fall(leg, motion, &watched.watch)
}

/// Cuts a leg off at the guard that fell first within its last step, if one did.
fn stopped_at_first_fall<const N: usize, const G: usize, M: Motion<N, G>>(
    mut leg: Leg<N, M::Guard>,
    motion: &M,
    watch: &Watch<M::Guard, G>,
) -> Result<Leg<N, M::Guard>, IntegrationFailure> {
    let Some(&last_end) = leg.step_ends.last() else {
        return Ok(leg);
    };
    let last_start = leg
        .step_ends
        .len()
        .checked_sub(2)
        .and_then(|i| leg.step_ends.get(i))
        .copied()
        .unwrap_or(0.0);
    leg.last_step_s = Some(longer_of_last_two(&leg.step_ends));
    let at_end = motion.guards(leg.start_s + last_end, &leg.end);
    if !at_end.iter().copied().all(f64::is_finite) {
        return Err(IntegrationFailure::NotFinite {
            time_s: leg.start_s + last_end,
        });
    }
    let state_at = |since_start_s: f64| leg.between.evaluate(since_start_s).unwrap_or(leg.end);
    let fall = watch.first_fall(&at_end, |index, armed| {
        let guard = |since_start_s: f64| {
            let time_s = leg.start_s + since_start_s;
            guard_value(motion, index, time_s, &state_at(since_start_s))
        };
        let above = if armed {
            Some(last_start)
        } else {
            places(last_start, last_end).find(|place| guard(*place) > 0.0)
        };
        above.map_or(last_end, |above| crossing(above, last_end, guard))
    });
    if let Some((guard, since_start_s)) = fall {
        leg.end = state_at(since_start_s);
        leg.end_s = leg.start_s + since_start_s;
        leg.stop = Stop::Guard(guard);
    }
    Ok(leg)
}

/// Where a guard that began at zero is looked at within the step that it ends below zero: it
/// may have risen and fallen again, or never have risen; then it counts at the step's end.
fn places(from: f64, to: f64) -> impl Iterator<Item = f64> {
    const PARTS: u8 = 32;
    (1..PARTS).map(move |part| from + (to - from) * f64::from(part) / f64::from(PARTS))
}

/// The longer of the last two steps: the very last may have been cut short by the leg's end.
fn longer_of_last_two(step_ends: &[f64]) -> f64 {
    match step_ends {
        [.., a, b, c] => (c - b).max(b - a),
        [a, b] => (b - a).max(*a),
        [a] => *a,
        [] => 0.0,
    }
}

fn without_steps<const N: usize, K>(time_s: f64, state: State<N>, stop: Stop<K>) -> Leg<N, K> {
    Leg {
        start_s: time_s,
        end_s: time_s,
        start: state,
        end: state,
        stop,
        last_step_s: None,
        step_ends: Vec::new(),
        between: ContinuousOutputModel::new(),
        evaluations: 0,
    }
}

fn failure(error: &IntegrationError, start_s: f64) -> IntegrationFailure {
    match *error {
        IntegrationError::MaxNumStepReached { x, .. } => IntegrationFailure::TooManySteps {
            time_s: start_s + x,
        },
        IntegrationError::StepSizeUnderflow { x } | IntegrationError::StiffnessDetected { x } => {
            IntegrationFailure::StepVanished {
                time_s: start_s + x,
            }
        }
    }
}
