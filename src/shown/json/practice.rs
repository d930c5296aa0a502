//! `flyheft/practice/1`.

use super::{document, rpm};
use crate::study::practice::PracticeStudy;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    launches: usize,
    flywheels: &'a [Option<String>],
    mean_rpm: f64,
    mean_ci95_rpm: [f64; 2],
    target_rpm: Option<f64>,
    offset_rpm: Option<f64>,
    sd_rpm: f64,
    sd_ci95_rpm: [f64; 2],
    drift_rpm: Option<f64>,
    drift_ci95_rpm: Option<[f64; 2]>,
    outliers: Vec<Outlier>,
    more_launches_to_halve_interval: u32,
}

#[derive(Debug, Serialize)]
struct Outlier {
    launch: usize,
    speed_rpm: f64,
}

/// The document of practice launches, against a target in rad/s if there is one.
pub fn practice(study: &PracticeStudy, target_rad_s: Option<f64>) -> String {
    let sd = &study.sd_interval_rad_s;
    let mean = &study.mean_interval_rad_s;
    document(&Document {
        schema: "flyheft/practice/1",
        launches: study.launches.len(),
        flywheels: &study.flywheels,
        mean_rpm: rpm(study.mean_rad_s),
        mean_ci95_rpm: [rpm(mean.low), rpm(mean.high)],
        target_rpm: target_rad_s.map(rpm),
        offset_rpm: target_rad_s.map(|target| rpm(study.mean_rad_s - target)),
        sd_rpm: rpm(study.sd_rad_s),
        sd_ci95_rpm: [rpm(sd.low), rpm(sd.high)],
        drift_rpm: study.drift_rad_s.map(|drift| rpm(drift.change_rad_s)),
        drift_ci95_rpm: study.drift_rad_s.map(|drift| {
            [
                rpm(drift.interval_rad_s.low),
                rpm(drift.interval_rad_s.high),
            ]
        }),
        outliers: study
            .outliers
            .iter()
            .filter_map(|index| {
                Some(Outlier {
                    launch: index + 1,
                    speed_rpm: rpm(*study.launches.get(*index)?),
                })
            })
            .collect(),
        more_launches_to_halve_interval: study.more_to_halve,
    })
}
