//! Claims of the disc check, held against closed forms, hand solutions and an outside solver.

mod outside;
mod shape;
mod textbook;
mod verdicts;

use super::{LineLoad, StressField};
use crate::car::checked::Positive;
use crate::car::inertia::{BuiltUp, Extra, HoleRing, Section};
use crate::car::material::{Failure, Material};
use crate::metal::profile::{Profile, section_between};

/// OD 260, ID 40 mm at 9000 rpm, the case of the reference figures.
const BORE_M: f64 = 0.02;
const RIM_M: f64 = 0.13;
const SPEED_RAD_S: f64 = 300.0 * std::f64::consts::PI;
const STEEL_KG_M3: f64 = 7850.0;
const STEEL_POISSON: f64 = 0.30;
/// The reference figures carry eight digits.
const PRINTED_DIGITS: f64 = 1e-8;

fn section_mm(inner: f64, outer: f64, thickness_inner: f64, thickness_outer: f64) -> Section {
    section_between(
        inner / 1e3,
        outer / 1e3,
        thickness_inner / 1e3,
        thickness_outer / 1e3,
    )
    .unwrap()
}

fn field(sections: &[Section], density: f64, poisson: f64, loads: &[LineLoad]) -> StressField {
    StressField::solve(&Profile::new(sections).unwrap(), density, poisson, loads).unwrap()
}

fn steel_field(sections: &[Section]) -> StressField {
    field(sections, STEEL_KG_M3, STEEL_POISSON, &[])
}

fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

/// An invented steel with round strengths.
fn round_steel() -> Material {
    Material {
        name: "steel, invented strengths".into(),
        density_kg_m3: positive(STEEL_KG_M3),
        yield_pa: Some(positive(400e6)),
        tensile_pa: Some(positive(655e6)),
        poisson: Some(STEEL_POISSON),
        modulus_pa: None,
        failure: Failure::Ductile,
    }
}

/// An invented grey iron.
fn round_iron() -> Material {
    Material {
        name: "grey iron, invented strength".into(),
        density_kg_m3: positive(7150.0),
        yield_pa: None,
        tensile_pa: Some(positive(207e6)),
        poisson: Some(0.26),
        modulus_pa: None,
        failure: Failure::Brittle,
    }
}

fn part(
    material: Material,
    sections: Vec<Section>,
    holes: Vec<HoleRing>,
    extras: Vec<Extra>,
) -> BuiltUp {
    BuiltUp::new(material, sections, holes, extras, None).unwrap()
}
