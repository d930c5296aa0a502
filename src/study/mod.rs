//! Many launches: what a flywheel does over all launch speeds, and which flywheel does better.
//!
//! Everything here runs launches and reasons about their times; nothing prints. Launches are
//! spread over all cores, and gathered in the order they were asked for, so that the answer
//! does not depend on how many cores there were.
//!
//! [`compare()`] is the main job; [`Comparison::findings`] is what it comes to:
//!
//! ```
//! use flyheft::study::{Options, Progress, StudyError, Unwatched, compare};
//!
//! let reading = flyheft::sheet::read("tests/reference/cars/c-saloon.toml".as_ref())?;
//! let few = Options { draws: 32, ..Options::default() };
//! let comparison = compare(&reading.car, &few, &Unwatched)?;
//! let findings = comparison.findings().ok_or("no flywheel gets the car to 60 ft")?;
//! let best = findings.quick.wheel;
//! assert!(comparison.contenders().all(|other| {
//!     best.scatter.aim.mean_s <= other.scatter.aim.mean_s
//! }));
//!
//! struct Impatient;
//! impl Progress for Impatient {
//!     fn stopped(&self) -> bool {
//!         true
//!     }
//! }
//! let stopped = compare(&reading.car, &few, &Impatient).unwrap_err();
//! assert_eq!(stopped, StudyError::Stopped);
//! assert!(stopped.to_string().starts_with("stopped before the end"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod card;
pub mod compare;
pub mod comparison;
pub mod cutting;
pub mod decide;
pub mod findings;
pub mod fit;
pub mod gearing;
pub mod ledger;
pub mod logged_run;
pub mod map;
pub mod plan;
pub mod play;
pub mod practice;
pub mod quickest;
pub mod release;
pub mod round_aim;
pub mod scatter;
pub mod staged;
pub mod sweep;
pub mod swinging;
pub mod trial;
pub mod window;

pub use comparison::{Comparison, Options, compare, compare_studied, compare_wheels};

use crate::launch::LaunchError;
use rayon::prelude::*;
use thiserror::Error;

/// Why a study did not come to its end.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum StudyError {
    /// A launch could not be computed.
    #[error(transparent)]
    Launch(#[from] LaunchError),
    /// Somebody stopped it.
    #[error("stopped before the end; nothing was written")]
    Stopped,
    /// A stall is said to cost less than a launch takes.
    #[error(
        "[track] stall_cost = \"{stall_cost_s} s\" is below the quickest sixty-foot time, {quickest_s:.3} s: stalling would be the thing to do"
    )]
    StallTooCheap {
        /// What a stall is said to cost, s.
        stall_cost_s: f64,
        /// The quickest sixty-foot time of any flywheel, s.
        quickest_s: f64,
    },
}

/// Somebody who is told how far a study has come, and may stop it.
pub trait Progress: Sync {
    /// So many more launches are going to be made.
    fn expect(&self, _launches: usize) {}
    /// One more launch has been made.
    fn advance(&self) {}
    /// Whether to stop.
    fn stopped(&self) -> bool {
        false
    }
}

/// Nobody watches.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Progress for Unwatched {}

/// Runs a job for every item on all cores; answers in the items' order.
///
/// # Errors
/// The first job's error, in the items' order; or that somebody stopped it.
pub fn on_all_cores<T: Sync, R: Send>(
    items: &[T],
    progress: &dyn Progress,
    job: impl Fn(&T) -> Result<R, StudyError> + Sync,
) -> Result<Vec<R>, StudyError> {
    progress.expect(items.len());
    items
        .par_iter()
        .map(|item| {
            if progress.stopped() {
                return Err(StudyError::Stopped);
            }
            let answer = job(item);
            progress.advance();
            answer
        })
        .collect::<Vec<_>>()
        .into_iter()
        .collect()
}
