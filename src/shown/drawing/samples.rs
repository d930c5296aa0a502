//! Half sections for the tests and for looking at: the demo wheels, and some nobody would wish for.

use super::HalfSection;
use crate::sheet::{Reading, read, read_text};
use crate::study::cutting::{CuttingError, cut, rules_for};
use crate::units::System;
use std::path::PathBuf;

fn demo(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("demo-data")
        .join(name)
}

/// Invented wheels: many edges close together, holes side by side, nothing but rim, a coin, a
/// metal without a yield stress, names without end.
const AWKWARD: &str = r#"
[[flywheel]]
name = "a wheel turned in twelve steps by somebody who would not let a good lathe stand idle, <b>ever</b> & again"
material = "steel"
sections = [
  { inner = "30 mm", outer = "33 mm", thickness = "11 mm" },
  { inner = "33 mm", outer = "36 mm", thickness = "12 mm" },
  { inner = "36 mm", outer = "39 mm", thickness = "13 mm" },
  { inner = "39 mm", outer = "42 mm", thickness_inner = "14 mm", thickness_outer = "15 mm" },
  { inner = "42 mm", outer = "45 mm", thickness = "16 mm" },
  { inner = "45 mm", outer = "250 mm", thickness_inner = "17 mm", thickness_outer = "3 mm" },
  { inner = "251 mm", outer = "252 mm", thickness = "30 mm" },
]
holes = [
  { count = 6, diameter = "8 mm", circle = "130 mm", depth = "5 mm" },
  { count = 60, diameter = "8.5 mm", circle = "132 mm", depth = "5 mm" },
  { count = 3, diameter = "5 mm", circle = "131 mm", depth = "2 mm" },
]
extras = [
  { name = "ring gear with a name that goes on and on, round and round", mass = "1.5 kg", radius_of_gyration = "131 mm" },
  { name = "cover bolts", count = 6, mass = "15 g", circle = "131 mm" },
  { name = "sensor ring", mass = "0.2 kg", radius_of_gyration = "90 mm" },
]
cut = [
  { kind = "holes", count = 4, diameter = "6 mm", circle = "160 mm" },
  { kind = "holes", count = 4, diameter = "6 mm", circle = "190 mm" },
  { kind = "holes", count = 4, diameter = "6 mm", circle = "220 mm" },
]

[[flywheel]]
name = "coin"
material = "grey iron"
sections = [ { inner = "0 mm", outer = "40 mm", thickness = "60 mm" } ]

[[flywheel]]
name = "sheet of tin"
material = "aluminium"
sections = [ { inner = "20 mm", outer = "900 mm", thickness = "2 mm" } ]
"#;

/// Every wheel of a sheet that has a shape, as it is and as its plan cuts it.
fn sections_of(reading: &Reading, system: System) -> Vec<(String, String)> {
    let mut drawn = Vec::new();
    for wheel in reading.car.flywheels.all() {
        let rules = rules_for(&reading.car, wheel, None).unwrap();
        for passes in [&[], wheel.machining.passes.as_slice()] {
            let cutting = match cut(&reading.car, wheel, passes, None, rules) {
                Err(CuttingError::NoShape) => continue,
                made => made.unwrap(),
            };
            let half = HalfSection::of(&reading.car.title, &cutting, system);
            let name = format!(
                "section {} {} {system:?} {:.30}",
                reading.car.flywheels.all().len(),
                passes.len(),
                wheel.name()
            );
            let phone = half.svg_for_phone(system).unwrap().unwrap();
            drawn.push((format!("{name} phone"), phone));
            drawn.push((name, half.svg(system).unwrap().unwrap()));
        }
    }
    drawn
}

/// Every sample with its name.
pub(crate) fn all() -> Vec<(String, String)> {
    let bogger = demo("bogger.toml");
    let text = std::fs::read_to_string(&bogger).unwrap();
    let (before, after) = text.split_once("\n[clutch]").unwrap();
    let awkward = format!("{before}\n{AWKWARD}\n[clutch]{after}");
    let readings = [
        read_text(&bogger, &awkward).unwrap(),
        read(&demo("slipper.toml")).unwrap(),
        read(&demo("spinner.toml")).unwrap(),
    ];
    let mut all = Vec::new();
    for system in [System::Metric, System::Imperial] {
        for reading in &readings {
            all.extend(sections_of(reading, system));
        }
    }
    all
}
