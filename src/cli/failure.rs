//! Why a command did not come to its end, and how that is said.

use super::standard_error::{coloured, say};
use flyheft::sheet::Refusal;
use flyheft::shown::page::PageError;
use flyheft::study::StudyError;

/// Why a command failed.
#[derive(Debug)]
pub(super) enum Failure {
    /// A sheet or a file it names was refused.
    Sheet(Box<Refusal>),
    /// Anything else: what was wrong, and what would be right.
    Said { wrong: String, right: String },
}

impl Failure {
    /// What was wrong, and what would be right.
    pub(super) fn said(wrong: impl Into<String>, right: impl Into<String>) -> Self {
        Self::Said {
            wrong: wrong.into(),
            right: right.into(),
        }
    }

    /// Says it on standard error.
    pub(super) fn show(&self) {
        say(&match self {
            Self::Sheet(refusal) => refusal.render(coloured()),
            Self::Said { wrong, right } if right.is_empty() => format!("error: {wrong}\n"),
            Self::Said { wrong, right } => format!("error: {wrong}\n  = help: {right}\n"),
        });
    }
}

#[cfg(feature = "bench")]
impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Sheet(refusal) => refusal.fmt(f),
            Self::Said { wrong, right } if right.is_empty() => f.write_str(wrong),
            Self::Said { wrong, right } => write!(f, "{wrong}: {right}"),
        }
    }
}

impl From<Refusal> for Failure {
    fn from(refusal: Refusal) -> Self {
        Self::Sheet(Box::new(refusal))
    }
}

impl From<StudyError> for Failure {
    fn from(error: StudyError) -> Self {
        let right = match error {
            StudyError::Stopped => "",
            StudyError::StallTooCheap { .. } => {
                "give the time that a stalled launch costs, for example stall_cost = \"5 s\""
            }
            StudyError::Launch(_) => {
                "please keep the sheet: this should not happen with a sheet that `check` accepts"
            }
        };
        Self::said(error.to_string(), right)
    }
}

impl From<PageError> for Failure {
    fn from(error: PageError) -> Self {
        Self::said(error.to_string(), "")
    }
}
