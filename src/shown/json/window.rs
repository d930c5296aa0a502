//! `flyheft/window/1`.

use super::compare::{QuickestFields, quickest_of, window_rpm};
use super::{Read, document, rpm};
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::scatter::band::BandPoint;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    flywheel: &'a str,
    quickest: Option<QuickestFields>,
    window_rpm: Option<[f64; 2]>,
    tolerance_s: f64,
    sweep: Vec<SweepFields>,
    band: Vec<BandFields>,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct SweepFields {
    launch_rpm: f64,
    sixty_foot_s: Option<f64>,
}

#[derive(Debug, Serialize)]
struct BandFields {
    aim_rpm: f64,
    mean_s: f64,
    sd_s: f64,
}

/// The document of one flywheel's launch window.
pub fn window(reading: &Reading, study: &WheelStudy, band: &[BandPoint]) -> String {
    document(&Document {
        schema: "flyheft/window/1",
        title: &reading.car.title,
        flywheel: study.wheel.name(),
        quickest: quickest_of(study),
        window_rpm: study.best.as_ref().map(|best| window_rpm(&best.window)),
        tolerance_s: reading.car.track.tolerance_s.get(),
        sweep: study
            .sweep
            .points()
            .iter()
            .map(|point| SweepFields {
                launch_rpm: rpm(point.launch_speed_rad_s),
                sixty_foot_s: point.sixty_foot_s,
            })
            .collect(),
        band: band
            .iter()
            .map(|point| BandFields {
                aim_rpm: rpm(point.aim_rad_s),
                mean_s: point.mean_s,
                sd_s: point.sd_s,
            })
            .collect(),
        read: Read::of(reading),
    })
}
