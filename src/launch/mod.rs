//! One launch: a car with one flywheel, from first bite to the last mark asked for.
//!
//! The machine is hybrid: smooth motion while the clutch slips, holds or is open, joined by
//! events. [`rig`] holds what does not change in a launch, [`forces`] the equations, [`machine`]
//! the modes and their guards, [`drive`] the joining; [`marks`], [`record`] and [`account`] watch.

pub mod account;
pub mod drive;
pub mod extremes;
pub mod forces;
pub mod machine;
pub mod marks;
pub mod record;
pub mod rig;
pub mod state;
pub mod trace;

mod report;

pub use drive::{ACCURACY, Attempt, Ending, LaunchError, Outcome, SCATTER_ACCURACY};
pub use report::{Launch, run, run_with, sixty_foot, trace};
pub use rig::Rig;

#[cfg(test)]
#[path = "launch_tests.rs"]
mod tests;
