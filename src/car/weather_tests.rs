use super::*;
use approx::{assert_abs_diff_eq, assert_relative_eq};

fn weather(pressure_pa: f64, celsius: f64, humidity: f64) -> Weather {
    Weather::new(
        Positive::new(pressure_pa).unwrap(),
        Positive::new(celsius + ZERO_CELSIUS_K).unwrap(),
        Share::new(humidity).unwrap(),
    )
    .unwrap()
}

/// Dry 95 kPa, 35 °C, factors as the standards print them (SAE J1349 JUN90, ISO 1585,
/// DIN 70020; forms seen, figures recomputed). DIN's figure is for 101.3 kPa and 293 K.
#[test]
fn reference_correction_factors_in_thin_warm_air() {
    let air = weather(95_000.0, 35.0, 0.0);
    assert_relative_eq!(
        Standard::SaeJ1349.correction_factor(&air),
        1.070_146_25,
        max_relative = 1e-8
    );
    assert_relative_eq!(
        Standard::Iso1585.correction_factor(&air),
        1.071_752_68,
        max_relative = 1e-8
    );
    assert_relative_eq!(
        Standard::Din70020.correction_factor(&air),
        1.093_269_89,
        max_relative = 1e-8
    );
}

/// Each factor is 1 at its own reference, by the standards' own definition.
#[test]
fn reference_correction_factors_are_one_at_their_reference() {
    assert_relative_eq!(
        Standard::SaeJ1349.correction_factor(&weather(99_000.0, 25.0, 0.0)),
        1.0,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        Standard::Iso1585.correction_factor(&weather(99_000.0, 25.0, 0.0)),
        1.0,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        Standard::Din70020.correction_factor(&weather(101_300.0, 20.0, 0.0)),
        1.0,
        max_relative = 1e-12
    );
}

/// The table of ISO 2533:1975 at geopotential heights; the 1,000 m row matches the
/// published figure as remembered, the others are recomputed. 0.05 Pa is their last digit.
#[test]
fn reference_standard_atmosphere() {
    for (height_m, pressure_pa) in [
        (0.0, 101_325.0),
        (500.0, 95_460.84),
        (1000.0, 89_874.57),
        (1500.0, 84_556.00),
        (2000.0, 79_495.22),
    ] {
        assert_abs_diff_eq!(standard_pressure_pa(height_m), pressure_pa, epsilon = 0.05);
    }
}

/// Vapour pressure against the Magnus form's own table (digits) and against IAPWS-IF97
/// region 4 (0.4 %: the Magnus form's known error up to 40 °C).
#[test]
fn reference_vapour_pressure() {
    for (celsius, magnus_pa, if97_pa) in [
        (0.01, 611.64, 611.66),
        (10.0, 1226.03, 1228.18),
        (20.0, 2332.60, 2339.21),
        (25.0, 3160.06, 3169.75),
        (30.0, 4233.72, 4246.69),
        (35.0, 5612.84, 5628.62),
        (40.0, 7367.46, 7384.43),
    ] {
        assert_abs_diff_eq!(saturation_pressure_pa(celsius), magnus_pa, epsilon = 0.006);
        assert_relative_eq!(
            saturation_pressure_pa(celsius),
            if97_pa,
            max_relative = 4e-3
        );
    }
}

/// Moist-air density against CIPM-2007 (Picard et al., Metrologia 45 (2008) 149),
/// figures recomputed; two ideal gases stay within 1e-3 of it.
#[test]
fn reference_moist_air_density() {
    for (celsius, pressure_pa, humidity, density) in [
        (20.0, 101_325.0, 0.5, 1.199_313_9),
        (25.0, 99_000.0, 0.0, 1.157_117_6),
        (35.0, 95_000.0, 0.6, 1.059_842_0),
    ] {
        assert_relative_eq!(
            weather(pressure_pa, celsius, humidity).density_kg_m3(),
            density,
            max_relative = 1e-3
        );
    }
}

#[test]
fn law_air_that_would_be_vapour_alone_is_refused() {
    let boiling = Weather::new(
        Positive::new(50_000.0).unwrap(),
        Positive::new(380.0).unwrap(),
        Share::new(1.0).unwrap(),
    );
    assert!(boiling.is_none());
}

#[test]
fn law_a_curve_measured_at_the_track_needs_no_carrying() {
    let here = weather(98_000.0, 28.0, 0.4);
    assert_relative_eq!(
        StatedFor::AsMeasured(here).weather_factor(&here),
        1.0,
        max_relative = 1e-15
    );
}
