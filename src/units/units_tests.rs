use super::*;
use crate::random_cases::same_every_time;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// Every spelling that the sheet promises.
#[test]
fn reference_spellings_of_the_sheet() {
    for (text, kind, si) in [
        ("7.4 kg", Kind::Mass, 7.4),
        ("7.4kg", Kind::Mass, 7.4),
        ("18 g", Kind::Mass, 0.018),
        ("10.25 in", Kind::Length, 0.26035),
        ("325 thou", Kind::Length, 0.008_255),
        ("500 rpm", Kind::AngularSpeed, 52.359_877_559_829_89),
        ("300 rpm/s", Kind::SweepRate, 31.415_926_535_897_93),
        ("215 lbf·ft", Kind::Torque, 291.500_858_891_251_1),
        ("215 lb-ft", Kind::Torque, 291.500_858_891_251_1),
        ("215 lbft", Kind::Torque, 291.500_858_891_251_1),
        ("215 lb ft", Kind::Torque, 291.500_858_891_251_1),
        ("24 N·m", Kind::Torque, 24.0),
        ("24 Nm", Kind::Torque, 24.0),
        ("24 N m", Kind::Torque, 24.0),
        ("24 N*m", Kind::Torque, 24.0),
        ("2 kgf·m", Kind::Torque, 19.6133),
        ("0.1 kg·m²", Kind::Inertia, 0.1),
        ("0.1 kg m2", Kind::Inertia, 0.1),
        ("0.1 kg m^2", Kind::Inertia, 0.1),
        ("0.1 kgm2", Kind::Inertia, 0.1),
        ("0.1 kg*m^2", Kind::Inertia, 0.1),
        ("100 g·m²", Kind::Inertia, 0.1),
        ("1000 kg·cm²", Kind::Inertia, 0.1),
        ("1e5 kg·mm²", Kind::Inertia, 0.1),
        ("1 lb·ft²", Kind::Inertia, 0.042_140_110_093_804_8),
        ("144 lb·in²", Kind::Inertia, 0.042_140_110_093_804_8),
        ("6.2 kN", Kind::Force, 6200.0),
        ("1 lbf", Kind::Force, 4.448_221_615_260_5),
        ("1 kgf", Kind::Force, 9.806_65),
        ("1 psi", Kind::Pressure, 6_894.757_293_168_36),
        ("29.92 inHg", Kind::Pressure, 101_320.758_88),
        ("1013 hPa", Kind::Pressure, 101_300.0),
        ("1013 mbar", Kind::Pressure, 101_300.0),
        ("1.013 bar", Kind::Pressure, 101_300.0),
        ("101.3 kPa", Kind::Pressure, 101_300.0),
        ("95 ksi", Kind::Stress, 655_001_942.850_994_5),
        ("650 MPa", Kind::Stress, 650e6),
        ("24 °C", Kind::Temperature, 297.15),
        ("24 C", Kind::Temperature, 297.15),
        ("78 °F", Kind::Temperature, 298.705_555_555_555_6),
        ("78 F", Kind::Temperature, 298.705_555_555_555_6),
        ("300 K", Kind::Temperature, 300.0),
        ("4 ms", Kind::Time, 0.004),
        ("1.5 min", Kind::Time, 90.0),
        ("36 km/h", Kind::Speed, 10.0),
        ("60 mph", Kind::Speed, 26.8224),
        ("7.4 ft²", Kind::Area, 0.687_482_496),
        ("6200 cm²", Kind::Area, 0.62),
        ("0.284 lb/in³", Kind::Density, 7_861.092_937_697_686),
        ("7.85 g/cm³", Kind::Density, 7850.0),
        ("100 hp", Kind::Power, 74_569.987_158_227),
        ("100 PS", Kind::Power, 73_549.875),
        ("490 J/(kg·K)", Kind::SpecificHeat, 490.0),
        ("490 J/kg/K", Kind::SpecificHeat, 490.0),
    ] {
        let read = parse(text, kind).unwrap_or_else(|e| panic!("{text}: {e}"));
        // Round-off of a few products.
        assert_relative_eq!(read, si, max_relative = 1e-14);
    }
}

#[test]
fn law_capitals_count_only_where_they_tell_units_apart() {
    assert_relative_eq!(
        parse("500 RPM", Kind::AngularSpeed).unwrap(),
        parse("500 rpm", Kind::AngularSpeed).unwrap()
    );
    assert_relative_eq!(parse("5 KG", Kind::Mass).unwrap(), 5.0);
    assert_relative_eq!(parse("650 mpa", Kind::Stress).unwrap(), 650e6);
}

