//! What the doubt of a sheet does to the choice of a flywheel.

use super::{CAPTION, rpm};
use crate::car::doubt::DoubtedCar;
use crate::sheet::keys;
use crate::shown::plot::{
    Axis, Bar, BarChart, CellMap, Contours, LineChart, Look, Overlay, Part, Series, Shade, Words,
};
use crate::study::decide::Decision;
use crate::study::decide::metal_left::{MetalLeft, MetalPoint};
use crate::study::decide::who_wins::{WhoWins, outline};

/// Points of a line over drawn sheets: each the mean of as many sheets.
const GROUPS: usize = 8;

/// What each flywheel loses against the best: on average, and in the worst 1 in 20.
pub fn losses(title: &str, decision: &Decision) -> BarChart {
    let bars: Vec<Bar> = decision
        .wheels
        .iter()
        .map(|wheel| {
            let part = |name: &str, look: usize, value: f64, whole: f64| Part {
                name: name.into(),
                look: Look::nth(look),
                value: value * 1e3,
                value_text: format!("{:.1} ms", whole * 1e3),
            };
            Bar {
                name: wheel.name.clone(),
                note: String::new(),
                parts: vec![
                    part("mean", 0, wheel.loss_mean_s, wheel.loss_mean_s),
                    part(
                        "worst 1 in 20",
                        1,
                        (wheel.loss_p95_s - wheel.loss_mean_s).max(0.0),
                        wheel.loss_p95_s,
                    ),
                ],
            }
        })
        .collect();
    let told: Vec<String> = decision
        .wheels
        .iter()
        .map(|wheel| {
            format!(
                "{}: {:.1} ms on average, {:.1} ms in the worst 1 in 20",
                wheel.name,
                wheel.loss_mean_s * 1e3,
                wheel.loss_p95_s * 1e3
            )
        })
        .collect();
    BarChart {
        words: words("What each flywheel loses against the best", title, &told),
        bars,
    }
}

/// Mean over crank-side inertia, with the band that the doubt leaves.
pub fn metal_left(title: &str, metal: &MetalLeft) -> LineChart {
    let line = |name: &str, look: usize, pick: fn(&MetalPoint) -> f64| {
        // From the light end up: a line's name stands where it ends, on the right.
        let points = metal.points.iter().rev();
        Series::new(
            name,
            Look::nth(look),
            points
                .map(|point| (point.crank_side_kg_m2, Some(pick(point))))
                .collect(),
        )
    };
    let series = vec![
        line("mean", 0, |point| point.mean_s),
        line("1 case in 10 below", 1, |point| point.mean_p10_s),
        line("1 case in 10 above", 2, |point| point.mean_p90_s),
    ];
    let told = [format!(
        "between {:.4} and {:.4} kg·m² no wheel is better by 0.005 s",
        metal.flat_kg_m2.low, metal.flat_kg_m2.high
    )];
    LineChart::new(
        words(
            "Mean time over the metal left, each at its own aim",
            title,
            &told,
        ),
        Axis::new("Crank-side inertia", "kg·m²"),
        Axis::new("Mean time", "s"),
        series,
    )
}

/// The aim of each flywheel over one doubted input; `None` where that input is not in doubt.
pub fn aim_over_input(
    title: &str,
    decision: &Decision,
    input: usize,
    label: &str,
) -> Option<LineChart> {
    let value = |sheet: usize| decision.drawn.sheets.get(sheet)?.values.get(input).copied();
    value(0)?;
    let series: Vec<Series> = decision
        .wheels
        .iter()
        .enumerate()
        .map(|(place, wheel)| {
            let mut pairs: Vec<(f64, f64)> = wheel
                .aims_rad_s
                .iter()
                .filter_map(|(sheet, aim)| Some((value(*sheet)?, rpm(*aim))))
                .collect();
            pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
            let points = pairs
                .chunks(pairs.len().div_ceil(GROUPS).max(1))
                .map(|group| {
                    let mean = |pick: fn(&(f64, f64)) -> f64| {
                        crate::numerics::summary::mean(&group.iter().map(pick).collect::<Vec<_>>())
                    };
                    (mean(|pair| pair.0), Some(mean(|pair| pair.1)))
                })
                .collect();
            Series::new(wheel.name.as_str(), Look::nth(place), points)
        })
        .collect();
    Some(LineChart::new(
        words(
            &format!("Where to aim, by {}", label.to_lowercase()),
            title,
            &[String::from("one line a flywheel")],
        ),
        Axis::new(label, ""),
        Axis::new("Aim", "rpm"),
        series,
    ))
}

/// What the flywheel to use for now loses over the two inputs that matter most, and who is best
/// where; the line round the sheet's doubt on it.
pub fn who_wins(
    title: &str,
    decision: &Decision,
    doubted: &DoubtedCar,
    map: &WhoWins,
) -> Option<CellMap> {
    let inputs = doubted.inputs();
    let (level, upright) = (inputs.get(map.level)?, inputs.get(map.upright)?);
    let start = decision.place_to_use();
    let name = &decision.wheels.get(start)?.name;
    let heading = format!("Where \"{name}\" is not the best, and by how much");
    let told: Vec<String> = decision
        .wheels
        .iter()
        .enumerate()
        .map(|(place, wheel)| {
            let cells = map.counted_s.iter().flatten();
            let won = cells
                .filter(|cell| WhoWins::best(cell) == Some(place))
                .count();
            format!("\"{}\" is best in {won} cells", wheel.name)
        })
        .collect();
    let best = |cell: &Vec<f64>| WhoWins::best(cell).map_or_else(String::new, numbered);
    let marks = map.counted_s.iter();
    Some(CellMap {
        words: Words {
            caption: Some(format!("{} {CAPTION}", numbers(decision))),
            ..words(&heading, title, &told)
        },
        marks: marks.map(|row| row.iter().map(best).collect()).collect(),
        x: Axis::new(keys::words_for(&level.key), ""),
        y: Axis::new(keys::words_for(&upright.key), ""),
        z: Axis::new("Behind the best", "ms"),
        columns: map.level_values.clone(),
        rows: map.upright_values.clone(),
        values: map
            .counted_s
            .iter()
            .map(|row| {
                row.iter()
                    .map(|cell| Some(WhoWins::loss_s(cell, start)? * 1e3))
                    .collect()
            })
            .collect(),
        missing_name: "outside what a sheet may say".into(),
        shade: Shade::HighIsDark,
        contours: Contours::None,
        overlays: vec![Overlay {
            name: "19 cases in 20 lie within".into(),
            points: outline(level, upright)
                .into_iter()
                .map(|(x, y)| (x, Some(y)))
                .collect(),
        }],
    })
}

/// A flywheel's number on the map, by its place.
fn numbered(place: usize) -> String {
    (place + 1).to_string()
}

/// What the numbers on the map of who wins stand for.
pub fn numbers(decision: &Decision) -> String {
    let wheels = decision.wheels.iter().enumerate();
    let told: Vec<String> = wheels
        .map(|(place, wheel)| format!("{} \"{}\"", numbered(place), wheel.name))
        .collect();
    format!(
        "The number is the best flywheel there: {}.",
        told.join(", ")
    )
}

fn words(heading: &str, title: &str, told: &[String]) -> Words {
    Words {
        title: heading.into(),
        subtitle: Some(title.to_owned()),
        caption: Some(CAPTION.into()),
        description: format!("{heading}. {}.", told.join("; ")),
    }
}
