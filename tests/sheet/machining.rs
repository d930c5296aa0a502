//! Machining, the shop's rules, and how well a swing test was measured.

use crate::{accepted, refused};
use flyheft::car::inertia::Description;
use flyheft::car::machining::{BoltCircles, Face, HoleDepth, Pass};

const FITTED: &str = "fitted = true                     # this one";

#[test]
fn law_passes_are_read_in_order_in_si() {
    let cut = "cut = [ { kind = \"face\", inner = \"9.25 in\", outer = \"260 mm\", depth = \"80 thou\", face = \"clutch\" },\n\
        { kind = \"holes\", count = 6, diameter = \"9 mm\", circle = \"165 mm\" } ]\n\
        shop = { least_web = \"5 mm\", bolt_circles = \"may be faced\", clutch_face = { inner = \"150 mm\", outer = \"228 mm\" } }\n";
    let reading = accepted(&[(FITTED, &format!("{cut}{FITTED}"))]);
    let wheel = reading.car.flywheels.fitted().unwrap();
    let [
        Pass::FaceBand {
            band,
            depth_m,
            face,
        },
        Pass::Drill { depth, count, .. },
    ] = wheel.machining.passes[..]
    else {
        panic!("a face and holes")
    };
    assert!((band.inner_radius_m() - 0.117_475).abs() < 1e-12);
    assert!((depth_m.get() - 0.002_032).abs() < 1e-12);
    assert_eq!(
        (face, depth, count.get()),
        (Face::Clutch, HoleDepth::Through, 6)
    );
    let shop = wheel.machining.shop.unwrap();
    assert_eq!(shop.bolt_circles, BoltCircles::MayBeFaced);
    assert!((shop.clutch_face.unwrap().outer_radius_m() - 0.114).abs() < 1e-12);
    let told = |key: &str| reading.defaults.iter().any(|default| default.key == key);
    assert!(told("flywheel.cut.depth") && told("flywheel.shop.least_land"));
    assert!(!told("flywheel.shop.least_web"));
}

/// A sheet that asks for no cut is not told of the shop's rules.
#[test]
fn law_rules_nobody_leans_on_are_not_told() {
    let reading = accepted(&[]);
    assert!(
        reading
            .defaults
            .iter()
            .all(|default| !default.key.contains("shop"))
    );
    let wheel = reading.car.flywheels.fitted().unwrap();
    assert!(wheel.machining.passes.is_empty() && wheel.machining.shop.is_none());
}

#[test]
fn law_machining_that_makes_no_sense_is_refused_at_its_place() {
    let with = |line: &str| format!("{line}\n{FITTED}");
    refused(
        FITTED,
        &with("shop = { least_web = \"0 mm\" }"),
        "least_web = |\"0 mm\"",
        &["least_web", "must be from 0.01 mm to 1000 mm"],
    );
    refused(
        FITTED,
        &with("shop = { least_webb = \"5 mm\" }"),
        "|least_webb",
        &["did you mean least_web?"],
    );
    refused(
        FITTED,
        &with("cut = [ { kind = \"rim\", diameter = \"260 mm\", circle = \"1 mm\" } ]"),
        "|circle = \"1 mm\"",
        &["takes no circle", "it takes: diameter"],
    );
    refused(
        FITTED,
        &with("cut = { kind = \"rim\" }"),
        "cut = |{ kind",
        &["a list of tables"],
    );
    refused(
        "platform_mass = \"1.2 kg\", platform_period = \"2.243 s\" }\n",
        "platform_mass = \"1.2 kg\", platform_period = \"2.243 s\" }\ncut = [ { kind = \"rim\", diameter = \"200 mm\" } ]\n",
        "|cut = [ { kind",
        &["only a flywheel of sections can be cut"],
    );
}

#[test]
fn law_a_swing_test_says_how_well_it_was_measured() {
    let told =
        "cords = 3, radius_within = \"0.1 mm\", swings = 50, amplitude = 8, radius = \"120 mm\"";
    let reading = accepted(&[("cords = 3, radius = \"120 mm\"", told)]);
    let wheel = reading.car.flywheels.all().last().unwrap();
    let Description::Swing(test) = &wheel.part.description else {
        panic!("a swing test")
    };
    assert!((test.precision.radius_within_m.unwrap().get() - 1e-4).abs() < 1e-15);
    assert_eq!(test.precision.swings.unwrap().get(), 50);
    assert!((test.precision.amplitude_rad.unwrap().get().to_degrees() - 8.0).abs() < 1e-12);
    assert!(test.precision.mass_within_kg.is_none());
    refused(
        "cords = 3, radius = \"120 mm\"",
        "cords = 3, amplitude = 60, radius = \"120 mm\"",
        "amplitude = |60",
        &["amplitude", "from 0 to 45"],
    );
}
