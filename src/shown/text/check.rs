//! What was understood of a sheet.

use super::doubts::doubts;
use super::table::Figures;
use super::wrapped;
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
    let car = &reading.car;
    let engine = &car.engine;
    let show = |si: f64, kind: Kind| system.show(si, kind);
    let ratios: Vec<String> = car
        .driveline
        .ratios
        .iter()
        .map(|r| format!("{r}"))
        .collect();
    let drive = match car.body.drive {
        Drive::Front => "front wheels",
        Drive::Rear(Axle::Even) => "rear wheels, both alike",
        Drive::Rear(Axle::LiveOpen { .. }) => "rear wheels, live axle with open differential",
    };
    let mut table = Figures::new("Understood", &[""]);
    let mut row = |label: &str, value: String| table.row(label, [value]);
    row(
        "Engine's peak torque, as stated",
        show(engine.curve.peak_nm(), Kind::Torque),
    );
    row(
        "Weather's factor on it",
        format!(
            "{:.4}",
            engine.stated_for.weather_factor(&car.track.weather)
        ),
    );
    row(
        "Limiter",
        show(engine.limiter_rad_s.get(), Kind::AngularSpeed),
    );
    row(
        "Stall speed",
        show(engine.stall_rad_s.get(), Kind::AngularSpeed),
    );
    row(
        "Crank side without flywheel",
        show(car.crank_without_flywheel_kg_m2(), Kind::Inertia),
    );
    row(
        "Clutch capacity",
        show(car.clutch.capacity.capacity_nm(), Kind::Torque),
    );
    row(
        "Clutch home after",
        show(car.clutch.release.last_corner_s(), Kind::Time),
    );
    row("Gears", ratios.join("  "));
    row(
        "Final drive",
        format!("{}", car.driveline.final_drive.get()),
    );
    row(
        "Shift at",
        show(car.driveline.shift.at_rad_s.get(), Kind::AngularSpeed),
    );
    row("Car on the line", show(car.body.mass_kg.get(), Kind::Mass));
    row("Driven", drive.to_owned());
    row("Tyre radius", show(car.tyre.radius_m.get(), Kind::Length));
    row(
        "Tyre grip, times track",
        format!("{:.3}", car.tyre.grip.get() * car.track.grip.get()),
    );
    row(
        "Launch speeds looked at",
        format!(
            "{} to {}",
            system.number(car.driver.launch_range.low_rad_s(), Kind::AngularSpeed),
            show(car.driver.launch_range.high_rad_s(), Kind::AngularSpeed)
        ),
    );
    row(
        "Driver's launch speed scatters by",
        show(
            car.driver.unsteadiness.launch_sd_rad_s.get(),
            Kind::AngularSpeed,
        ),
    );
    row(
        "Air density",
        show(car.track.weather.density_kg_m3(), Kind::AirDensity),
    );
    table.text()
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

/// How many values were taken because the sheet is silent, in one line; nothing if none was.
pub(super) fn assumed(reading: &Reading) -> String {
    match reading.defaults.len() {
        0 => String::new(),
        1 => "Assumed: 1 value that the sheet does not give. `flyheft check` names it, with its reason.\n\n".into(),
        count => format!(
            "Assumed: {count} values that the sheet does not give. `flyheft check` lists them, each with its reason.\n\n"
        ),
    }
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
