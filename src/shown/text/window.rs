//! One flywheel's launch window.

use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, rpm, seconds};
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::scatter::band::BandPoint;
use crate::study::sweep::SweepPoint;
use crate::study::window::Edge;

/// Rows of the table: every so many points of the sweep, so that it fits a screen.
const ROWS: usize = 24;

/// The window in a sentence, the sweep as a table.
pub fn window(reading: &Reading, study: &WheelStudy, band: &[BandPoint]) -> Report {
    Report {
        title: reading.car.title.clone(),
        subject: study.wheel.name().to_owned(),
        sections: vec![
            Section::said("Launch window", sentences(reading, study)).answering(),
            Section::new(
                "Launch speeds",
                vec![Block::Table(table(study.sweep.points(), band))],
            ),
        ],
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

fn sentences(reading: &Reading, study: &WheelStudy) -> Vec<String> {
    let Some(best) = &study.best else {
        return vec!["From no launch speed of the range does the car get to 60 ft.".into()];
    };
    let tolerance_s = reading.car.track.tolerance_s.get();
    let mut said = vec![
        format!(
            "Quickest from {} rpm: {} s to 60 ft.",
            rpm(best.quickest.launch_speed_rad_s),
            seconds(best.quickest.sixty_foot_s)
        ),
        format!(
            "Anywhere from {} to {} rpm loses no more than {} s.",
            rpm(best.window.low.speed_rad_s()),
            rpm(best.window.high.speed_rad_s()),
            seconds(tolerance_s)
        ),
    ];
    if matches!(best.window.low, Edge::RangeEnd(_)) {
        said.push(
            "The window runs to the lowest launch speed looked at; it may reach further down."
                .into(),
        );
    }
    if matches!(best.window.high, Edge::RangeEnd(_)) {
        said.push(
            "The window runs to the highest launch speed looked at; it may reach further up."
                .into(),
        );
    }
    said
}

fn table(points: &[SweepPoint], band: &[BandPoint]) -> Figures {
    let mut table = Figures::new(
        "Launch speed, rpm",
        &["60 ft, s", "mean when aimed at, s", "spread, s"],
    );
    let every = points.len().div_ceil(ROWS).max(1);
    for (point, aimed) in points.iter().zip(band).step_by(every) {
        table.row(
            &rpm(point.launch_speed_rad_s),
            [
                point.sixty_foot_s.map_or("stalls".into(), seconds),
                seconds(aimed.mean_s),
                seconds(aimed.sd_s),
            ],
        );
    }
    table
}
