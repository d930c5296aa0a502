//! Quick against steady, and maps of mean sixty-foot time.

use super::{CAPTION, WORTH_DRAWING_S, rpm};
use crate::shown::plot::{
    Axis, CellMap, Contours, LineChart, Look, Mark, MarkKind, Overlay, Point, PointChart, Series,
    Shade, Standing, Words,
};
use crate::study::comparison::Comparison;
use crate::study::map::MeanMap;
use crate::study::scatter::frontier::Dominated;

/// Mean against spread of sixty-foot time, one point a flywheel at its own aim.
pub fn frontier(title: &str, comparison: &Comparison) -> PointChart {
    let points: Vec<Point> = comparison
        .contenders()
        .map(|wheel| Point {
            name: wheel.name().to_owned(),
            look: Look::nth(wheel.index()),
            x: wheel.scatter.aim.mean_s,
            y: wheel.scatter.aim.sd_s,
            standing: match wheel.scatter.quick_and_steady.dominated {
                Dominated::By(_) | Dominated::PerhapsBy(_) => Standing::Dominated,
                Dominated::No => Standing::Unbeaten,
            },
        })
        .collect();
    let told: Vec<String> = points
        .iter()
        .map(|point| {
            format!(
                "{}: mean {:.3} s, spread {:.3} s",
                point.name, point.x, point.y
            )
        })
        .collect();
    PointChart {
        words: Words {
            title: "Quick against steady, each flywheel at its own aim".into(),
            subtitle: Some(title.to_owned()),
            caption: Some(CAPTION.into()),
            description: format!("Left is quicker, down is steadier. {}.", told.join("; ")),
        },
        x: Axis::new("Mean sixty-foot time (left: quicker)", "s"),
        y: Axis::new("Spread, one SD (down: steadier)", "s"),
        points,
        frontier_name: Some("not beaten on both counts".into()),
        beaten_name: Some(
            "hollow: another looks quicker and steadier; the sentences say how sure".into(),
        ),
    }
}

/// The best aim over the release time, one line a flywheel, with what each is driven with; `None`
/// where the sheet gives one release alone.
pub fn aim_over_release(title: &str, comparison: &Comparison) -> Option<LineChart> {
    let practised = || {
        comparison
            .contenders()
            .filter(|w| w.scatter.ridge.len() > 1)
    };
    let series: Vec<Series> = practised()
        .map(|wheel| {
            let scatter = wheel.scatter;
            let ridge = scatter.ridge.iter();
            let points = ridge
                .map(|point| (point.release_time_s, Some(rpm(point.aim_rad_s))))
                .collect();
            let own = Mark {
                kind: MarkKind::Aim,
                x: scatter.rig.release_time_s(),
                y: rpm(scatter.aim.launch_speed_rad_s),
                label: format!("{:.3} s", scatter.aim.mean_s),
            };
            Series {
                marks: vec![own],
                ..Series::new(wheel.name(), Look::nth(wheel.index()), points)
            }
        })
        .collect();
    if series.is_empty() {
        return None;
    }
    let told: Vec<String> = practised()
        .map(|wheel| {
            format!(
                "{}: {:.2} s from {:.0} rpm, mean {:.3} s",
                wheel.name(),
                wheel.scatter.rig.release_time_s(),
                rpm(wheel.scatter.aim.launch_speed_rad_s),
                wheel.scatter.aim.mean_s
            )
        })
        .collect();
    Some(LineChart::new(
        Words {
            title: "Where to aim for every release time; marked: each one's own best".into(),
            subtitle: Some(title.to_owned()),
            caption: Some(CAPTION.into()),
            description: format!("Release and launch speed together. {}.", told.join("; ")),
        },
        Axis::new("Clutch release time", "s"),
        Axis::new("Launch speed aimed at", "rpm"),
        series,
    ))
}

/// Mean sixty-foot time over launch speed and crank-side inertia, the line of best aims on it.
pub fn map_over_inertia(title: &str, map: &MeanMap) -> CellMap {
    cell_map(
        "Mean sixty-foot time over launch speed and inertia",
        title,
        Axis::new("Crank-side inertia", "kg·m²"),
        map,
    )
}

/// Mean sixty-foot time over launch speed and release time, the line of best aims on it.
pub fn map_over_release(title: &str, map: &MeanMap) -> CellMap {
    cell_map(
        "Mean sixty-foot time over launch speed and release time",
        title,
        Axis::new("Clutch release time", "s"),
        map,
    )
}

fn cell_map(heading: &str, title: &str, y: Axis, map: &MeanMap) -> CellMap {
    let lowest_s = map
        .means_s
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    let drawn = |mean_s: f64| (mean_s <= lowest_s + WORTH_DRAWING_S).then_some(mean_s);
    let best = map
        .best_aims_rad_s
        .iter()
        .zip(&map.rows)
        .map(|(aim, row)| (rpm(*aim), Some(*row)))
        .collect();
    CellMap {
        words: Words {
            title: heading.into(),
            subtitle: Some(title.to_owned()),
            caption: Some(format!("With this driver's scatter. {CAPTION}")),
            description: format!(
                "{heading}, with the driver's scatter; the line shows the launch speed to aim at in each row, from {:.0} rpm in the lowest row to {:.0} rpm in the highest.",
                map.best_aims_rad_s
                    .first()
                    .map_or(f64::NAN, |aim| rpm(*aim)),
                map.best_aims_rad_s.last().map_or(f64::NAN, |aim| rpm(*aim)),
            ),
        },
        x: Axis::new("Launch speed aimed at", "rpm"),
        y,
        z: Axis::new("Mean sixty-foot time", "s"),
        columns: map.aims_rad_s.iter().map(|aim| rpm(*aim)).collect(),
        rows: map.rows.clone(),
        values: map
            .means_s
            .iter()
            .map(|row| row.iter().map(|mean_s| drawn(*mean_s)).collect())
            .collect(),
        missing_name: format!("over {WORTH_DRAWING_S} s slower, often stalls"),
        marks: Vec::new(),
        shade: Shade::LowIsDark,
        contours: Contours::Labelled,
        overlays: vec![Overlay {
            name: "aim".into(),
            points: best,
        }],
    }
}
