//! Motions written as closures, for the tests in this folder.

use super::{Accuracy, IntegrationFailure, Leg, Motion, State, Stepper, integrate_leg};

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
        stepper: Stepper::FixedArrays,
    }
}

/// Integrates with both steppers, which must stop at the same time for the same reason; gives
/// back the leg of the one asked for.
pub(super) fn by_both<const N: usize, const G: usize>(
    motion: &impl Motion<N, G, Guard = usize>,
    start: (f64, State<N>),
    end_s: f64,
    first_step_s: Option<f64>,
    accuracy: &Accuracy,
) -> Result<Leg<N, usize>, IntegrationFailure> {
    let with = |stepper| {
        let accuracy = Accuracy {
            stepper,
            ..*accuracy
        };
        integrate_leg(motion, start, end_s, first_step_s, &accuracy)
    };
    let (judge, ours) = (with(Stepper::OdeSolvers), with(Stepper::FixedArrays));
    match (&judge, &ours) {
        (Ok(judge), Ok(ours)) => same_legs(judge, ours),
        (Err(judge), Err(ours)) => {
            assert_eq!(std::mem::discriminant(judge), std::mem::discriminant(ours));
        }
        _ => panic!("one stepper gave up and the other did not"),
    }
    match accuracy.stepper {
        Stepper::OdeSolvers => judge,
        Stepper::FixedArrays => ours,
    }
}

/// Two legs of the same motion stopped for the same reason, at the same time. Not that they took
/// the same steps: where a motion is a polynomial that the method integrates exactly, error
/// estimates and with them steps are nothing but rounding.
fn same_legs<const N: usize>(judge: &Leg<N, usize>, ours: &Leg<N, usize>) {
    assert_eq!(judge.stop(), ours.stop());
    let apart_s = (judge.end_s() - ours.end_s()).abs();
    assert!(apart_s < 1e-6 * judge.end_s().abs().max(1.0), "{apart_s:e}");
}

/// Rates alone, from a state to a time, s.
pub(super) fn follow<const N: usize>(
    rates: impl Fn(f64, &State<N>) -> State<N>,
    from: (f64, [f64; N]),
    to_s: f64,
    both: f64,
) -> Leg<N, usize> {
    let start = (from.0, State::from(from.1));
    by_both::<N, 0>(&Smooth(rates), start, to_s, None, &tolerance(both)).unwrap()
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
    by_both(&Guarded { rates, guards }, start, to_s, None, accuracy)
}
