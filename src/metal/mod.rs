//! The metal of a flywheel between lathe and scales.
//!
//! What a machining pass takes off ([`cut`]), how deep to go for a target ([`target`]), where a
//! gram is worth most ([`worth`]), what speed does to what is left ([`disc`]), and how well a
//! pendulum knows the inertia ([`swing`]). All in SI; nothing here knows text formats.

pub mod cut;
pub mod disc;
pub mod profile;
pub mod swing;
pub mod target;
pub mod worth;

pub use crate::numerics::uncertainty;
