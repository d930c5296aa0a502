//! An engine's torque over its speed.

use super::rpm;
use crate::car::engine::TorqueCurve;
use crate::shown::plot::{Axis, LineChart, Look, Series, Spots, Words};
use crate::units::{Kind, System};

/// Torque over engine speed: the points as the file has them, and the curve through them.
pub fn torque(title: &str, curve: &TorqueCurve, system: System) -> LineChart {
    /// Pieces between two points: the curve is smooth, and a chart has no more pixels than that.
    const PIECES: u32 = 8;
    let unit = system.unit(Kind::Torque).symbol;
    let shown = |speed_rad_s: f64| {
        let torque = system.value(curve.at_nm(speed_rad_s), Kind::Torque);
        (rpm(speed_rad_s), Some(torque))
    };
    let points = curve.points();
    let between = points.windows(2).flat_map(|pair| {
        let (from, to) = match pair {
            [(from, _), (to, _)] => (*from, *to),
            _ => (f64::NAN, f64::NAN),
        };
        (0..PIECES).map(move |piece| from + (to - from) * f64::from(piece) / f64::from(PIECES))
    });
    let line = between
        .chain(std::iter::once(curve.last_speed_rad_s()))
        .map(shown);
    let description = format!(
        "Torque from {:.0} to {:.0} rpm, {} points; the most is {}.",
        rpm(curve.first_speed_rad_s()),
        rpm(curve.last_speed_rad_s()),
        points.len(),
        system.show(curve.peak_nm(), Kind::Torque)
    );
    let series = Series {
        spots: Spots::None,
        ..Series::new("", Look::nth(0), line.collect())
    };
    LineChart::new(
        Words {
            title: "Torque over engine speed".into(),
            subtitle: (!title.is_empty()).then(|| title.to_owned()),
            description,
            ..Words::default()
        },
        Axis::new("Engine speed", "rpm"),
        Axis::new("Torque", unit).reaching(0.0),
        vec![series],
    )
}
