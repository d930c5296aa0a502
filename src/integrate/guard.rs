//! When a guard counts as fallen.

use super::Motion;
use super::State;

/// Guard values at the leg's start, and which guards are armed: a guard is armed
/// once it has been above zero, so that a motion which begins at an event does not meet it again.
#[derive(Debug, Clone, Copy)]
pub(super) struct Watch<K, const G: usize> {
    guards: [K; G],
    at_start: [f64; G],
    armed: [bool; G],
}

impl<K: Copy, const G: usize> Watch<K, G> {
    pub(super) fn new(guards: [K; G], values: [f64; G]) -> Self {
        Self {
            guards,
            at_start: values,
            armed: values.map(|value| value > 0.0),
        }
    }

    /// A guard that is below zero already, before anything moves.
    pub(super) fn fallen_at_start(&self) -> Option<K> {
        self.guards
            .iter()
            .zip(self.at_start)
            .find(|(_, value)| *value < 0.0)
            .map(|(guard, _)| *guard)
    }

    /// Takes the values at a step's end; true if any guard fell within the step, or is no
    /// number any more (`follow` makes that an error).
    pub(super) fn any_falls(&mut self, values: &[f64; G]) -> bool {
        // One look at them all, for nearly every step ends here: what is no number, or without
        // end, does not sum to one.
        let least = values
            .iter()
            .fold(f64::INFINITY, |least, value| least.min(*value));
        let sum: f64 = values.iter().sum();
        if least > 0.0 && sum.is_finite() {
            self.armed = [true; G];
            return false;
        }
        let falls = values
            .iter()
            .zip(self.armed)
            .any(|(value, armed)| *value < 0.0 || (armed && *value == 0.0) || !value.is_finite());
        if !falls {
            for (armed, value) in self.armed.iter_mut().zip(values) {
                *armed |= *value > 0.0;
            }
        }
        falls
    }

    /// Of the guards that fell within a step, the one that fell first, and when. `locate` finds
    /// the time of a fall, told whether the guard was armed before the step.
    pub(super) fn first_fall(
        &self,
        at_end: &[f64; G],
        mut locate: impl FnMut(usize, bool) -> f64,
    ) -> Option<(K, f64)> {
        at_end
            .iter()
            .zip(self.armed)
            .zip(self.guards)
            .enumerate()
            .filter(|(_, ((value, armed), _))| **value < 0.0 || (*armed && **value == 0.0))
            .map(|(index, ((_, armed), guard))| (guard, locate(index, armed)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }
}

/// One guard of a motion.
pub(super) fn guard_value<const N: usize, const G: usize, M: Motion<N, G>>(
    motion: &M,
    index: usize,
    time_s: f64,
    state: &State<N>,
) -> f64 {
    motion.guard(index, time_s, state)
}
