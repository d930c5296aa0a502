//! Pages: one HTML file each, whole in itself, to be read on a phone, on a desk or on paper.
//!
//! A page fetches nothing and names nothing outside itself; its content-security policy allows
//! the one style sheet and the one script it carries, by their hashes. All words from a sheet go
//! through the template's escaping.

mod assumed;
mod card;
mod dark;
mod energy;
mod key_figure;
mod play;
mod plots;
mod report;
mod reports;
mod shell;
mod words;

pub use card::{CardWork, card};
pub use reports::{compare, cut, decide, gearing, window};

use super::plot::ChartError;
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
