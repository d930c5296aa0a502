//! Pages: one HTML file each, whole in itself, to be read on a phone, on a desk or on paper.
//!
//! A page fetches nothing and names nothing outside itself; its content-security policy allows
//! the one style sheet and the one script it carries, by their hashes. All words from a sheet go
//! through the template's escaping.

mod assumed;
#[cfg(feature = "bench")]
pub mod bench;
mod card;
mod dark;
mod drawn;
mod energy;
mod error;
mod first;
mod key_figure;
mod play;
mod plots;
mod report;
mod reports;
mod shell;
mod words;
mod work;

pub use card::card;
pub use error::PageError;
pub use reports::{compare, cut, decide, fit, gearing, window};
pub use work::CardWork;
