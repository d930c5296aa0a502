//! Traces and sweeps as CSV: one head line, units in the column names, a point as decimal mark.

use crate::car::constants::RAD_S_PER_RPM;
use crate::launch::trace::TracePoint;
use crate::study::fit::Fit;
use crate::study::sweep::Sweep;
use csv::Writer;

/// A CSV text from a head and rows of the same length.
fn text(head: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut writer = Writer::from_writer(Vec::new());
    // Writing to memory, rows as long as the head: nothing of it can fail.
    let _ = writer.write_record(head);
    for row in rows {
        let _ = writer.write_record(&row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// Weighted draws of what a fit learnt, SI: the file that a sheet's `[fitted]` names.
pub fn fitted_draws(fit: &Fit) -> String {
    let mut head = vec!["weight"];
    head.extend(
        fit.unknowns
            .iter()
            .map(|unknown| unknown.input.key.as_str()),
    );
    let rows = fit.draws.draws.iter().zip(&fit.draws.weights);
    let rows = rows.map(|(draw, weight)| {
        std::iter::once(weight)
            .chain(draw)
            .map(|number| format!("{number:e}"))
            .collect()
    });
    text(&head, rows)
}

/// Launches over time, one after another, each row naming its flywheel.
pub fn traces(launches: &[(String, Vec<TracePoint>)]) -> String {
    let head = [
        "flywheel",
        "time_s",
        "engine_rpm",
        "input_shaft_rpm",
        "car_m_s",
        "distance_m",
        "tyre_slip",
        "engine_nm",
        "clutch_nm",
        "clutch_heat_j",
        "weight_transfer_n",
        "acceleration_m_s2",
    ];
    let rows = launches.iter().flat_map(|(name, points)| {
        points.iter().map(move |point| {
            let numbers = [
                (point.time_s, 6),
                (point.now.engine_rad_s / RAD_S_PER_RPM, 2),
                (point.input_rad_s / RAD_S_PER_RPM, 2),
                (point.now.speed_m_s, 4),
                (point.now.distance_m, 4),
                (point.slip, 5),
                (point.engine_nm, 2),
                (point.clutch_nm, 2),
                (point.now.heat_j, 1),
                (point.now.transfer_n, 1),
                (point.acceleration_m_s2, 4),
            ];
            std::iter::once(name.clone())
                .chain(numbers.map(|(number, decimals)| format!("{number:.decimals$}")))
                .collect()
        })
    });
    text(&head, rows)
}

/// Sixty-foot time over launch speed, one column a flywheel; empty where the car did not get there.
pub fn sweeps(sweeps: &[(String, &Sweep)]) -> String {
    let head: Vec<&str> = std::iter::once("launch_rpm")
        .chain(sweeps.iter().map(|(name, _)| name.as_str()))
        .collect();
    let speeds = sweeps.first().map_or(&[][..], |(_, sweep)| sweep.points());
    let rows = speeds.iter().enumerate().map(|(index, point)| {
        std::iter::once(format!("{:.2}", point.launch_speed_rad_s / RAD_S_PER_RPM))
            .chain(sweeps.iter().map(|(_, sweep)| {
                sweep
                    .points()
                    .get(index)
                    .and_then(|point| point.sixty_foot_s)
                    .map_or(String::new(), |time_s| format!("{time_s:.6}"))
            }))
            .collect()
    });
    text(&head, rows)
}
