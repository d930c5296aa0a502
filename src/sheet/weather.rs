//! Pressure, temperature and humidity, of the track or of a dynamometer's room.

use super::keys::weather as key;
use super::problem::{Place, Problem};
use super::table_reader::TableReader;
use super::value::{Amount, Found};
use crate::car::checked::{Positive, Share};
use crate::car::weather::{Weather, standard_pressure_pa};
use crate::units::Kind;

/// The weather at a place: what is not given is the standard atmosphere, dry.
pub(super) fn read(t: &TableReader<'_>) -> Option<Weather> {
    let pressure = t.measure::<Positive>(key::PRESSURE);
    let altitude = t.measure::<f64>(key::ALTITUDE);
    let temperature = t.measure::<Positive>(key::TEMPERATURE).or_default();
    let humidity = t.measure::<Share>(key::HUMIDITY).or_default();
    if !pressure.is_absent() && !altitude.is_absent() {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(key::ALTITUDE),
                "pressure and altitude are both given",
            )
            .label("one of the two is enough")
            .also(t.key_place(key::PRESSURE), "the other")
            .help("keep the pressure read on the day, if there is one"),
        );
        return None;
    }
    let pressure = if altitude.is_absent() {
        pressure.or_default()
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
