//! What is in doubt in a sheet, and how far.

use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::numerics::quantile::normal_errors;
use crate::sheet::{Reading, ValueDoubt};
use crate::units::{Kind, System};
use std::fmt::Write as _;

/// Every doubted value, those alike in where their doubt comes from together.
pub(super) fn doubts(reading: &Reading, system: System) -> String {
    let mut text = String::new();
    for (origin, heading) in HEADINGS {
        let mut of_origin = reading.doubts.iter().filter(|d| d.input.origin == origin);
        let Some(first) = of_origin.next() else {
            continue;
        };
        let _ = writeln!(text, "{heading}");
        for doubt in std::iter::once(first).chain(of_origin) {
            let _ = writeln!(text, "- {} = {}", doubt.input.key, shown(doubt, system));
        }
        text.push('\n');
    }
    if text.is_empty() {
        text.push_str("Nothing in the sheet is in doubt: every value is said to be exact.\n\n");
    }
    text
}

/// Where doubts come from, the surest first.
const HEADINGS: [(DoubtOrigin, &str); 6] = [
    (
        DoubtOrigin::Stated,
        "In doubt, as the sheet says (± is a bet of 19 to 1):",
    ),
    (
        DoubtOrigin::Measured,
        "In doubt, by the measurement's own scatter:",
    ),
    (
        DoubtOrigin::Fitted,
        "In doubt, by what the fit left open; they go together:",
    ),
    (
        DoubtOrigin::Usual,
        "In doubt as such values usually are; write \"… ± …\" or \"… exactly\" where you know better (common practice, no source):",
    ),
    (
        DoubtOrigin::Defaulted,
        "In doubt as defaults are (common practice, no source):",
    ),
    (DoubtOrigin::Guessed, "Guessed, because nobody knows:"),
];

/// `310 ± 20 N·m`, `0.7 to 0.9`.
fn shown(doubt: &ValueDoubt, system: System) -> String {
    let unit = |si: f64| doubt.kind.map_or(si, |kind| system.value(si, kind));
    let symbol = doubt.kind.map_or(String::new(), |kind| {
        format!(" {}", system.unit(kind).symbol)
    });
    let nominal = doubt.input.nominal;
    match doubt.input.doubt {
        Doubt::Exact => format!("{}{symbol}", crate::units::plain(unit(nominal))),
        Doubt::Normal { deviation } => {
            let half = unit(nominal + normal_errors() * deviation) - unit(nominal);
            let half = two_digits(half);
            let value = to_the_digit_of(unit(nominal), half);
            let half = crate::units::plain(half);
            format!("{value} ± {half}{symbol}")
        }
        Doubt::Between { low, high } => format!(
            "{} to {}{symbol}",
            crate::units::plain(unit(low)),
            crate::units::plain(unit(high))
        ),
    }
}

/// Two significant digits: a doubt is not known to more.
fn two_digits(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let step = 10_f64.powf(value.abs().log10().floor() - 1.0);
    (value / step).round() * step
}

/// A value with a digit more than its doubt has.
fn to_the_digit_of(value: f64, half: f64) -> String {
    if half <= 0.0 {
        return crate::units::plain(value);
    }
    let step = 10_f64.powf(half.log10().floor() - 2.0);
    crate::units::plain((value / step).round() * step)
}

/// The unit that a document gives a doubted value in: SI, and `1` for a bare number.
pub(crate) const fn si_symbol(kind: Option<Kind>) -> &'static str {
    let Some(kind) = kind else { return "1" };
    match kind {
        Kind::Mass => "kg",
        Kind::Length | Kind::Distance => "m",
        Kind::AngularSpeed => "rad/s",
        Kind::SweepRate => "rad/s²",
        Kind::Torque => "N·m",
        Kind::Inertia => "kg·m²",
        Kind::Force => "N",
        Kind::Pressure | Kind::Stress => "Pa",
        Kind::Temperature | Kind::TemperatureRise => "K",
        Kind::Time => "s",
        Kind::Speed => "m/s",
        Kind::Acceleration => "m/s²",
        Kind::Area => "m²",
        Kind::Density | Kind::AirDensity => "kg/m³",
        Kind::Power => "W",
        Kind::Energy => "J",
        Kind::SpecificHeat => "J/(kg·K)",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::doubt::DoubtedInput;

    fn said(kind: Option<Kind>, nominal: f64, doubt: Doubt) -> String {
        let input = DoubtedInput {
            key: "x".into(),
            nominal,
            doubt,
            origin: DoubtOrigin::Usual,
        };
        shown(&ValueDoubt { input, kind }, System::Metric)
    }

    #[test]
    fn law_a_doubt_is_shown_with_two_digits_and_its_value_with_one_more() {
        let grip = said(None, 1.21, Doubt::bet_on(0.0968));
        assert_eq!(grip, "1.21 ± 0.097");
        let torque = said(Some(Kind::Torque), 310.0, Doubt::bet_on(20.0));
        assert_eq!(torque, "310 ± 20 N·m");
        let air = said(Some(Kind::Temperature), 295.15, Doubt::bet_on(2.0));
        assert_eq!(air, "22 ± 2 °C");
        let between = Doubt::Between {
            low: 0.7,
            high: 0.9,
        };
        assert_eq!(said(None, 0.8, between), "0.7 to 0.9");
    }
}
