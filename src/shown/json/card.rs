//! `flyheft/card/1`: what the driver's page shows beyond `flyheft/compare/1`.

use super::decide::VerdictFields;
use super::launch::LaunchFields;
use super::{Read, document, rpm};
use crate::car::track::Mark;
use crate::shown::page::CardWork;
use crate::study::card::{MissCost, Shown};
use crate::study::comparison::Contender;
use crate::study::round_aim::{AimAt, RoundAim};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheel: Option<&'a str>,
    aim_rpm: Option<f64>,
    verdict: Option<VerdictFields<'a>>,
    launches: Vec<ShownFields<'a>>,
    misses: Vec<MissFields>,
    #[serde(flatten)]
    round: Option<RoundFields>,
    #[serde(flatten)]
    read: Read,
}

/// What lies round the aim.
#[derive(Debug, Serialize)]
struct RoundFields {
    band_rpm: (f64, f64),
    aimed_off: Vec<OffFields>,
    tracks: Vec<TrackFields>,
    steadiness: Vec<SteadinessFields>,
}

#[derive(Debug, Serialize)]
struct OffFields {
    off_rpm: f64,
    mean_cost_s: f64,
}

#[derive(Debug, Serialize)]
struct TrackFields {
    grip_factor: f64,
    #[serde(flatten)]
    aim: AimFields,
}

#[derive(Debug, Serialize)]
struct SteadinessFields {
    launch_sd_factor: f64,
    flywheels: Vec<SteadyWheel>,
}

#[derive(Debug, Serialize)]
struct SteadyWheel {
    name: String,
    #[serde(flatten)]
    aim: AimFields,
}

#[derive(Debug, Serialize)]
struct AimFields {
    aim_rpm: f64,
    band_rpm: (f64, f64),
    mean_s: f64,
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
    let wheel = work.card.map(|card| &card.wheel);
    document(&Document {
        schema: "flyheft/card/1",
        title: &work.reading.car.title,
        flywheel: wheel.map(Contender::name),
        verdict: work.decision.map(VerdictFields::of),
        aim_rpm: wheel.map(|wheel| rpm(wheel.scatter.aim.launch_speed_rad_s)),
        launches: work.card.map_or(Vec::new(), |card| {
            card.shown.iter().map(shown_fields).collect()
        }),
        misses: work
            .card
            .map_or(Vec::new(), |card| card.misses.iter().map(miss).collect()),
        round: work.card.map(|card| round(work, &card.round)),
        read: Read::of(work.reading),
    })
}

fn round(work: &CardWork, round: &RoundAim) -> RoundFields {
    let of = |aim: &AimAt| AimFields {
        aim_rpm: rpm(aim.aim_rad_s),
        band_rpm: (rpm(aim.band_rad_s.low), rpm(aim.band_rad_s.high)),
        mean_s: aim.mean_s,
    };
    let off = round.off.iter().map(|off| OffFields {
        off_rpm: rpm(off.off_rad_s),
        mean_cost_s: off.costs_s,
    });
    let tracks = round.tracks.iter().map(|track| TrackFields {
        grip_factor: track.grip_factor,
        aim: of(&track.aim),
    });
    let steadiness = round.steadiness.iter().map(|step| SteadinessFields {
        launch_sd_factor: step.factor,
        flywheels: step
            .wheels
            .iter()
            .filter_map(|(index, aim)| {
                Some(SteadyWheel {
                    name: work.comparison.wheels().get(*index)?.name().to_owned(),
                    aim: of(aim),
                })
            })
            .collect(),
    });
    RoundFields {
        band_rpm: of(&round.here).band_rpm,
        aimed_off: off.collect(),
        tracks: tracks.collect(),
        steadiness: steadiness.collect(),
    }
}

fn shown_fields(shown: &Shown) -> ShownFields<'_> {
    ShownFields {
        off: shown.off.id(),
        launch: LaunchFields::of(&shown.launch, Mark::Ft60),
    }
}

fn miss(cost: &MissCost) -> MissFields {
    MissFields {
        miss: cost.miss.id(),
        launch_rpm: rpm(cost.attempt.launch_speed_rad_s),
        release_stretch: cost.attempt.release_stretch,
        grip_factor: cost.attempt.grip_factor,
        cost_s: cost.cost_s,
    }
}
