//! One step of a stepper, and the states within it.

use super::State;

/// One step of a leg with its dense output: the polynomial of degree 4 that goes with the
/// Dormand–Prince pair (Hairer, Nørsett & Wanner, *Solving Ordinary Differential Equations I*,
/// sec. II.6), in the form of their program: with `θ` the share of the step,
/// `y = r0 + θ (r1 + (1−θ) (r2 + θ (r3 + (1−θ) r4)))`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step<const N: usize> {
    /// Start, s from the leg's start.
    pub(super) from_s: f64,
    /// Length, s.
    pub(super) length_s: f64,
    /// `r0` to `r4`.
    pub(super) dense: [State<N>; 5],
}

impl<const N: usize> Step<N> {
    /// A step from its ends and the rates there; `last` is the coefficient `r4`.
    #[inline]
    pub(super) fn new(
        (from_s, length_s): (f64, f64),
        (start, end): (&State<N>, &State<N>),
        (rates, end_rates): (&State<N>, &State<N>),
        last: State<N>,
    ) -> Self {
        let rise = end - start;
        let bend = rates * length_s - rise;
        let twist = rise - end_rates * length_s - bend;
        Self {
            from_s,
            length_s,
            dense: [*start, rise, bend, twist, last],
        }
    }

    /// Its end, s from the leg's start.
    #[inline]
    pub(super) fn end_s(&self) -> f64 {
        self.from_s + self.length_s
    }

    /// State at a time, s from the leg's start, within the step.
    #[inline]
    pub(super) fn at(&self, since_start_s: f64) -> State<N> {
        self.at_share((since_start_s - self.from_s) / self.length_s)
    }

    /// State at a share of the step, 0 at its start and 1 at its end.
    #[inline]
    pub fn at_share(&self, share: f64) -> State<N> {
        let rest = 1.0 - share;
        let [start, rise, bend, twist, last] = &self.dense;
        start + (rise + (bend + (twist + last * rest) * share) * rest) * share
    }

    /// Length, s.
    pub fn length_s(&self) -> f64 {
        self.length_s
    }
}
