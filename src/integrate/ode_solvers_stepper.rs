//! The one place that speaks to `ode_solvers`.
//!
//! What the crate asks for, and what is done about it here, each held by a test:
//! continuous output only (its other dense output extrapolates past the end); time counted
//! from 0 in every leg; a fresh stepper and a fresh output model a leg; no leg of zero length;
//! a first step never longer than the leg or the longest step; a bounded step, so that guards
//! are looked at often enough; no stiffness abort.

use super::guard::Watch;
use super::step::{Step, Within};
use super::task::{
    Arrival, LEAST_GROWTH, MOST_GROWTH, MOST_STEPS, PI_CONTROL_BETA, SAFETY_FACTOR, Task,
};
use super::{IntegrationFailure, Motion, State};
use ode_solvers::continuous_output_model::ContinuousOutputModel;
use ode_solvers::dop_shared::{IntegrationError, OutputType};
use ode_solvers::{Dopri5, System};

/// Turns the crate's stiffness abort off: step control alone decides.
const NO_STIFFNESS_TEST: u32 = 0;
/// Lets the stepper choose its own first step.
const CHOOSE_FIRST_STEP: f64 = 0.0;

/// The end of an accepted step: when, s from the leg's start, the state, its rates.
type StepEnd<const N: usize> = (f64, State<N>, State<N>);

/// What the stepper sees of a motion: time counted from the leg's start, guards watched.
struct Watched<'m, M: Motion<N, G>, const N: usize, const G: usize> {
    motion: &'m M,
    start_s: f64,
    watch: &'m mut Watch<M::Guard, G>,
    guards: [f64; G],
    step_ends: Vec<StepEnd<N>>,
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

    fn solout(&mut self, since_start_s: f64, state: &State<N>, rates: &State<N>) -> bool {
        self.step_ends.push((since_start_s, *state, *rates));
        self.guards = self.motion.guards(self.start_s + since_start_s, state);
        self.watch.any_falls(&self.guards)
    }
}

/// Steps through a leg; the accepted steps are added to `steps`.
pub(super) fn run<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    task: &Task<'_, N>,
    watch: &mut Watch<M::Guard, G>,
    steps: &mut Vec<Step<N>>,
) -> Result<Arrival<N, G>, IntegrationFailure> {
    let mut rates = State::from([f64::NAN; N]);
    motion.rates(task.start_s, &task.start, &mut rates);
    let mut watched = Watched {
        motion,
        start_s: task.start_s,
        watch,
        guards: [f64::NAN; G],
        step_ends: Vec::new(),
    };
    let mut stepper = Dopri5::from_param(
        &mut watched,
        0.0,
        task.length_s,
        task.length_s,
        task.start,
        task.accuracy.relative,
        task.accuracy.absolute,
        SAFETY_FACTOR,
        PI_CONTROL_BETA,
        LEAST_GROWTH,
        MOST_GROWTH,
        task.longest_step_s,
        task.first_step_s.unwrap_or(CHOOSE_FIRST_STEP),
        MOST_STEPS,
        NO_STIFFNESS_TEST,
        OutputType::Continuous,
    );
    let mut between = ContinuousOutputModel::new();
    let stats = stepper
        .integrate_with_continuous_output_model(&mut between)
        .map_err(|error| failure(&error, task))?;
    let end = dense_steps(
        &between,
        (0.0, task.start, rates),
        &watched.step_ends,
        steps,
    );
    Ok(Arrival {
        end,
        guards: watched.guards,
        evaluations: stats.num_eval,
    })
}

/// The crate keeps its dense output to itself, but for the states it gives. A step's polynomial
/// follows from the state and rates at both ends, and from the state it gives in the middle.
/// Returns the state at the end of the last.
fn dense_steps<const N: usize>(
    between: &ContinuousOutputModel<f64, State<N>>,
    start: StepEnd<N>,
    step_ends: &[StepEnd<N>],
    steps: &mut Vec<Step<N>>,
) -> State<N> {
    let mut before = start;
    for step_end in step_ends {
        let (from_s, from, from_rates) = before;
        let (to_s, to, to_rates) = *step_end;
        steps.push(Step {
            from_s,
            length_s: to_s - from_s,
            start: from,
            end: to,
            within: Within::Middle(
                [from_rates, to_rates],
                between.evaluate(f64::midpoint(from_s, to_s)).unwrap_or(to),
            ),
        });
        before = *step_end;
    }
    before.1
}

fn failure<const N: usize>(error: &IntegrationError, task: &Task<'_, N>) -> IntegrationFailure {
    match *error {
        IntegrationError::MaxNumStepReached { x, .. } => task.too_many_steps(x),
        IntegrationError::StepSizeUnderflow { x } | IntegrationError::StiffnessDetected { x } => {
            task.step_vanished(x)
        }
    }
}
