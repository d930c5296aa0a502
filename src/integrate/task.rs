//! What a stepper is asked to do, by which rules, and what it answers.

use super::{Accuracy, IntegrationFailure, State};

/// Step-size control as published with the pair (Hairer, Nørsett & Wanner I, sec. II.4).
pub(super) const SAFETY_FACTOR: f64 = 0.9;
pub(super) const PI_CONTROL_BETA: f64 = 0.04;
pub(super) const LEAST_GROWTH: f64 = 0.2;
pub(super) const MOST_GROWTH: f64 = 10.0;
/// Steps after which a leg is given up; a whole minute of the longest launch takes under 20,000.
pub(super) const MOST_STEPS: u32 = 100_000;

/// What a stepper is asked to do. Time is counted from the leg's start.
pub(super) struct Task<'a, const N: usize> {
    pub(super) start_s: f64,
    pub(super) start: State<N>,
    pub(super) length_s: f64,
    /// `None`: it chooses.
    pub(super) first_step_s: Option<f64>,
    pub(super) longest_step_s: f64,
    pub(super) accuracy: &'a Accuracy,
}

impl<const N: usize> Task<'_, N> {
    /// A failure that came so long after the leg's start.
    pub(super) fn step_vanished(&self, since_start_s: f64) -> IntegrationFailure {
        IntegrationFailure::StepVanished {
            time_s: self.start_s + since_start_s,
        }
    }

    /// As above.
    pub(super) fn too_many_steps(&self, since_start_s: f64) -> IntegrationFailure {
        IntegrationFailure::TooManySteps {
            time_s: self.start_s + since_start_s,
        }
    }
}

/// Where a stepper ended: at the leg's end, or with the first step in which a guard fell.
pub(super) struct Arrival<const N: usize, const G: usize> {
    pub(super) end: State<N>,
    pub(super) guards: [f64; G],
    pub(super) evaluations: u32,
}
