//! Why a page could not be made.

use crate::shown::plot::ChartError;
use thiserror::Error;

/// Why a page could not be made.
#[derive(Debug, Error)]
pub enum PageError {
    /// A chart of it could not be drawn.
    #[error(transparent)]
    Chart(#[from] ChartError),
    /// The template library gave up. Writing to memory does not fail, so this is a fault in here.
    #[error("the page could not be written: {0}")]
    Template(#[from] askama::Error),
    /// Its data could not be written as JSON. Numbers and strings do not fail.
    #[error("the page's data could not be written: {0}")]
    Data(#[from] serde_json::Error),
}
