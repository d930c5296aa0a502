//! Numbers in SI, shown in the units of the trade.

use super::table;
use super::{Kind, Unit};

/// Which units results are shown in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// Kilograms, millimetres, newton-metres, kilometres an hour.
    #[default]
    Metric,
    /// Pounds, inches, pound-force feet, miles an hour.
    Imperial,
}

/// Significant digits of [`System::brief`].
const BRIEF_DIGITS: usize = 6;
/// Significant digits of the same where a number was converted from other units.
const CONVERTED_DIGITS: usize = 4;

impl System {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Metric, Self::Imperial];

    /// Its name on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Imperial => "imperial",
        }
    }

    /// The unit that shows a kind of quantity.
    pub const fn unit(self, kind: Kind) -> &'static Unit {
        let (metric, imperial) = match kind {
            Kind::Mass => (table::KG, table::LB),
            Kind::Length => (table::MM, table::IN),
            Kind::Distance => (table::M, table::FT),
            Kind::AngularSpeed => (table::RPM, table::RPM),
            Kind::SweepRate => (table::RPM_S, table::RPM_S),
            Kind::Torque => (table::NM, table::LBF_FT),
            Kind::Inertia => (table::KG_M2, table::LB_FT2),
            Kind::Force => (table::N, table::LBF),
            Kind::Pressure => (table::KPA, table::IN_HG),
            Kind::Stress => (table::MPA, table::KSI),
            Kind::Temperature => (table::CELSIUS, table::FAHRENHEIT),
            Kind::TemperatureRise => (table::KELVIN_RISE, table::FAHRENHEIT_RISE),
            Kind::Time => (table::S, table::S),
            Kind::Speed => (table::KM_H, table::MPH),
            Kind::Acceleration => (table::M_S2, table::FT_S2),
            Kind::Area => (table::M2, table::FT2),
            Kind::Density => (table::KG_M3, table::LB_IN3),
            Kind::AirDensity => (table::KG_M3, table::LB_FT3),
            Kind::Power => (table::KW, table::HP),
            Kind::Energy => (table::KJ, table::BTU_IT),
            Kind::SpecificHeat => (table::J_KG_K, table::J_KG_K),
        };
        match self {
            Self::Metric => metric,
            Self::Imperial => imperial,
        }
    }

    /// A value in SI, in the unit that shows it.
    pub fn value(self, si: f64, kind: Kind) -> f64 {
        self.unit(kind).of_si(si)
    }

    /// The number alone, with the decimals its unit is shown with.
    pub fn number(self, si: f64, kind: Kind) -> String {
        let unit = self.unit(kind);
        fixed(unit.of_si(si), unit.decimals)
    }

    /// Number and unit, with the decimals its unit is shown with: `0.3766 kg·m²`.
    pub fn show(self, si: f64, kind: Kind) -> String {
        format!("{} {}", self.number(si, kind), self.unit(kind).symbol)
    }

    /// Number and unit with no more digits than the number needs: `0.25 s`.
    pub fn brief(self, si: f64, kind: Kind) -> String {
        let unit = self.unit(kind);
        format!("{} {}", unrounded_or_short(unit.of_si(si)), unit.symbol)
    }
}

/// A number with this many decimals and never a minus zero.
pub(crate) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.chars().all(|c| matches!(c, '0' | '.')) => digits.to_owned(),
        _ => text,
    }
}

/// A number as somebody may have written it, with six significant digits at most; one that takes
/// more was converted from other units, and is shown with four.
fn unrounded_or_short(value: f64) -> String {
    /// What is left of a written number after it was turned into SI and back, relative.
    const ROUND_OFF: f64 = 1e-12;
    let short = significant(value, BRIEF_DIGITS);
    let written = short.parse::<f64>().unwrap_or(value);
    if (written - value).abs() <= ROUND_OFF * value.abs() {
        short
    } else {
        significant(value, CONVERTED_DIGITS)
    }
}

/// A number with six significant digits at most, and no idle zeros behind the point.
pub(crate) fn plain(value: f64) -> String {
    significant(value, BRIEF_DIGITS)
}

fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return fixed(value, 0);
    }
    let mut decimals = digits.saturating_sub(1);
    let mut size = value.abs();
    while size >= 10.0 && decimals > 0 {
        size /= 10.0;
        decimals -= 1;
    }
    while size < 1.0 && size > 0.0 {
        size *= 10.0;
        decimals += 1;
    }
    let text = fixed(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
