//! What the driver's own scatter, and the day's, do to the answer.
//!
//! One perfect launch settles nothing: drivers miss their launch speed, let the clutch out now
//! faster and now slower, and the track is not the same twice. Here every flywheel is launched
//! under the same [`draws`], so that differences between flywheels are paired. [`mean_curve`]
//! finds where each does best on average, [`aim`]; thousands of real launches there say how well,
//! and [`pairs`] holds the flywheels against each other. [`break_even`] asks how steady a driver
//! must be for the lighter to pay, [`shares`] what the driver should work on first, [`frontier`]
//! who is quick and who is steady.

pub mod aim;
pub mod band;
pub mod break_even;
pub mod draws;
pub mod frontier;
pub mod mean_curve;
pub mod pairs;
pub mod quarter;
pub mod scattered_rig;
pub mod sensitivity;
pub mod study;
pub mod variance_shares;

pub use crate::numerics::summary;

#[cfg(test)]
mod toy_tests;
