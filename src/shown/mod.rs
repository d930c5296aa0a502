//! What a person sees: tables and sentences, JSON, files, charts.
//!
//! Everything here turns results into text; nothing here computes one, and nothing prints.
//!
//! ```
//! use flyheft::car::{constants::RAD_S_PER_RPM, track::Mark};
//! use flyheft::launch::{Attempt, Rig, run};
//! use flyheft::{shown, units::System};
//!
//! let reading = flyheft::sheet::read("demo-data/bogger.toml".as_ref())?;
//! let wheel = reading.car.flywheels.fitted().ok_or("no flywheel is fitted")?;
//! let from = Attempt::from_speed(4500.0 * RAD_S_PER_RPM);
//! let launch = run(&Rig::new(&reading.car, wheel), &from, Mark::Ft60)?;
//!
//! let words = shown::text::launch(&reading, &launch, Mark::Ft60, None, System::Imperial);
//! assert!(words.contains("60 ft"));
//! let document = shown::json::launch(&reading, &launch, Mark::Ft60, None);
//! assert!(document.contains(r#""schema": "flyheft/launch/1""#));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod drawing;
pub mod figures;
mod fit_work;
pub mod json;
pub mod page;
mod pens;
pub mod plot;
pub mod table_file;
pub mod text;

pub use fit_work::FitWork;

#[cfg(test)]
mod picture_laws;
