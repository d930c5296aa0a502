//! Motions written as closures, for the tests in this folder.

use super::{Accuracy, IntegrationFailure, Leg, Motion, State, integrate_leg};

/// Rates alone, nothing to watch for.
pub(super) struct Smooth<F>(pub(super) F);

impl<const N: usize, F: Fn(f64, &State<N>) -> State<N>> Motion<N, 0> for Smooth<F> {
    type Guard = usize;
    const GUARDS: [usize; 0] = [];

    fn rates(&self, time_s: f64, state: &State<N>, rates: &mut State<N>) {
        *rates = (self.0)(time_s, state);
    }

    fn guards(&self, _time_s: f64, _state: &State<N>) -> [f64; 0] {
        []
    }
}

/// Rates and guards.
pub(super) struct Guarded<F, H> {
    pub(super) rates: F,
    pub(super) guards: H,
}

impl<const N: usize, const G: usize, F, H> Motion<N, G> for Guarded<F, H>
where
    F: Fn(f64, &State<N>) -> State<N>,
    H: Fn(f64, &State<N>) -> [f64; G],
{
    type Guard = usize;
    const GUARDS: [usize; G] = in_order();

    fn rates(&self, time_s: f64, state: &State<N>, rates: &mut State<N>) {
        *rates = (self.rates)(time_s, state);
    }

    fn guards(&self, time_s: f64, state: &State<N>) -> [f64; G] {
        (self.guards)(time_s, state)
    }
}

/// Guards told apart by their place.
const fn in_order<const G: usize>() -> [usize; G] {
    let mut guards = [0; G];
    let mut index = 0;
    while index < G {
        guards[index] = index;
        index += 1;
    }
    guards
}

/// Both tolerances alike, steps as long as they like.
pub(super) fn tolerance(both: f64) -> Accuracy {
    Accuracy {
        relative: both,
        absolute: both,
        longest_step_s: 100.0,
    }
}

/// Rates alone, from a state to a time, s.
pub(super) fn follow<const N: usize>(
    rates: impl Fn(f64, &State<N>) -> State<N>,
    from: (f64, [f64; N]),
    to_s: f64,
    both: f64,
) -> Leg<N, usize> {
    let start = (from.0, State::from(from.1));
    integrate_leg::<N, 0, _>(&Smooth(rates), start, to_s, None, &tolerance(both)).unwrap()
}

/// Rates and guards, from a state to a time, s.
pub(super) fn follow_guarded<const N: usize, const G: usize>(
    rates: impl Fn(f64, &State<N>) -> State<N>,
    guards: impl Fn(f64, &State<N>) -> [f64; G],
    from: (f64, [f64; N]),
    to_s: f64,
    accuracy: &Accuracy,
) -> Result<Leg<N, usize>, IntegrationFailure> {
    let start = (from.0, State::from(from.1));
    integrate_leg(&Guarded { rates, guards }, start, to_s, None, accuracy)
}
