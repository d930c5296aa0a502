//! Pressure, temperature and humidity, of the track or of a dynamometer's room.

use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::value::{Amount, Found};
use crate::car::checked::{Positive, Share};
use crate::car::weather::{
    SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K, Weather, standard_pressure_pa,
};
use crate::units::Kind;
use std::ops::RangeInclusive;

/// Temperatures at which the formula for water vapour holds, K (−45 to 60 °C: WMO-No. 8,
/// from memory).
const TEMPERATURES_K: RangeInclusive<f64> = 228.15..=333.15;
/// Air pressures on the ground, Pa: from the highest roads to the deepest high.
const PRESSURES_PA: RangeInclusive<f64> = 40_000.0..=110_000.0;
/// Heights at which the standard atmosphere's lowest layer holds and there is ground, m.
const HEIGHTS_M: RangeInclusive<f64> = -500.0..=6000.0;

const STANDARD_AIR: &str = "standard atmosphere at sea level, ISO 2533";

/// The weather at a place: what is not given is the standard atmosphere, dry.
pub(super) fn read(t: &TableReader<'_>) -> Option<Weather> {
    let pressure = t.quantity::<Positive>("pressure", Kind::Pressure).within(
        PRESSURES_PA,
        "the pressure at the place itself, not brought to sea level",
    );
    let altitude = t
        .quantity::<f64>("altitude", Kind::Distance)
        .within(HEIGHTS_M, "");
    let temperature = t
        .quantity::<Positive>("temperature", Kind::Temperature)
        .within(TEMPERATURES_K, "")
        .or(SEA_LEVEL_TEMPERATURE_K, STANDARD_AIR);
    let humidity = t.number::<Share>("humidity").or(0.0, "dry air");
    if !pressure.is_absent() && !altitude.is_absent() {
        t.diagnostics.problem(
            Problem::new(
                t.key_place("altitude"),
                "pressure and altitude are both given",
            )
            .label("one of the two is enough")
            .also(t.key_place("pressure"), "the other")
            .help("keep the pressure read on the day, if there is one"),
        );
        return None;
    }
    let pressure = if altitude.is_absent() {
        pressure.or(SEA_LEVEL_PRESSURE_PA, STANDARD_AIR)
    } else {
        let found = altitude.given()?;
        let pressure = Positive::new(standard_pressure_pa(found.value))?;
        Some(found.map(|_| pressure))
    };
    weather(t, &t.header, pressure, temperature, humidity)
}

fn weather(
    t: &TableReader<'_>,
    place: &Place,
    pressure: Option<Found<Positive>>,
    temperature: Option<Found<Positive>>,
    humidity: Option<Found<Share>>,
) -> Option<Weather> {
    let (pressure, temperature) = (pressure?, temperature?);
    let weather = Weather::new(pressure.value, temperature.value, humidity?.value);
    if weather.is_none() {
        let kelvin = Amount::of(temperature.value.get(), Some(Kind::Temperature));
        t.diagnostics.problem(
            Problem::new(
                place.clone(),
                format!(
                    "at {} the water vapour alone would have more pressure than the air",
                    kelvin.shown(crate::units::System::Metric)
                ),
            )
            .help("look at pressure, temperature and humidity again"),
        );
    }
    weather
}
