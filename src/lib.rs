//! Compare flywheel weights for a drag car before one is machined.
//!
//! Data flows one way: a build sheet (text) becomes a [`car`] (checked, SI units), a car and a
//! flywheel make a launch, many launches make a study, and a study is shown.

pub mod car;
pub mod integrate;
pub mod launch;
pub mod shown;
