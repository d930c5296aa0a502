//! `flyheft/gearing/1`.

use super::compare::{QuickestFields, quickest_of, window_rpm};
use super::launch::LaunchFields;
use super::{Read, document};
use crate::car::track::Mark;
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::gearing::GearChoice;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    gearings: Vec<GearingFields<'a>>,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct GearingFields<'a> {
    change: &'static str,
    #[serde(rename = "final")]
    final_drive: f64,
    first: f64,
    quickest: Option<QuickestFields>,
    window_rpm: Option<[f64; 2]>,
    launch: Option<LaunchFields<'a>>,
}

/// The document of the same car with other gearing.
pub fn gearing(reading: &Reading, studies: &[(GearChoice, WheelStudy)]) -> String {
    document(&Document {
        schema: "flyheft/gearing/1",
        title: &reading.car.title,
        gearings: studies
            .iter()
            .map(|(choice, study)| GearingFields {
                change: choice.id(),
                final_drive: study.rig.car.driveline.final_drive.get(),
                first: study.rig.car.driveline.ratios.first(),
                quickest: quickest_of(study),
                window_rpm: study.best.as_ref().map(|best| window_rpm(&best.window)),
                launch: study
                    .best
                    .as_ref()
                    .map(|best| LaunchFields::of(&best.launch, Mark::Ft1320)),
            })
            .collect(),
        read: Read::of(reading),
    })
}
