//! Claims about machining passes.

mod laws;
mod refusals;

use super::*;
use crate::car::checked::{NonNegative, Positive};
use crate::car::inertia::{BuiltUp, Extra, ExtraPlace, HoleRing, Section};
use crate::car::material::NamedMetal;
use crate::metal::profile::section_between;
use std::num::NonZeroU32;

const STEEL_KG_M3: f64 = 7850.0;

fn positive(value: f64) -> Positive {
    Positive::new(value).unwrap()
}

fn mm(value: f64) -> Positive {
    positive(value / 1e3)
}

fn count(number: u32) -> NonZeroU32 {
    NonZeroU32::new(number).unwrap()
}

fn section_mm(inner: f64, outer: f64, thickness_inner: f64, thickness_outer: f64) -> Section {
    section_between(
        inner / 1e3,
        outer / 1e3,
        thickness_inner / 1e3,
        thickness_outer / 1e3,
    )
    .unwrap()
}

fn band(inner_mm: f64, outer_mm: f64) -> Band {
    Band::new(NonNegative::new(inner_mm / 1e3).unwrap(), mm(outer_mm)).unwrap()
}

fn face(inner_mm: f64, outer_mm: f64, depth_mm: f64) -> Pass {
    Pass::FaceBand {
        band: band(inner_mm, outer_mm),
        depth_m: mm(depth_mm),
        face: Face::Engine,
    }
}

fn taper(inner_mm: f64, outer_mm: f64, thickness_inner_mm: f64, thickness_outer_mm: f64) -> Pass {
    Pass::TaperWeb {
        band: band(inner_mm, outer_mm),
        thickness_inner_m: mm(thickness_inner_mm),
        thickness_outer_m: mm(thickness_outer_mm),
        face: Face::Engine,
    }
}

fn drill(number: u32, diameter_mm: f64, pitch_radius_mm: f64, depth: HoleDepth) -> Pass {
    Pass::Drill {
        count: count(number),
        diameter_m: mm(diameter_mm),
        pitch_radius_m: mm(pitch_radius_mm),
        depth,
    }
}

fn rules() -> ShopRules {
    ShopRules::usual(None).unwrap()
}

fn rules_with_face(inner_mm: f64, outer_mm: f64) -> ShopRules {
    ShopRules::usual(Some(band(inner_mm, outer_mm))).unwrap()
}

fn crank_holes() -> HoleRing {
    HoleRing {
        count: count(6),
        diameter_m: mm(10.0),
        depth_m: mm(14.0),
        pitch_radius_m: mm(32.0).as_non_negative(),
    }
}

fn ring_gear() -> Extra {
    Extra {
        name: "ring gear".into(),
        mass_kg: positive(0.85),
        place: ExtraPlace::Gyration(mm(131.0)),
    }
}

fn cover_bolts() -> Extra {
    Extra {
        name: "cover bolts".into(),
        mass_kg: positive(0.018),
        place: ExtraPlace::Points {
            count: count(6),
            pitch_radius_m: mm(114.0).as_non_negative(),
        },
    }
}

/// An invented wheel: hub, tapering web, heavy rim, crank bolt holes, and what is asked for.
fn wheel(extras: Vec<Extra>, weighed_kg: Option<f64>) -> BuiltUp {
    BuiltUp::new(
        NamedMetal::Steel.material().unwrap(),
        vec![
            section_mm(18.0, 55.0, 14.0, 14.0),
            section_mm(55.0, 105.0, 18.0, 14.0),
            section_mm(105.0, 130.0, 24.0, 24.0),
        ],
        vec![crank_holes()],
        extras,
        weighed_kg.map(positive),
    )
    .unwrap()
}

fn bare() -> BuiltUp {
    wheel(vec![], None)
}
