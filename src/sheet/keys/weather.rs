//! Air: of the track, or of the dynamometer's room (`dyno_weather`).

use super::key::{keys, number, quantity};
use crate::car::weather::{SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K};
use crate::units::Kind;

const STANDARD_AIR: &str = "standard atmosphere at sea level, ISO 2533";

keys! {
    // From the highest roads to the deepest high.
    PRESSURE = quantity("pressure", Kind::Pressure)
        .hard(40_000.0, 110_000.0)
        .usual(60_000.0, 106_000.0)
        .or(SEA_LEVEL_PRESSURE_PA, STANDARD_AIR)
        .words("air pressure")
        .how("barometer at the place itself, not brought to sea level; or altitude in its stead")
        .such_as("\"100.8 kPa\"")
        .also_called(&["baro", "barometer", "air_pressure"]);
    // Heights at which the standard atmosphere's lowest layer holds and there is ground.
    ALTITUDE = quantity("altitude", Kind::Distance)
        .hard(-500.0, 6000.0)
        .usual(-430.0, 4000.0)
        .or_none("by `pressure`")
        .words("height above the sea: stands for the standard atmosphere's pressure there")
        .how("map; less good than a barometer")
        .such_as("\"120 m\"")
        .also_called(&["elevation", "height"]);
    // Where the formula for water vapour holds (−45 to 60 °C: WMO-No. 8, from memory).
    TEMPERATURE = quantity("temperature", Kind::Temperature)
        .hard(228.15, 333.15)
        .usual(253.15, 323.15)
        .or(SEA_LEVEL_TEMPERATURE_K, STANDARD_AIR)
        .words("air temperature")
        .how("thermometer in the shade; in the room: at the air filter")
        .such_as("\"22 °C\"")
        .also_called(&["temp", "air_temperature"]);
    HUMIDITY = number("humidity")
        .hard(0.0, 1.0)
        .usual(0.0, 1.0)
        .or(0.0, "dry air")
        .words("relative humidity of the air, as a share")
        .how("hygrometer; 50 % is 0.50")
        .such_as("0.50")
        .also_called(&["relative_humidity", "rh"]);
}
