//! Compare flywheel weights for a drag car before one is machined.
//!
//! Data flows one way: a build sheet (text, [`sheet`]) becomes a [`car`] (checked, SI units), a
//! car and a flywheel make a [`launch`], many launches make a [`study`], and a study is [`shown`].
//! Beside the launch stands the [`metal`] of the flywheel: cuts, stresses, the swing test. [`units`]
//! serves both ends, [`integrate`] the launch.

pub mod car;
pub mod integrate;
pub mod launch;
pub mod metal;
pub mod numerics;
pub mod sheet;
pub mod shown;
pub mod study;
pub mod units;
