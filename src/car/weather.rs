//! Air: its density, and the power-correction standards.

use super::checked::{Positive, Share};
use super::constants::ZERO_CELSIUS_K;

/// Gas constant of dry air, J/(kg·K) (ISO 2533, rounded).
const DRY_AIR_GAS_CONSTANT: f64 = 287.05;
/// Gas constant of water vapour, J/(kg·K).
const VAPOUR_GAS_CONSTANT: f64 = 461.5;
/// Sea-level pressure of the standard atmosphere, Pa (ISO 2533:1975).
pub const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;
/// Sea-level temperature of the standard atmosphere, K (ISO 2533:1975).
pub const SEA_LEVEL_TEMPERATURE_K: f64 = 288.15;
/// Fall of temperature with height in the lowest layer, K/m (ISO 2533:1975).
const LAPSE_RATE_K_M: f64 = 0.0065;
/// Exponent of the pressure law in the lowest layer (ISO 2533:1975).
const PRESSURE_EXPONENT: f64 = 5.255_88;

/// The weather at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    pressure_pa: Positive,
    temperature_k: Positive,
    humidity: Share,
}

impl Weather {
    /// Weather from total pressure (Pa), temperature (K) and relative humidity; `None`
    /// where the vapour alone would have more pressure than the whole air.
    pub fn new(pressure_pa: Positive, temperature_k: Positive, humidity: Share) -> Option<Self> {
        let weather = Self {
            pressure_pa,
            temperature_k,
            humidity,
        };
        (weather.dry_pressure_pa() > 0.0).then_some(weather)
    }

    /// Total pressure, Pa.
    pub fn pressure_pa(&self) -> f64 {
        self.pressure_pa.get()
    }

    /// Temperature, K.
    pub fn temperature_k(&self) -> f64 {
        self.temperature_k.get()
    }

    /// Relative humidity, 0 to 1.
    pub fn humidity(&self) -> f64 {
        self.humidity.get()
    }

    fn celsius(&self) -> f64 {
        self.temperature_k.get() - ZERO_CELSIUS_K
    }

    /// Pressure of the water vapour in the air, Pa.
    pub fn vapour_pressure_pa(&self) -> f64 {
        self.humidity.get() * saturation_pressure_pa(self.celsius())
    }

    /// Pressure of the dry air, Pa.
    pub fn dry_pressure_pa(&self) -> f64 {
        self.pressure_pa.get() - self.vapour_pressure_pa()
    }

    /// Density of the moist air, kg/m³: dry air and vapour as ideal gases.
    pub fn density_kg_m3(&self) -> f64 {
        let t = self.temperature_k.get();
        self.dry_pressure_pa() / (DRY_AIR_GAS_CONSTANT * t)
            + self.vapour_pressure_pa() / (VAPOUR_GAS_CONSTANT * t)
    }
}

/// Pressure of saturated water vapour over water, Pa, at a temperature in °C:
/// the Magnus form of WMO-No. 8 (coefficients from memory); within 0.4 % of
/// IAPWS-IF97 from 0 to 40 °C.
pub fn saturation_pressure_pa(celsius: f64) -> f64 {
    611.2 * (17.62 * celsius / (243.12 + celsius)).exp()
}

/// Pressure at a geopotential height in m, Pa: ISO 2533:1975, lowest layer
/// (valid from −2,000 to 11,000 m).
pub fn standard_pressure_pa(height_m: f64) -> f64 {
    SEA_LEVEL_PRESSURE_PA
        * (1.0 - LAPSE_RATE_K_M * height_m / SEA_LEVEL_TEMPERATURE_K).powf(PRESSURE_EXPONENT)
}

/// A standard by which a torque curve is brought to reference conditions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// SAE J1349 as issued June 1990: dry 99 kPa, 25 °C.
    SaeJ1349,
    /// ISO 1585, spark ignition, naturally aspirated: dry 99 kPa, 25 °C.
    Iso1585,
    /// DIN 70020: 1013 hPa total, 20 °C.
    Din70020,
}

impl Standard {
    /// Every standard.
    pub const ALL: [Self; 3] = [Self::SaeJ1349, Self::Iso1585, Self::Din70020];

    /// The name a sheet uses.
    pub const fn name(self) -> &'static str {
        match self {
            Self::SaeJ1349 => "SAE J1349",
            Self::Iso1585 => "ISO 1585",
            Self::Din70020 => "DIN 70020",
        }
    }

    /// The factor that brings torque observed in this weather to the standard's
    /// reference conditions; 1 at those conditions. Temperatures enter as the
    /// standards print them, with 273 and 298 (or 293).
    pub fn correction_factor(self, weather: &Weather) -> f64 {
        /// The standards' rounded zero of the Celsius scale, K.
        const PRINTED_ZERO_K: f64 = 273.0;
        let t = weather.celsius() + PRINTED_ZERO_K;
        match self {
            Self::SaeJ1349 => {
                1.180 * (99_000.0 / weather.dry_pressure_pa()) * (t / 298.0).sqrt() - 0.180
            }
            Self::Iso1585 => {
                (99_000.0 / weather.dry_pressure_pa()).powf(1.2) * (t / 298.0).powf(0.6)
            }
            Self::Din70020 => (101_300.0 / weather.pressure_pa()) * (t / 293.0).sqrt(),
        }
    }
}

/// What a torque curve was stated for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedFor {
    /// Corrected to a standard's reference conditions.
    Standard(Standard),
    /// As measured, in this weather.
    AsMeasured(Weather),
}

impl StatedFor {
    /// The factor that carries the curve's torque to the track's weather:
    /// `CF(stated)/CF(track)`; a curve as measured is carried by SAE J1349.
    pub fn weather_factor(&self, track: &Weather) -> f64 {
        match self {
            Self::Standard(standard) => 1.0 / standard.correction_factor(track),
            Self::AsMeasured(dyno) => {
                Standard::SaeJ1349.correction_factor(dyno)
                    / Standard::SaeJ1349.correction_factor(track)
            }
        }
    }
}

#[cfg(test)]
#[path = "weather_tests.rs"]
mod tests;
