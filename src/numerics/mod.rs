//! Numerical tools that know nothing of cars.
//!
//! [`checked`] numbers, [`Interval`]s, mean, spread and percentiles ([`summary`]), quantiles of
//! the usual distributions ([`quantile`]), the [`jackknife`], seeds for independent draws
//! ([`seed`]), uncertainty by the law of propagation ([`uncertainty`]), and the lowest value of a
//! function ([`lowest_between`]).

pub mod checked;
mod golden;
mod interval;
mod jackknife;
pub mod quantile;
pub mod seed;
pub mod summary;
pub mod uncertainty;

pub use golden::{Lowest, lowest_between};
pub use interval::{Estimate, Interval};
pub use jackknife::{Jackknifed, jackknife, jackknife_half_width, jackknife_interval};