#[test]
fn law_what_is_no_quantity_is_refused_with_what_would_be_right() {
    for (text, kind, message, hint) in [
        ("", Kind::Mass, "empty", "kg, g, lb or oz"),
        ("7.4", Kind::Mass, "\"7.4\" has no unit", "kg, g, lb or oz"),
        (
            "1.5,2 kg",
            Kind::Mass,
            "comma",
            "the decimal mark is a point",
        ),
        (
            "7,800 rpm",
            Kind::AngularSpeed,
            "comma",
            "\"7.800 rpm\" or \"7800 rpm\"",
        ),
        (
            "1 200 rpm",
            Kind::AngularSpeed,
            "between its number and its unit",
            "without a blank",
        ),
        ("10 5/4 in", Kind::Length, "between its number", "10 1/4 in"),
        (
            "1.2.3 kg",
            Kind::Mass,
            "between its number",
            "write one number",
        ),
        ("kg", Kind::Mass, "does not begin with a number", "kg, g"),
        (
            "nan kg",
            Kind::Mass,
            "not a finite number",
            "ordinary number",
        ),
        (
            "-inf kg",
            Kind::Mass,
            "not a finite number",
            "ordinary number",
        ),
        (
            "1e999 kg",
            Kind::Mass,
            "not a finite number",
            "ordinary number",
        ),
        (
            "7 kg",
            Kind::Length,
            "\"7 kg\" is a mass, and a length is wanted here",
            "m, mm, cm, in, ft or thou",
        ),
        ("7 furlong", Kind::Length, "\"furlong\" is no unit", "m, mm"),
        (
            "7 kg·m",
            Kind::Torque,
            "no unit that is known",
            "did you mean kgf·m?",
        ),
    ] {
        let error = parse(text, kind).expect_err(text);
        assert!(error.to_string().contains(message), "{text}: {error}");
        assert!(
            error.hint(kind).contains(hint),
            "{text}: {}",
            error.hint(kind)
        );
    }
}

#[test]
fn law_no_spelling_means_two_units_of_one_kind() {
    for (i, unit) in UNITS.iter().enumerate() {
        for spelling in unit.spellings.iter().copied().chain([unit.symbol]) {
            let read = parse(&format!("1 {spelling}"), unit.kind).unwrap();
            assert_relative_eq!(read, unit.to_si(1.0));
        }
        for other in UNITS.iter().skip(i + 1) {
            assert!(unit.kind != other.kind || unit.symbol != other.symbol);
        }
    }
}

#[test]
fn law_every_kind_is_shown_in_a_unit_it_is_read_in() {
    for kind in Kind::ALL {
        for system in System::ALL {
            let unit = system.unit(kind);
            assert_eq!(unit.kind, kind.read_as());
            assert!(kind.units().any(|u| u == unit));
        }
    }
}

#[test]
fn law_shown_numbers_carry_the_digits_their_unit_is_shown_with() {
    let metric = System::Metric;
    assert_eq!(metric.show(0.376_633_6, Kind::Inertia), "0.3766 kg·m²");
    assert_eq!(metric.show(-0.000_01, Kind::Inertia), "0.0000 kg·m²");
    assert_eq!(metric.show(288.15, Kind::Temperature), "15.0 °C");
    assert_eq!(metric.brief(0.25, Kind::Time), "0.25 s");
    assert_eq!(metric.brief(0.004, Kind::Time), "0.004 s");
    assert_eq!(metric.brief(101_325.0, Kind::Pressure), "101.325 kPa");
    assert_eq!(
        metric.brief(52.359_877_559_829_89, Kind::AngularSpeed),
        "500 rpm"
    );
    assert_eq!(metric.brief(0.0, Kind::Inertia), "0 kg·m²");
    assert_eq!(
        System::Imperial.show(0.376_633_6, Kind::Inertia),
        "8.938 lb·ft²"
    );
    assert_eq!(System::Imperial.brief(288.15, Kind::Temperature), "59 °F");
    assert_eq!(System::Imperial.show(18.288, Kind::Distance), "60.0 ft");
}

proptest! {
    #![proptest_config(same_every_time(256))]

    /// A value written in any unit and read back is the same; into the unit and out again too.
    /// Tolerance: round-off of a product, and of a sum for temperatures.
    #[test]
    fn law_units_round_trip(value in -1e4..1e4f64, pick in any::<prop::sample::Index>()) {
        let unit = UNITS[pick.index(UNITS.len())];
        let read = parse(&format!("{value} {}", unit.symbol), unit.kind).unwrap();
        let tolerance = 1e-11 * (1.0 + value.abs());
        prop_assert!((unit.of_si(read) - value).abs() <= tolerance, "{} {}", value, unit.symbol);
        prop_assert!((unit.of_si(unit.to_si(value)) - value).abs() <= tolerance);
    }

    /// No text makes the reader panic.
    #[test]
    fn law_any_text_is_read_or_refused(text in "\\PC{0,24}", pick in any::<prop::sample::Index>()) {
        let kind = Kind::ALL[pick.index(Kind::ALL.len())];
        let _ = parse_stated_number(&text).map_err(|error| error.number_hint());
        if let Err(error) = parse_stated(&text, kind) {
            prop_assert!(!error.to_string().is_empty() && !error.hint(kind).is_empty());
        }
    }
}
