//! Sixty-foot time over launch speed, one line a gearing.

use super::{CAPTION, rpm};
use crate::shown::plot::{Axis, LineChart, Look, Mark, MarkKind, Series, Words};
use crate::shown::text::gearing::choice_words;
use crate::study::compare::WheelStudy;
use crate::study::gearing::GearChoice;

/// Sixty-foot time over launch speed for every gearing.
pub fn gearing(title: &str, studies: &[(GearChoice, WheelStudy)]) -> LineChart {
    let series = studies
        .iter()
        .enumerate()
        .map(|(index, (choice, study))| {
            let points = study
                .sweep
                .points()
                .iter()
                .map(|point| (rpm(point.launch_speed_rad_s), point.sixty_foot_s))
                .collect();
            let mark = study.best.as_ref().map(|best| Mark {
                kind: MarkKind::Quickest,
                x: rpm(best.quickest.launch_speed_rad_s),
                y: best.quickest.sixty_foot_s,
                label: format!("{:.3} s", best.quickest.sixty_foot_s),
            });
            Series {
                marks: mark.into_iter().collect(),
                ..Series::new(choice_words(choice), Look::nth(index), points)
            }
        })
        .collect();
    let told: Vec<String> = studies
        .iter()
        .filter_map(|(choice, study)| {
            let best = study.best.as_ref()?;
            Some(format!(
                "{}: {:.3} s",
                choice_words(choice),
                best.quickest.sixty_foot_s
            ))
        })
        .collect();
    LineChart::new(
        Words {
            title: "Gearing: sixty-foot time over launch speed".into(),
            subtitle: Some(title.to_owned()),
            caption: Some(CAPTION.into()),
            description: format!("Quickest sixty-foot times. {}.", told.join("; ")),
        },
        Axis::new("Launch speed", "rpm"),
        Axis::new("Sixty-foot time", "s"),
        series,
    )
}
