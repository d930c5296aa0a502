//! Tables made with SciPy and NumPy by the scripts in `tests/reference/`.

use super::checked::{Positive, Share};
use super::constants::ZERO_CELSIUS_K;
use super::weather::{Standard, Weather, saturation_pressure_pa};
use crate::numerics::monotone_cubic::MonotoneCubic;
use approx::assert_relative_eq;
use std::collections::BTreeMap;

fn rows(table: &str) -> impl Iterator<Item = csv::StringRecord> + '_ {
    csv::Reader::from_reader(table.as_bytes())
        .into_records()
        .map(|row| row.unwrap())
        .collect::<Vec<_>>()
        .into_iter()
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row[column].parse().unwrap()
}

/// SciPy's `PchipInterpolator` through points unevenly spaced, flat, turning, four in number.
/// Tolerance: both are the same few products; the table has fifteen digits.
#[test]
fn reference_scipy_pchip() {
    let table = include_str!("../../tests/reference/pchip.csv");
    let mut points: BTreeMap<String, Vec<(f64, f64)>> = BTreeMap::new();
    for row in rows(table).filter(|row| &row[1] == "point") {
        let point = (number(&row, 2), number(&row, 3));
        points.entry(row[0].to_owned()).or_default().push(point);
    }
    let mut checked = 0;
    for row in rows(table).filter(|row| &row[1] != "point") {
        let curve = MonotoneCubic::new(&points[&row[0]]).unwrap();
        let largest = points[&row[0]]
            .iter()
            .map(|p| p.1.abs())
            .fold(0.0, f64::max);
        let (x, y) = (number(&row, 2), number(&row, 3));
        assert!(
            (curve.at(x) - y).abs() <= 1e-12 * largest,
            "{} at {x}",
            &row[0]
        );
        checked += 1;
    }
    assert!(checked > 100, "{checked}");
}

/// Correction factors and air density in varied weather. Tolerance: fifteen digits in the table.
#[test]
fn reference_weather_table() {
    for row in rows(include_str!("../../tests/reference/weather.csv")) {
        let celsius = number(&row, 1);
        let weather = Weather::new(
            Positive::new(number(&row, 0)).unwrap(),
            Positive::new(celsius + ZERO_CELSIUS_K).unwrap(),
            Share::new(number(&row, 2)).unwrap(),
        )
        .unwrap();
        assert_relative_eq!(
            saturation_pressure_pa(celsius),
            number(&row, 3),
            max_relative = 1e-12
        );
        assert_relative_eq!(
            weather.dry_pressure_pa(),
            number(&row, 4),
            max_relative = 1e-12
        );
        for (standard, column) in Standard::ALL.into_iter().zip(5..) {
            let factor = standard.correction_factor(&weather);
            assert_relative_eq!(factor, number(&row, column), max_relative = 1e-12);
        }
        assert_relative_eq!(
            weather.density_kg_m3(),
            number(&row, 8),
            max_relative = 1e-12
        );
    }
}
