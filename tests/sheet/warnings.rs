//! What is no error but worth a second look.

use crate::{accepted, edited};
use flyheft::sheet::Warning;
use flyheft::units::System;

/// Asserts that the starter sheet with one piece replaced is warned of once, in these words.
fn placed(from: &str, to: &str, said: &[&str]) {
    let warnings = accepted(&[(from, to)]).warnings;
    let [placed] = warnings.as_slice() else {
        panic!("one warning expected for {to}: {warnings:#?}")
    };
    let text = placed.to_string();
    for piece in said {
        assert!(text.contains(piece), "{piece:?} not in {text}");
    }
    assert!(placed.place.is_some());
}

#[test]
fn law_the_unusual_is_told_with_what_was_read_and_what_is_usual() {
    for (from, to, said) in [
        (
            "final = 3.9",
            "final = 41",
            "gearbox.final: 41 was read; usual is 2.5 to 6.5 (final-drive ratio)",
        ),
        (
            "\"2.46 m\"",
            "\"24 m\"",
            "car.wheelbase: 24 m was read; usual is 1.5 m to 4.5 m (wheelbase)",
        ),
        ("\"0.50 m\"", "\"1.2 m\"", "car.cg_height: 1.2 m"),
        ("\"1120 kg\"", "\"112 kg\"", "car.mass: 112 kg was read"),
        (
            "\"1120 kg\"",
            "\"11200 kg\"",
            "usual is 300 kg to 3000 kg (mass on the line, driver in)",
        ),
        (
            "\"1.9 kg·m²\"",
            "\"19 kg·m²\"",
            "car.driven_wheels_inertia: 19 kg·m²",
        ),
        (
            "\"0.302 m\"",
            "\"0.604 m\"",
            "tyre.radius: 604 mm was read; usual is 200 mm to 450 mm (rolling radius of the driven tyres)",
        ),
        ("grip = 1.30", "grip = 4.2", "tyre.grip: 4.2"),
        (
            "sliding_share = 0.80",
            "sliding_share = 0.5",
            "tyre.sliding_share: 0.5 was read; usual is 0.6 to 0.95 (share of grip left",
        ),
        (
            "sliding_share = 0.80",
            "sliding_share = 0.97",
            "tyre.sliding_share: 0.97",
        ),
        (
            "\"0.28 s\"",
            "\"2.8 s\"",
            "clutch.release_time: 2.8 s was read; usual is 0.02 s to 2 s",
        ),
        ("[3.32,", "[8.32,", "gearbox.ratios: 8.32"),
        (
            "\"0.0062 kg·m²\"",
            "\"0.62 kg·m²\"",
            "clutch.disc_inertia: 0.62 kg·m²",
        ),
        ("\"220 rpm\"", "\"2200 rpm\"", "driver.launch_sd: 2200 rpm"),
        (
            "humidity = 0.50\n",
            "humidity = 0.50\ngrip = 13\n",
            "track.grip: 13",
        ),
        ("\"0.66 m²\"", "\"6.6 m²\"", "car.drag_area: 6.6 m²"),
    ] {
        placed(from, to, &[said, ".toml:"]);
    }
}

#[test]
fn law_the_engine_clutch_and_driver_are_held_against_each_other() {
    placed(
        "\"330 N·m\"",
        "\"200 N·m\"",
        &["holds 220 N·m, less than the engine's peak of 246 N·m in this weather"],
    );
    placed(
        "\"6900 rpm\"",
        "\"7150 rpm\"",
        &["the shift is called at 7150 rpm", "the limiter (7200 rpm)"],
    );
    placed(
        "\"1800 rpm\", ",
        "\"600 rpm\", ",
        &["begin at 600 rpm, close to the stall speed of 500 rpm"],
    );
    let curve = "speed_rpm,power_hp\n1000,700\n2000,1400\n4000,2700\n7300,3900\n";
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("torque.csv"), curve).unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, edited(&[("\"330 N·m\"", "\"6000 N·m\"")])).unwrap();
    let warnings = flyheft::sheet::read(&path).unwrap().warnings;
    assert!(
        warnings[0]
            .to_string()
            .contains("usual is 20 N·m to 3000 N·m (file with the torque curve; its peak torque)")
    );
}

#[test]
fn law_flywheels_beyond_the_usual_are_warned_of() {
    placed(
        "weighed = \"7.25 kg\"",
        "weighed = \"7.6 kg\"",
        &[
            "as supplied: the scales say 7.60 kg, the drawing 7.19 kg (+5.8 %)",
            "The scales are believed",
        ],
    );
    placed(
        "# metal comes off, never on\nmaterial = \"steel\"",
        "# metal comes off, never on\nmaterial = \"grey iron\"",
        &[
            "machined: grey iron is brittle",
            "never lighten a cast-iron wheel",
            "kills",
        ],
    );
    placed(
        "mass = \"4.9 kg\"",
        "mass = \"1.9 kg\"",
        &[
            "flywheel \"aluminium, from a swing test\", mass: 1.9 kg was read",
            "usual is 2 kg to 30 kg",
        ],
    );
    let given = "swing = { cords = 3, radius = \"120 mm\", length = \"1.60 m\", mass = \"4.9 kg\", period = \"2.105 s\", platform_mass = \"1.2 kg\", platform_period = \"2.243 s\" }";
    placed(
        given,
        "inertia = \"4.8 kg·m²\"",
        &["inertia: 4.8 kg·m² was read; usual is 0.01 kg·m² to 1.5 kg·m² (inertia of a flywheel)"],
    );
}

#[test]
fn law_sections_and_holes_that_do_not_fit_are_warned_of() {
    let web = "{ inner = \"120 mm\", outer = \"210 mm\", thickness_inner";
    placed(
        web,
        "{ inner = \"110 mm\", outer = \"210 mm\", thickness_inner",
        &["both claim the metal between diameters 110.0 mm and 120.0 mm"],
    );
    placed(
        web,
        "{ inner = \"130 mm\", outer = \"210 mm\", thickness_inner",
        &["no section has metal between diameters 120.0 mm and 130.0 mm"],
    );
    placed(
        "circle = \"165 mm\", depth = \"9 mm\"",
        "circle = \"165 mm\", depth = \"12 mm\"",
        &["holes 12.0 mm deep in metal that is 9.5 mm thick"],
    );
    placed(
        "circle = \"165 mm\"",
        "circle = \"265 mm\"",
        &["holes reach from diameter 241.0 mm to 289.0 mm, beyond the metal"],
    );
}

#[test]
fn law_keys_that_do_nothing_are_told() {
    let weather = "dyno_weather = { pressure = \"98.2 kPa\", temperature = \"24 °C\", humidity = 0.45 }\nlimiter = ";
    placed(
        "limiter = ",
        weather,
        &["engine.dyno_weather does nothing in this sheet"],
    );
    placed(
        "plate_mass = \"4.6 kg\"",
        "plate_specific_heat = \"490 J/(kg·K)\"",
        &["plate_specific_heat does nothing", "needs plate_mass"],
    );
}

#[test]
fn law_doubts_speak_the_units_asked_for() {
    let warnings = accepted(&[("\"2.46 m\"", "\"24 m\"")]).warnings;
    let text = warnings[0].warning.text(System::Imperial);
    assert!(
        text.contains("78.74 ft was read") && text.contains("4.921 ft to 14.76 ft"),
        "{text}"
    );
    assert!(matches!(warnings[0].warning, Warning::Unusual { .. }));
}
