//! `flyheft/card/1`: what the driver's page shows beyond `flyheft/compare/1`.

use super::launch::LaunchFields;
use super::{Read, document, rpm};
use crate::car::track::Mark;
use crate::shown::page::CardWork;
use crate::study::card::{CardStudy, Miss, MissCost, Off, Shown};
use crate::study::comparison::Contender;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheel: Option<&'a str>,
    aim_rpm: Option<f64>,
    launches: Vec<ShownFields<'a>>,
    misses: Vec<MissFields>,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct ShownFields<'a> {
    off: &'static str,
    #[serde(flatten)]
    launch: LaunchFields<'a>,
}

#[derive(Debug, Serialize)]
struct MissFields {
    miss: &'static str,
    launch_rpm: f64,
    release_stretch: f64,
    grip_factor: f64,
    cost_s: Option<f64>,
}

/// The document of the driver's page.
pub fn card(work: &CardWork) -> String {
    let wheel = work.card.map(CardStudy::wheel);
    document(&Document {
        schema: "flyheft/card/1",
        title: &work.reading.car.title,
        flywheel: wheel.map(Contender::name),
        aim_rpm: wheel.map(|wheel| rpm(wheel.scatter.aim.launch_speed_rad_s)),
        launches: work.card.map_or(Vec::new(), |card| {
            card.shown.iter().map(shown_fields).collect()
        }),
        misses: work
            .card
            .map_or(Vec::new(), |card| card.misses.iter().map(miss).collect()),
        read: Read::of(work.reading),
    })
}

fn shown_fields(shown: &Shown) -> ShownFields<'_> {
    ShownFields {
        off: match shown.off {
            Off::Low => "too low",
            Off::On => "aim",
            Off::High => "too high",
        },
        launch: LaunchFields::of(&shown.launch, Mark::Ft60),
    }
}

fn miss(cost: &MissCost) -> MissFields {
    MissFields {
        miss: match cost.miss {
            Miss::SpeedLow => "launch speed low",
            Miss::SpeedHigh => "launch speed high",
            Miss::ReleaseQuick => "release quick",
            Miss::ReleaseSlow => "release slow",
            Miss::GripLow => "grip low",
            Miss::GripHigh => "grip high",
        },
        launch_rpm: rpm(cost.attempt.launch_speed_rad_s),
        release_stretch: cost.attempt.release_stretch,
        grip_factor: cost.attempt.grip_factor,
        cost_s: cost.cost_s,
    }
}
