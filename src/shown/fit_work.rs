//! All that a fit to time slips has to show.

use crate::study::decide::Decision;
use crate::study::fit::Fit;
use crate::study::fit::next_run::NextRun;

/// A fit, what it means for the decision, and the run to make next.
#[derive(Debug, Clone)]
pub struct FitWork {
    /// What the slips said.
    pub fit: Fit,
    /// The decision with the sheet as it was.
    pub before: Decision,
    /// The decision after the slips.
    pub after: Decision,
    /// The run that would help it most.
    pub next: Option<NextRun>,
}
