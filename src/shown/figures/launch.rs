//! Engine and input-shaft speed over time, one launch a flywheel.

use super::{CAPTION, rpm};
use crate::launch::trace::TracePoint;
use crate::shown::plot::{Axis, LineChart, Look, Series, Spots, Words};

/// Engine speed (and, thinner, input-shaft speed) over time from first bite, for several launches.
pub fn engine_speed(title: &str, launches: &[(String, Vec<TracePoint>)]) -> LineChart {
    let series = launches
        .iter()
        .enumerate()
        .map(|(index, (name, points))| {
            let over_time = |speed: &dyn Fn(&TracePoint) -> f64| {
                points
                    .iter()
                    .map(|point| (point.time_s, Some(rpm(speed(point)))))
                    .collect()
            };
            Series {
                companion: over_time(&|point| point.input_rad_s),
                spots: Spots::Few,
                ..Series::new(
                    name.clone(),
                    Look::nth(index),
                    over_time(&|point| point.now.engine_rad_s),
                )
            }
        })
        .collect();
    let words = Words {
        title: "Engine and input-shaft speed over time".into(),
        subtitle: Some(title.to_owned()),
        caption: Some(CAPTION.into()),
        description: format!(
            "Engine speed over time from first bite for {}, with the input shaft's speed as a thinner line; where the two meet the clutch has locked up.",
            names(launches)
        ),
    };
    LineChart {
        companion_name: Some("input shaft".into()),
        ..LineChart::new(
            words,
            Axis::new("Time from first bite", "s").reaching(0.0),
            Axis::new("Speed", "rpm").reaching(0.0),
            series,
        )
    }
}

fn names(launches: &[(String, Vec<TracePoint>)]) -> String {
    let names: Vec<&str> = launches.iter().map(|(name, _)| name.as_str()).collect();
    names.join(", ")
}
