//! The table of units.
//!
//! Factors: NIST SP 811 (2008), appendix B, from memory; those of the pound, the foot, the
//! kilogram-force, the degree Fahrenheit and what is built of them are exact by definition,
//! and are built here rather than copied. The inch of mercury is the conventional one.

use super::Kind;
use crate::car::constants::{
    FOOT_M, RAD_S_PER_RPM, STANDARD_GRAVITY_M_S2 as GRAVITY, ZERO_CELSIUS_K,
};

/// One unit: `SI = value · factor + offset`.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub kind: Kind,
    /// How it is shown.
    pub symbol: &'static str,
    /// How else it is spelt, without spaces, dots, crosses, hyphens, brackets or carets, and
    /// with plain digits for raised ones; the symbol itself is always read.
    pub(super) spellings: &'static [&'static str],
    /// SI units in one of it.
    pub(super) factor: f64,
    /// SI value at its zero; not 0 for °C and °F alone.
    pub(super) offset: f64,
    /// Decimals that a table of results shows.
    pub(super) decimals: usize,
}

impl Unit {
    const fn new(kind: Kind, symbol: &'static str, factor: f64, decimals: usize) -> Self {
        Self {
            kind,
            symbol,
            spellings: &[],
            factor,
            offset: 0.0,
            decimals,
        }
    }

    const fn also(mut self, spellings: &'static [&'static str]) -> Self {
        self.spellings = spellings;
        self
    }

    const fn from(mut self, offset: f64) -> Self {
        self.offset = offset;
        self
    }

    /// A value in this unit, in SI.
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// A value in SI, in this unit.
    pub fn of_si(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }
}

/// One pound in kilograms (exact by definition).
const POUND: f64 = 0.453_592_37;
/// One inch in metres (exact by definition).
const INCH: f64 = FOOT_M / 12.0;
/// One pound-force in newtons (exact by definition).
const POUND_FORCE: f64 = POUND * GRAVITY;
/// One degree Fahrenheit in kelvins (exact by definition).
const FAHRENHEIT_STEP: f64 = 5.0 / 9.0;
/// Absolute zero below the Fahrenheit zero, °F (exact by definition).
const FAHRENHEIT_ZERO: f64 = 459.67;
/// Conventional inch of mercury, Pa (NIST SP 811).
const INCH_OF_MERCURY: f64 = 3386.389;
/// British thermal unit of the International Table, J (NIST SP 811).
const BTU: f64 = 1_055.055_852_62;

macro_rules! units {
    ($($name:ident = $unit:expr;)*) => {
        $(pub(crate) const $name: &Unit = &$unit;)*
        /// Every unit; within a kind, the ones most used come first.
        pub const UNITS: &[&Unit] = &[$($name),*];
    };
}

