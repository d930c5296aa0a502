//! Compare flywheel weights for a drag car before one is machined.
//!
//! Data flows one way: a build sheet (text, [`sheet`]) becomes a [`car`] (checked, SI units), a
//! car and a flywheel make a [`launch`], many launches make a [`study`], and a study is [`shown`].
//! Beside the launch stands the [`metal`] of the flywheel: cuts, stresses, the swing test. [`units`]
//! serves both ends, [`integrate`] the launch, [`numerics`] everybody.
//!
//! # From a sheet to a sixty-foot time
//!
//! ```
//! use flyheft::{car::constants::RAD_S_PER_RPM, car::track::Mark, launch, sheet};
//!
//! let reading = sheet::read("demo-data/bogger.toml".as_ref())?;
//! let wheel = reading.car.flywheels.fitted().ok_or("no flywheel is fitted")?;
//! let rig = launch::Rig::new(&reading.car, wheel);
//! let from = launch::Attempt::from_speed(4500.0 * RAD_S_PER_RPM);
//! let launch = launch::run(&rig, &from, Mark::Ft60)?;
//! let sixty_foot_s = launch.sixty_foot_s().ok_or("it did not get to 60 ft")?;
//! assert_eq!(format!("{sixty_foot_s:.2} s"), "2.15 s");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Where to go for what
//!
//! | to | go to |
//! | --- | --- |
//! | read a sheet, or learn all that is wrong with one | [`sheet::read`] |
//! | make one launch | [`launch::run`]; over time, [`launch::trace()`] |
//! | hold all flywheels of a car against each other | [`study::compare()`], then [`study::Comparison::findings`] |
//! | see what a pass on the lathe takes off | [`study::cutting::cut`] |
//! | know what speed does to a flywheel | [`metal::disc`] |
//! | work out a swing test | [`metal::swing`] |
//! | turn any of it into words, a chart, a page, a document | [`shown`] |

#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        reason = "a test stops at the first thing that is not there"
    )
)]

pub mod car;
pub mod integrate;
pub mod launch;
pub mod metal;
pub mod numerics;
pub mod sheet;
pub mod shown;
pub mod study;
pub mod units;

#[cfg(test)]
#[path = "../tests/common/random_cases.rs"]
mod random_cases;
