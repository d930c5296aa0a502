//! What the driver's own scatter, and the day's, do to the answer.
//!
//! One perfect launch settles nothing: drivers miss their launch speed, let the clutch out now
//! faster and now slower, and the track is not the same twice. Here every flywheel gets a
//! [`table`] of launches at the same points of release and grip, so that differences between
//! flywheels are paired. Everything else is read off the tables: the [`aim`] and how well it does,
//! [`pairs`] of flywheels, [`break_even`], how steady a driver must be for the lighter to pay,
//! [`variance_shares`], what the driver should work on first, and [`frontier`], who is quick and
//! who is steady. Only down to 1,320 ft, in [`quarter`], more is driven.

pub mod aim;
pub mod band;
pub mod break_even;
pub mod draws;
pub mod frontier;
pub mod pairs;
pub mod quarter;
pub mod scattered_rig;
pub mod sensitivity;
pub(in crate::study) mod sobol;
pub mod study;
pub mod table;
pub mod variance_shares;

#[cfg(test)]
mod brute_force;
#[cfg(test)]
mod clipped_tests;
#[cfg(test)]
mod real_car_tests;
#[cfg(test)]
mod toy;
#[cfg(test)]
mod toy_tests;
