//! One launch: a car with one flywheel, from first bite to the last mark asked for.
//!
//! The machine is hybrid: smooth motion while the clutch slips, holds or is open, joined by
//! events. [`rig`] holds what does not change in a launch, [`attempt`] what the driver does,
//! [`mode`] what does not change in a leg, [`forces`] the equations, [`machine`] the guards that
//! end a leg, [`drive`] the joining; [`marks`], [`record`] and [`account`] are [`observer`]s.
//!
//! A stalled launch is a result, not an error:
//!
//! ```
//! use flyheft::car::{constants::RAD_S_PER_RPM, track::Mark};
//! use flyheft::launch::{Attempt, Outcome, Rig, run};
//!
//! let reading = flyheft::sheet::read("demo-data/bogger.toml".as_ref())?;
//! let wheel = reading.car.flywheels.named("aluminium").ok_or("no such flywheel")?;
//! let rig = Rig::new(&reading.car, wheel);
//!
//! let good = run(&rig, &Attempt::from_speed(4500.0 * RAD_S_PER_RPM), Mark::Ft60)?;
//! assert_eq!(good.ending.outcome, Outcome::Finished);
//! assert!(good.droop_rad_s() > 0.0);
//!
//! let low = run(&rig, &Attempt::from_speed(1000.0 * RAD_S_PER_RPM), Mark::Ft60)?;
//! assert_eq!(low.ending.outcome, Outcome::Stalled);
//! assert_eq!(low.sixty_foot_s(), None);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod account;
pub mod attempt;
pub mod drive;
pub mod extremes;
pub mod foot;
pub mod forces;
pub mod machine;
pub mod marks;
pub mod mode;
pub mod observer;
pub mod record;
pub mod rig;
pub mod state;
pub mod trace;

mod report;

pub use attempt::Attempt;
pub use drive::{ACCURACY, Ending, LaunchError, Outcome, SCATTER_ACCURACY, SEARCH_ACCURACY};
pub use report::{Launch, run, run_and_look, run_with, sixty_foot, trace};
pub use rig::Rig;

#[cfg(test)]
#[path = "launch_tests.rs"]
mod tests;
