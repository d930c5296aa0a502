//! What time slips say of a car's unknowns.
//!
//! A slip is held against the launch that the model makes of it ([`model`]). What differs from
//! run to run (release, grip, the launch speed as read) is no unknown but widens what a run may
//! show ([`evidence`]). The most probable values are found by least squares with whole slips
//! weighted, and weighted draws about them say what is left in doubt ([`search`], [`learnt`]). From these it
//! follows what cannot be told apart, and which run would help the decision most ([`next_run`]).

mod chance;
mod draws;
pub mod evidence;
mod held;
pub mod learnt;
pub mod logs;
pub mod misfit;
pub mod model;
pub mod next_run;
pub mod plausible;
pub mod search;
mod space;
mod usual_line;

pub use learnt::{Fit, FitError, FitQuestion, RunFit, Unknown};
pub use search::fit;

#[cfg(test)]
mod coverage_tests;
#[cfg(test)]
mod fit_tests;
#[cfg(test)]
mod log_tests;
#[cfg(test)]
mod misfit_tests;
