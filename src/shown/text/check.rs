//! What was understood of a sheet.

use super::doubts::doubts;
use super::table::Figures;
use super::wrapped;
use crate::car::Car;
use crate::car::body::{Axle, Drive};
use crate::sheet::Reading;
use crate::units::{Kind, System};
use std::fmt::Write as _;

/// What was understood, every default, every warning.
pub fn check(reading: &Reading, system: System) -> String {
    let mut text = format!("{}\n\n", reading.car.title);
    text.push_str(&understood(reading, system));
    text.push('\n');
    text.push_str(&wheels(reading, system));
    text.push('\n');
    text.push_str(&defaults(reading, system));
    text.push_str(&doubts(reading, system));
    if reading.warnings.is_empty() {
        text.push_str("No warnings: nothing in the sheet looks out of the usual.\n");
    } else {
        text.push_str("Warnings, worth a second look:\n");
        for placed in &reading.warnings {
            let place = placed.place.as_ref().and_then(|place| place.line);
            let line = place.map_or(String::new(), |line| format!("line {line}: "));
            let _ = write!(text, "- {line}{}", wrapped(&placed.warning.text(system)));
        }
    }
    text
}

fn understood(reading: &Reading, system: System) -> String {
    let mut table = Figures::new("Understood", &[""]);
    engine_and_clutch(&mut table, &reading.car, system);
    car_on_the_line(&mut table, &reading.car, system);
    launches_and_air(&mut table, &reading.car, system);
    table.text()
}

fn engine_and_clutch(table: &mut Figures, car: &Car, system: System) {
    let engine = &car.engine;
    let show = |si: f64, kind: Kind| system.show(si, kind);
    table.one(
        "Engine's peak torque, as stated",
        show(engine.curve.peak_nm(), Kind::Torque),
    );
    let factor = engine.stated_for.weather_factor(&car.track.weather);
    table.one("Weather's factor on it", format!("{factor:.4}"));
    table.one(
        "Limiter",
        show(engine.limiter_rad_s.get(), Kind::AngularSpeed),
    );
    table.one(
        "Stall speed",
        show(engine.stall_rad_s.get(), Kind::AngularSpeed),
    );
    table.one(
        "Crank side without flywheel",
        show(car.crank_without_flywheel_kg_m2(), Kind::Inertia),
    );
    table.one(
        "Clutch capacity",
        show(car.clutch.capacity.capacity_nm(), Kind::Torque),
    );
    table.one(
        "Clutch home after",
        show(car.clutch.release.last_corner_s(), Kind::Time),
    );
}

fn car_on_the_line(table: &mut Figures, car: &Car, system: System) {
    let show = |si: f64, kind: Kind| system.show(si, kind);
    let ratios = car.driveline.ratios.iter().map(|ratio| format!("{ratio}"));
    table.one("Gears", ratios.collect::<Vec<_>>().join("  "));
    table.one(
        "Final drive",
        format!("{}", car.driveline.final_drive.get()),
    );
    table.one(
        "Shift at",
        show(car.driveline.shift.at_rad_s.get(), Kind::AngularSpeed),
    );
    table.one("Car on the line", show(car.body.mass_kg.get(), Kind::Mass));
    let drive = match car.body.drive {
        Drive::Front => "front wheels",
        Drive::Rear(Axle::Even) => "rear wheels, both alike",
        Drive::Rear(Axle::LiveOpen { .. }) => "rear wheels, live axle with open differential",
    };
    table.one("Driven", drive.to_owned());
    table.one("Tyre radius", show(car.tyre.radius_m.get(), Kind::Length));
    let grip = car.tyre.grip.get() * car.track.grip.get();
    table.one("Tyre grip, times track", format!("{grip:.3}"));
}

fn launches_and_air(table: &mut Figures, car: &Car, system: System) {
    let show = |si: f64, kind: Kind| system.show(si, kind);
    let range = &car.driver.launch_range;
    table.one(
        "Launch speeds looked at",
        format!(
            "{} to {}",
            system.number(range.low_rad_s(), Kind::AngularSpeed),
            show(range.high_rad_s(), Kind::AngularSpeed)
        ),
    );
    let scatter_rad_s = car.driver.unsteadiness.launch_sd_rad_s.get();
    table.one(
        "Driver's launch speed scatters by",
        show(scatter_rad_s, Kind::AngularSpeed),
    );
    table.one(
        "Air density",
        show(car.track.weather.density_kg_m3(), Kind::AirDensity),
    );
}

fn wheels(reading: &Reading, system: System) -> String {
    let car = &reading.car;
    let mut table = Figures::new("Flywheels", &["mass", "inertia", "crank side"]);
    for wheel in car.flywheels.all() {
        let fitted = if car.flywheels.is_fitted(wheel) {
            " (fitted now)"
        } else {
            ""
        };
        table.row(
            &format!("{}{fitted}", wheel.name()),
            [
                wheel
                    .part
                    .mass_kg()
                    .map_or("not told".into(), |kg| system.show(kg, Kind::Mass)),
                system.show(wheel.part.inertia_kg_m2(), Kind::Inertia),
                system.show(car.crank_side_inertia_kg_m2(wheel), Kind::Inertia),
            ],
        );
    }
    table.text()
}

/// Every default that was used, one a line; nothing if the sheet was silent about nothing.
fn defaults(reading: &Reading, system: System) -> String {
    if reading.defaults.is_empty() {
        return String::new();
    }
    let mut text = String::from("Taken because the sheet is silent:\n");
    for default in &reading.defaults {
        let _ = writeln!(
            text,
            "- {} = {} ({})",
            default.key,
            default.shown(system),
            default.reason
        );
    }
    text.push('\n');
    text
}
