//! Constants of nature and of definition that several stages need.

/// Standard acceleration of free fall, m/s² (ISO 80000-3; exact by definition).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

/// Radians a second in one revolution a minute.
pub const RAD_S_PER_RPM: f64 = std::f64::consts::PI / 30.0;

/// Zero of the Celsius scale, K (exact by definition).
pub const ZERO_CELSIUS_K: f64 = 273.15;

/// One foot in metres (international foot, exact by definition).
pub const FOOT_M: f64 = 0.3048;
