//! Numerical tools that know nothing of cars.
//!
//! [`checked`] numbers, [`Interval`]s, mean, spread and percentiles ([`summary`]), quantiles of
//! the usual distributions ([`quantile`]), a curve through points ([`monotone_cubic`]), the [`jackknife()`], seeds for independent draws
//! ([`seed`]), uncertainty by the law of propagation ([`uncertainty`]), and the lowest value of a
//! function ([`lowest_between`]), and where one crosses zero ([`crossing`]).
//!
//! ```
//! use flyheft::numerics::checked::Share;
//! use flyheft::numerics::summary::mean_interval;
//! use flyheft::numerics::{crossing, lowest_between};
//!
//! let interval = mean_interval(&[1.91, 1.95, 1.93, 1.92, 1.94]);
//! assert!(interval.contains(1.93) && interval.half_width() < 0.02);
//!
//! let root = crossing(1.0, 2.0, |x| x * x - 2.0);
//! assert!((root - 2.0_f64.sqrt()).abs() < 1e-15);
//!
//! let dip = lowest_between((0.0, 1.0), 1e-6, None, |x: f64| Ok::<_, ()>((x - 0.3).abs()));
//! assert!((dip.unwrap().at - 0.3).abs() < 1e-6);
//!
//! assert_eq!(Share::new(1.2), None);
//! ```

pub mod checked;
mod golden;
pub mod importance;
mod interval;
mod jackknife;
pub mod least_squares;
pub mod monotone_cubic;
pub mod quantile;
mod root;
pub mod seed;
pub mod summary;
pub mod uncertainty;

pub use golden::{Lowest, lowest_between};
pub use interval::{Estimate, Interval};
pub use jackknife::{Jackknifed, jackknife, jackknife_half_width, jackknife_interval};
pub use root::crossing;
