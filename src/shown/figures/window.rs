//! Sixty-foot time over launch speed.

use super::{CAPTION, WORTH_DRAWING_S, rpm};
use crate::shown::plot::{Axis, LineChart, Look, Mark, MarkKind, Series, Spots, Words};
use crate::study::compare::WheelStudy;
use crate::study::comparison::Comparison;
use crate::study::scatter::band::BandPoint;

/// Sixty-foot time over launch speed for several flywheels, windows and aims marked.
pub fn sixty_foot_over_speed(title: &str, comparison: &Comparison) -> LineChart {
    let series = comparison
        .wheels()
        .iter()
        .enumerate()
        .map(|(index, wheel)| {
            let mut series = series(&wheel.study, index);
            series
                .marks
                .extend(wheel.scatter.as_ref().map(|scatter| Mark {
                    kind: MarkKind::Aim,
                    x: rpm(scatter.aim.launch_speed_rad_s),
                    y: scatter.aim.mean_s,
                    label: String::new(),
                }));
            series
        })
        .collect();
    let studies = comparison.wheels().iter().map(|wheel| &wheel.study);
    let mut chart = chart("Sixty-foot time over launch speed", title, studies, series);
    chart.words.caption = Some(format!(
        "Open rings: quickest. Rings with a dot: where to aim, and the mean with this driver's scatter. {CAPTION}"
    ));
    chart
}

/// The same before anything is known of averages: one clean launch from each speed.
pub fn clean_launches_over_speed(title: &str, studies: &[WheelStudy]) -> LineChart {
    let lines = studies.iter().enumerate();
    chart(
        "Sixty-foot time over launch speed",
        title,
        studies.iter(),
        lines.map(|(index, study)| series(study, index)).collect(),
    )
}

/// One flywheel's curve, and the band that the driver's scatter makes of it: the mean when aimed
/// at a launch speed, and one standard deviation to either side.
pub fn window(title: &str, study: &WheelStudy, band: &[BandPoint]) -> LineChart {
    let lowest_s = band
        .iter()
        .map(|point| point.mean_s)
        .fold(f64::INFINITY, f64::min);
    let line = |name: &str, look: usize, deviations: f64| Series {
        spots: Spots::None,
        ..Series::new(
            name,
            Look::nth(look),
            band.iter()
                .map(|point| {
                    let time_s = point.mean_s + deviations * point.sd_s;
                    // Stalls make a spread of seconds: then neither edge of the band means anything.
                    let slow_edge_s = point.mean_s + deviations.abs() * point.sd_s;
                    let drawn = slow_edge_s <= lowest_s + WORTH_DRAWING_S;
                    (rpm(point.aim_rad_s), drawn.then_some(time_s))
                })
                .collect(),
        )
    };
    let series = vec![
        series(study, 0),
        line("mean when aimed there", 1, 0.0),
        line("one SD slower", 2, 1.0),
        line("one SD quicker", 3, -1.0),
    ];
    chart("Launch window", title, std::iter::once(study), series)
}

fn series(study: &WheelStudy, index: usize) -> Series {
    let points = study
        .sweep
        .points()
        .iter()
        .map(|point| (rpm(point.launch_speed_rad_s), point.sixty_foot_s))
        .collect();
    let best = study.best.as_ref();
    Series {
        spots: Spots::Few,
        window: best.map(|best| {
            (
                rpm(best.window.low.speed_rad_s()),
                rpm(best.window.high.speed_rad_s()),
            )
        }),
        marks: best
            .map(|best| Mark {
                kind: MarkKind::Quickest,
                x: rpm(best.quickest.launch_speed_rad_s),
                y: best.quickest.sixty_foot_s,
                label: format!("{:.3} s", best.quickest.sixty_foot_s),
            })
            .into_iter()
            .collect(),
        ..Series::new(study.wheel.name(), Look::nth(index), points)
    }
}

fn chart<'s, 'c: 's>(
    heading: &str,
    title: &str,
    studies: impl Iterator<Item = &'s WheelStudy<'c>>,
    series: Vec<Series>,
) -> LineChart {
    let told: Vec<String> = studies
        .filter_map(|study| {
            let best = study.best.as_ref()?;
            Some(format!(
                "{}: quickest {:.3} s from {:.0} rpm, window {:.0} to {:.0} rpm",
                study.wheel.name(),
                best.quickest.sixty_foot_s,
                rpm(best.quickest.launch_speed_rad_s),
                rpm(best.window.low.speed_rad_s()),
                rpm(best.window.high.speed_rad_s()),
            ))
        })
        .collect();
    let words = Words {
        title: heading.into(),
        subtitle: Some(title.to_owned()),
        caption: Some(CAPTION.into()),
        description: format!("{heading}. {}.", told.join("; ")),
    };
    LineChart {
        window_name: Some("launch window".into()),
        ..LineChart::new(
            words,
            Axis::new("Launch speed", "rpm"),
            Axis::new("Sixty-foot time", "s"),
            series,
        )
    }
}