units! {
    KG = Unit::new(Kind::Mass, "kg", 1.0, 2);
    G = Unit::new(Kind::Mass, "g", 1e-3, 0);
    LB = Unit::new(Kind::Mass, "lb", POUND, 2).also(&["lbs", "lbm"]);
    OZ = Unit::new(Kind::Mass, "oz", POUND / 16.0, 2);

    M = Unit::new(Kind::Length, "m", 1.0, 2);
    MM = Unit::new(Kind::Length, "mm", 1e-3, 1);
    CM = Unit::new(Kind::Length, "cm", 1e-2, 2);
    IN = Unit::new(Kind::Length, "in", INCH, 3).also(&["inches", "inch", "\"", "″", "''"]);
    FT = Unit::new(Kind::Length, "ft", FOOT_M, 1).also(&["foot", "feet", "'", "′"]);
    THOU = Unit::new(Kind::Length, "thou", INCH / 1000.0, 0);

    RPM = Unit::new(Kind::AngularSpeed, "rpm", RAD_S_PER_RPM, 0).also(&["min1", "r/min", "rev/min"]);
    RAD_S = Unit::new(Kind::AngularSpeed, "rad/s", 1.0, 1);
    RPM_S = Unit::new(Kind::SweepRate, "rpm/s", RAD_S_PER_RPM, 0);

    NM = Unit::new(Kind::Torque, "N·m", 1.0, 0);
    KGF_M = Unit::new(Kind::Torque, "kgf·m", GRAVITY, 1);
    LBF_FT = Unit::new(Kind::Torque, "lbf·ft", POUND_FORCE * FOOT_M, 0).also(&["lbft", "ftlb", "ftlbf", "lbsft", "ftlbs"]);

    KG_M2 = Unit::new(Kind::Inertia, "kg·m²", 1.0, 4);
    G_M2 = Unit::new(Kind::Inertia, "g·m²", 1e-3, 1);
    KG_CM2 = Unit::new(Kind::Inertia, "kg·cm²", 1e-4, 0);
    KG_MM2 = Unit::new(Kind::Inertia, "kg·mm²", 1e-6, 0);
    LB_FT2 = Unit::new(Kind::Inertia, "lb·ft²", POUND * FOOT_M * FOOT_M, 3);
    LB_IN2 = Unit::new(Kind::Inertia, "lb·in²", POUND * INCH * INCH, 0);

    N = Unit::new(Kind::Force, "N", 1.0, 0);
    KN = Unit::new(Kind::Force, "kN", 1e3, 2);
    LBF = Unit::new(Kind::Force, "lbf", POUND_FORCE, 0);
    KGF = Unit::new(Kind::Force, "kgf", GRAVITY, 0);

    KPA = Unit::new(Kind::Pressure, "kPa", 1e3, 2);
    HPA = Unit::new(Kind::Pressure, "hPa", 1e2, 1);
    MBAR = Unit::new(Kind::Pressure, "mbar", 1e2, 1);
    BAR = Unit::new(Kind::Pressure, "bar", 1e5, 4);
    PSI = Unit::new(Kind::Pressure, "psi", POUND_FORCE / (INCH * INCH), 2).also(&["lbf/in2"]);
    IN_HG = Unit::new(Kind::Pressure, "inHg", INCH_OF_MERCURY, 2);
    PA = Unit::new(Kind::Pressure, "Pa", 1.0, 0);
    MPA = Unit::new(Kind::Pressure, "MPa", 1e6, 0).also(&["N/mm2"]);
    KSI = Unit::new(Kind::Pressure, "ksi", 1e3 * POUND_FORCE / (INCH * INCH), 1);

    CELSIUS = Unit::new(Kind::Temperature, "°C", 1.0, 1).from(ZERO_CELSIUS_K).also(&["C", "degC"]);
    FAHRENHEIT = Unit::new(Kind::Temperature, "°F", FAHRENHEIT_STEP, 1).from(FAHRENHEIT_ZERO * FAHRENHEIT_STEP).also(&["F", "degF"]);
    KELVIN = Unit::new(Kind::Temperature, "K", 1.0, 1);
    KELVIN_RISE = Unit::new(Kind::TemperatureRise, "K", 1.0, 0);
    FAHRENHEIT_RISE = Unit::new(Kind::TemperatureRise, "°F", FAHRENHEIT_STEP, 0).also(&["F"]);

    S = Unit::new(Kind::Time, "s", 1.0, 3).also(&["sec"]);
    MS = Unit::new(Kind::Time, "ms", 1e-3, 0);
    MIN = Unit::new(Kind::Time, "min", 60.0, 1);

    KM_H = Unit::new(Kind::Speed, "km/h", 1.0 / 3.6, 1).also(&["kph", "kmh"]);
    MPH = Unit::new(Kind::Speed, "mph", FOOT_M * 5280.0 / 3600.0, 1);
    M_S = Unit::new(Kind::Speed, "m/s", 1.0, 2);
    M_S2 = Unit::new(Kind::Acceleration, "m/s²", 1.0, 2);
    FT_S2 = Unit::new(Kind::Acceleration, "ft/s²", FOOT_M, 1);

    M2 = Unit::new(Kind::Area, "m²", 1.0, 3);
    CM2 = Unit::new(Kind::Area, "cm²", 1e-4, 0);
    FT2 = Unit::new(Kind::Area, "ft²", FOOT_M * FOOT_M, 2);

    KG_M3 = Unit::new(Kind::Density, "kg/m³", 1.0, 3);
    G_CM3 = Unit::new(Kind::Density, "g/cm³", 1e3, 2);
    LB_FT3 = Unit::new(Kind::Density, "lb/ft³", POUND / (FOOT_M * FOOT_M * FOOT_M), 4);
    LB_IN3 = Unit::new(Kind::Density, "lb/in³", POUND / (INCH * INCH * INCH), 3);

    KW = Unit::new(Kind::Power, "kW", 1e3, 1);
    PS = Unit::new(Kind::Power, "PS", 75.0 * GRAVITY, 1);
    HP = Unit::new(Kind::Power, "hp", 550.0 * POUND_FORCE * FOOT_M, 1);

    KJ = Unit::new(Kind::Energy, "kJ", 1e3, 1);
    J = Unit::new(Kind::Energy, "J", 1.0, 0);
    BTU_IT = Unit::new(Kind::Energy, "Btu", BTU, 1);

    J_KG_K = Unit::new(Kind::SpecificHeat, "J/(kg·K)", 1.0, 0).also(&["J/kg/K"]);
}
