//! One smooth piece of motion, as it came out.

use super::State;
use ode_solvers::continuous_output_model::ContinuousOutputModel;

/// Why a leg stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop<K> {
    /// Its end was reached.
    End,
    /// This guard fell through zero.
    Guard(K),
}

/// One smooth piece of motion: where it began and stopped, why, and the states in between.
/// `K` is what the motion tells its guards apart with.
pub struct Leg<const N: usize, K> {
    pub(super) start_s: f64,
    pub(super) end_s: f64,
    pub(super) start: State<N>,
    pub(super) end: State<N>,
    pub(super) stop: Stop<K>,
    pub(super) last_step_s: Option<f64>,
    /// Ends of the accepted steps, counted from the leg's start; the last may lie beyond `end_s`.
    pub(super) step_ends: Vec<f64>,
    pub(super) between: ContinuousOutputModel<f64, State<N>>,
    pub(super) evaluations: u32,
}

impl<const N: usize, K: Copy> Leg<N, K> {
    /// Time it began, s.
    pub fn start_s(&self) -> f64 {
        self.start_s
    }

    /// Time it stopped, s.
    pub fn end_s(&self) -> f64 {
        self.end_s
    }

    /// State where it began.
    pub fn start(&self) -> &State<N> {
        &self.start
    }

    /// State where it stopped.
    pub fn end(&self) -> &State<N> {
        &self.end
    }

    /// Why it stopped.
    pub fn stop(&self) -> Stop<K> {
        self.stop
    }

    /// Length of the last step the error control would have liked, s: a good first step for
    /// the next leg. `None` for a leg without steps.
    pub fn last_step_s(&self) -> Option<f64> {
        self.last_step_s
    }

    /// How often the rates were asked for.
    pub fn evaluations(&self) -> u32 {
        self.evaluations
    }

    /// State at a time within the leg; outside it, the nearer end.
    pub fn at(&self, time_s: f64) -> State<N> {
        if time_s <= self.start_s {
            return self.start;
        }
        if time_s >= self.end_s {
            return self.end;
        }
        self.between
            .evaluate(time_s - self.start_s)
            .unwrap_or(self.end)
    }

    /// The leg's steps as (from, to) times, s, cut off where the leg stopped.
    pub fn steps(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let starts = std::iter::once(0.0).chain(self.step_ends.iter().copied());
        starts
            .zip(self.step_ends.iter().copied())
            .map(|(from, to)| (self.start_s + from, (self.start_s + to).min(self.end_s)))
            .filter(|(from, to)| to > from)
    }
}
