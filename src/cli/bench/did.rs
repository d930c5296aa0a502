//! What something done on the bench came to.

use serde::Serialize;

/// What it came to; the page is told it.
#[derive(Debug, Default, Serialize)]
pub(super) struct Did {
    /// In a sentence; empty where the page shows it.
    pub(super) said: String,
    /// Whether another page stands there now.
    leave: bool,
}

impl Did {
    pub(super) fn said(words: impl Into<String>) -> Self {
        Self {
            said: words.into(),
            leave: false,
        }
    }

    pub(super) fn leaves() -> Self {
        Self {
            said: String::new(),
            leave: true,
        }
    }
}
