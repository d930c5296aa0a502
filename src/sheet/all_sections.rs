//! A car, read section by section.

use super::diagnostics::Diagnostics;
use super::keys::season::fitted::DRAWS;
use super::keys::sheet as key;
use super::problem::Place;
use super::sections::Sections;
use super::table_reader::{TableReader, Text};
use super::unknown::Known;
use super::value::{Amount, Found};
use super::warnings::Warning;
use super::{
    car_body, clutch, driveline, driver, engine, fitted, flywheels, meetings, other_track, parts,
    season, track, tyre,
};
use crate::car::Car;
use crate::car::track::Track;
use crate::units::upsets_a_screen;
use std::path::Path;
use toml::de::DeTable;

pub(super) fn read_car(
    diagnostics: &Diagnostics,
    table: &DeTable<'_>,
    text: Text<'_>,
    path: &Path,
    other_track: Option<Text<'_>>,
) -> Option<Car> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut sheet = Sections::new(diagnostics, table, text);
    let title = title(&sheet.top, path);
    diagnostics.look_ahead(Known::of(table));
    let engine = sheet.read(key::ENGINE, |t| engine::read(t, folder));
    let crank_side = parts::read_crank_side(sheet.entries(key::CRANK_SIDE));
    let wheels = flywheels::read(sheet.entries(key::FLYWHEEL));
    let clutch = sheet.read(key::CLUTCH, clutch::read);
    let driveline = sheet.read(key::GEARBOX, |t| {
        driveline::read(t, engine.limiter.as_ref())
    });
    let body = sheet.read(key::CAR, car_body::read);
    let tyre = sheet.read(key::TYRE, tyre::read);
    let driver = sheet.read(key::DRIVER, |t| {
        driver::read(t, &engine, wheels.as_ref(), folder)
    });
    let track = read_track(&sheet, other_track);
    let meetings = meetings::read(diagnostics, sheet.entries_if_any(key::MEETING));
    let season = sheet.read_if_there(key::SEASON, season::read);
    sheet.read_if_there(key::FITTED, |t| read_fitted(t, folder));
    sheet.finish();

    let clutch_place = clutch.as_ref().map(|clutch| clutch.place.clone());
    let car = Car {
        title: title?.value,
        engine: engine.engine?,
        crank_side: crank_side?,
        flywheels: wheels?,
        clutch: clutch?.value,
        driveline: driveline?,
        body: body?,
        tyre: tyre?,
        driver: driver?,
        track: track?,
        meetings: meetings?,
        season: season?,
    };
    check_clutch(diagnostics, &car, clutch_place.as_ref());
    Some(car)
}

/// The title, or the file's own name.
fn title(top: &TableReader<'_>, path: &Path) -> Option<Found<String>> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let stem = stem.replace(upsets_a_screen, "\u{fffd}");
    top.words(key::TITLE)
        .or_value(stem.clone(), Amount::Word(stem))
}

/// The sheet's own track, or that of another file in its place.
fn read_track(sheet: &Sections<'_>, other: Option<Text<'_>>) -> Option<Track> {
    let Some(other) = other else {
        return sheet.read_if_there(key::TRACK, track::read);
    };
    // Asked for, and left aside.
    sheet.section(key::TRACK);
    other_track::read(sheet.top.diagnostics, other)
}

/// What a fit has learnt stands in place of the doubts that the sheet has of the same values.
fn read_fitted(t: &TableReader<'_>, folder: &Path) {
    if t.diagnostics.is_drawn() {
        t.has(DRAWS);
    } else if let Some(fitted) = fitted::read(t, folder, &t.diagnostics.doubts()) {
        t.diagnostics.fitted(fitted);
    }
}

fn check_clutch(diagnostics: &Diagnostics, car: &Car, place: Option<&Place>) {
    let static_capacity_nm = car.clutch.static_ratio.get() * car.clutch.capacity.capacity_nm();
    let weather_factor = car.engine.stated_for.weather_factor(&car.track.weather);
    let peak_torque_nm = weather_factor * car.engine.curve.peak_nm();
    if static_capacity_nm < peak_torque_nm {
        let warning = Warning::ClutchUnderEngine {
            static_capacity_nm,
            peak_torque_nm,
        };
        diagnostics.warning(warning, place);
    }
}
