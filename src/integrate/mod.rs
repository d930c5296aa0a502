//! Smooth pieces of motion, integrated up to an event.
//!
//! This folder knows nothing of cars. It takes a [`Motion`]: rates of change, and guards
//! that are positive as long as nothing happens; and integrates one [`Leg`] of it, until a
//! guard falls through zero or the leg's end is reached. Whoever calls decides what the
//! event means and begins the next leg, always with a fresh stepper: a change of the
//! equations inside a step would spoil the step's error estimate.
//!
//! The method is the Dormand–Prince 5(4) pair with its dense output of order 4 (Hairer,
//! Nørsett & Wanner, *Solving Ordinary Differential Equations I*, sec. II.4–II.6). Its
//! tolerances bound the local error of a step, not the global error; what they mean for a launch
//! is measured in `docs/numerics.md`. Two steppers do it, and take the same steps: that of the
//! `ode_solvers` crate, for what is shown by itself and as judge of the other, and our own on
//! fixed arrays, several times cheaper, for studies. A motion does not know which is at work.
//!
//! A stone that falls from 20 m, until it meets the ground:
//!
//! ```
//! use flyheft::integrate::{Motion, State, Stop, integrate_leg};
//! use flyheft::launch::ACCURACY;
//!
//! struct Stone;
//! impl Motion<2, 1> for Stone {
//!     type Guard = &'static str;
//!     const GUARDS: [&'static str; 1] = ["ground"];
//!     fn rates(&self, _time_s: f64, state: &State<2>, rates: &mut State<2>) {
//!         *rates = State::<2>::new(state[1], -9.806_65);
//!     }
//!     fn guards(&self, _time_s: f64, state: &State<2>) -> [f64; 1] {
//!         [state[0]]
//!     }
//! }
//!
//! let leg = integrate_leg(&Stone, (0.0, State::<2>::new(20.0, 0.0)), 10.0, None, &ACCURACY)?;
//! assert_eq!(leg.stop(), Stop::Guard("ground"));
//! assert!((leg.end_s() - (2.0 * 20.0_f64 / 9.806_65).sqrt()).abs() < 1e-9);
//!
//! let lost = integrate_leg(&Stone, (0.0, State::<2>::new(f64::NAN, 0.0)), 10.0, None, &ACCURACY);
//! assert!(lost.is_err());
//! # Ok::<(), flyheft::integrate::IntegrationFailure>(())
//! ```

mod fixed_arrays;
mod follow;
mod guard;
mod leg;
mod ode_solvers_stepper;
mod step;
mod task;

pub use follow::{integrate_leg, integrate_leg_in};
pub use leg::{Leg, Stop};
pub use step::{Dense, Step};

use thiserror::Error;

/// A state of `N` numbers. Scale them so that one absolute tolerance suits all.
pub type State<const N: usize> = ode_solvers::SVector<f64, N>;

/// Something that moves: `N` states, `G` guards.
pub trait Motion<const N: usize, const G: usize> {
    /// What tells the guards apart: a stopped leg says with it which one fell.
    type Guard: Copy;
    /// The guards in the order of their values.
    const GUARDS: [Self::Guard; G];

    /// Rates of change of every state at a time in s. Every entry must be written.
    fn rates(&self, time_s: f64, state: &State<N>, rates: &mut State<N>);

    /// The guards: positive while nothing happens; an event is a guard's fall through zero.
    /// A guard that does not apply is any positive constant.
    fn guards(&self, time_s: f64, state: &State<N>) -> [f64; G];

    /// Rates and guards at one time and state, the end of a step. Worth its own writing where
    /// both come of the same work.
    fn rates_and_guards(&self, time_s: f64, state: &State<N>, rates: &mut State<N>) -> [f64; G] {
        self.rates(time_s, state, rates);
        self.guards(time_s, state)
    }

    /// One of the guards; a positive constant if there is none of this number. Worth its own
    /// writing where the others cost much.
    fn guard(&self, index: usize, time_s: f64, state: &State<N>) -> f64 {
        let guards = self.guards(time_s, state);
        guards.get(index).copied().unwrap_or(1.0)
    }
}

/// Which stepper does the work. Both take the same steps but for rounding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stepper {
    /// That of the `ode_solvers` crate.
    OdeSolvers,
    /// Our own, on arrays of fixed size.
    FixedArrays,
}

/// How finely to integrate, and with what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Relative tolerance of one step.
    pub relative: f64,
    /// Absolute tolerance of one step, in the states' own scale.
    pub absolute: f64,
    /// Longest step, s. Two crossings of one guard within a step go unseen, so it also bounds
    /// how short an event may be.
    pub longest_step_s: f64,
    /// Which stepper does it.
    pub stepper: Stepper,
}

/// Why a leg could not be integrated.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum IntegrationFailure {
    /// A rate or a state stopped being a finite number, or changed too fast for any step.
    #[error(
        "the motion can no longer be followed at {time_s:.6} s (step became vanishingly small)"
    )]
    StepVanished {
        /// Time reached, s.
        time_s: f64,
    },
    /// More steps than any sensible leg needs.
    #[error("too many steps by {time_s:.6} s")]
    TooManySteps {
        /// Time reached, s.
        time_s: f64,
    },
    /// A state, a guard or the end's time is not a finite number.
    #[error("the motion meets a number that is not finite, at {time_s:.6} s")]
    NotFinite {
        /// When, s.
        time_s: f64,
    },
}

#[cfg(test)]
mod event_tests;
#[cfg(test)]
mod independent_stepper;
#[cfg(test)]
mod problem_tests;
#[cfg(test)]
mod test_motions;
#[cfg(test)]
mod trap_tests;
