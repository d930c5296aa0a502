//! One smooth piece of motion, as it came out.

use super::State;
use super::step::Step;

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
    /// The accepted steps; the last may reach beyond `end_s`.
    pub(super) steps: Vec<Step<N>>,
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
    /// the next leg. `None` for a leg without steps. The longer of the last two: the very last
    /// may have been cut short by the leg's end.
    pub fn last_step_s(&self) -> Option<f64> {
        let last_two = self.steps.iter().rev().take(2);
        last_two.map(Step::length_s).reduce(f64::max)
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
        let since_start_s = time_s - self.start_s;
        let after = self
            .steps
            .partition_point(|step| step.end_s() < since_start_s);
        self.steps
            .get(after)
            .map_or(self.end, |step| step.dense().at(since_start_s))
    }

    /// The leg's steps as (from, to) times, s, cut off where the leg stopped.
    pub fn steps(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.dense_steps().map(|(times_s, _)| times_s)
    }

    /// The same, each with its step.
    pub fn dense_steps(&self) -> impl Iterator<Item = ((f64, f64), &Step<N>)> + '_ {
        self.steps
            .iter()
            .map(|step| {
                let (from_s, to_s) = (self.start_s + step.from_s, self.start_s + step.end_s());
                ((from_s, to_s.min(self.end_s)), step)
            })
            .filter(|((from, to), _)| to > from)
    }

    /// Gives back the room its steps took, for the next leg.
    pub fn into_room(self) -> Vec<Step<N>> {
        self.steps
    }
}
