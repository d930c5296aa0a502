//! `flyheft/check/1`.

use super::doubts::{ValueInDoubt, value_doubts};
use super::{Read, document};
use crate::car::Flywheel;
use crate::sheet::Reading;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheels: Vec<&'a str>,
    fitted: Option<&'a str>,
    value_doubts: Vec<ValueInDoubt>,
    #[serde(flatten)]
    read: Read,
}

/// The document of a sheet that was read.
pub fn check(reading: &Reading) -> String {
    let wheels = &reading.car.flywheels;
    document(&Document {
        schema: "flyheft/check/1",
        title: &reading.car.title,
        flywheels: wheels.all().iter().map(Flywheel::name).collect(),
        fitted: wheels.fitted().map(Flywheel::name),
        value_doubts: value_doubts(reading),
        read: Read::of(reading),
    })
}
