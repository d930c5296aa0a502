//! `flyheft/inertia/1`.

use super::disc::DiscFields;
use super::{Read, document};
use crate::metal::disc::CAUTIONS;
use crate::sheet::Reading;
use crate::study::ledger::{KilogramOff, Ledger, PartLine, Piece, PieceLine, WheelLedger};
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    overall_ratios: &'a [f64],
    parts: Vec<PartFields<'a>>,
    flywheels: Vec<WheelFields<'a>>,
    cautions: &'static [&'static str],
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct PartFields<'a> {
    name: &'a str,
    turns_with: &'static str,
    mass_kg: Option<f64>,
    inertia_kg_m2: f64,
    equivalent_mass_kg: &'a [f64],
}

#[derive(Debug, Serialize)]
struct WheelFields<'a> {
    name: &'a str,
    fitted: bool,
    mass_kg: Option<f64>,
    inertia_kg_m2: f64,
    weighing_factor: f64,
    crank_side_inertia_kg_m2: f64,
    share_of_crank_side: f64,
    shares_of_crank_side_parts: &'a [f64],
    crank_side_equivalent_mass_kg: &'a [f64],
    equivalent_mass_kg: &'a [f64],
    kilogram_off_rim: Option<KilogramFields>,
    kilogram_off_hub: Option<KilogramFields>,
    pieces: Vec<PieceFields<'a>>,
    disc_check: DiscFields,
}

#[derive(Debug, Serialize)]
struct KilogramFields {
    inertia_kg_m2: f64,
    first_gear_equivalent_mass_kg: f64,
}

#[derive(Debug, Serialize)]
struct PieceFields<'a> {
    piece: &'static str,
    name: Option<&'a str>,
    count: Option<u32>,
    inner_radius_m: Option<f64>,
    outer_radius_m: Option<f64>,
    pitch_radius_m: Option<f64>,
    mass_kg: f64,
    inertia_kg_m2: f64,
}

impl<'a> PieceFields<'a> {
    fn of(line: &'a PieceLine) -> Self {
        let bare = Self {
            piece: "section",
            name: None,
            count: None,
            inner_radius_m: None,
            outer_radius_m: None,
            pitch_radius_m: None,
            mass_kg: line.adds.mass_kg,
            inertia_kg_m2: line.adds.inertia_kg_m2,
        };
        match &line.piece {
            Piece::Section(section) => Self {
                inner_radius_m: Some(section.inner_radius_m()),
                outer_radius_m: Some(section.outer_radius_m()),
                ..bare
            },
            Piece::Holes(ring) => Self {
                piece: "holes",
                count: Some(ring.count.get()),
                pitch_radius_m: Some(ring.pitch_radius_m.get()),
                ..bare
            },
            Piece::Extra(extra) => Self {
                piece: "extra",
                name: Some(&extra.name),
                ..bare
            },
        }
    }
}

impl From<KilogramOff> for KilogramFields {
    fn from(off: KilogramOff) -> Self {
        Self {
            inertia_kg_m2: off.inertia_kg_m2,
            first_gear_equivalent_mass_kg: off.first_gear_kg,
        }
    }
}

impl<'a> PartFields<'a> {
    fn of(part: &'a PartLine) -> Self {
        Self {
            name: &part.name,
            turns_with: part.turns.id(),
            mass_kg: part.mass_kg,
            inertia_kg_m2: part.inertia_kg_m2,
            equivalent_mass_kg: &part.equivalent_mass_kg,
        }
    }
}

impl<'a> WheelFields<'a> {
    fn of(ledger: &Ledger, wheel: &'a WheelLedger) -> Self {
        let part = &wheel.wheel.part;
        Self {
            name: wheel.wheel.name(),
            fitted: ledger.car.flywheels.is_fitted(wheel.wheel),
            mass_kg: part.mass_kg(),
            inertia_kg_m2: part.inertia_kg_m2(),
            weighing_factor: wheel.weighing_factor,
            crank_side_inertia_kg_m2: wheel.crank_side_kg_m2,
            share_of_crank_side: wheel.share,
            shares_of_crank_side_parts: &wheel.part_shares,
            crank_side_equivalent_mass_kg: &wheel.crank_side_mass_kg,
            equivalent_mass_kg: &wheel.wheel_mass_kg,
            kilogram_off_rim: wheel.kilogram_off_rim.map(Into::into),
            kilogram_off_hub: wheel.kilogram_off_hub.map(Into::into),
            pieces: wheel.pieces.iter().map(PieceFields::of).collect(),
            disc_check: DiscFields::of(&wheel.disc),
        }
    }
}

/// The document of the ledger.
pub fn inertia(reading: &Reading, ledger: &Ledger) -> String {
    document(&Document {
        schema: "flyheft/inertia/1",
        title: &reading.car.title,
        overall_ratios: &ledger.overall_ratios,
        parts: ledger.parts.iter().map(PartFields::of).collect(),
        flywheels: ledger
            .wheels
            .iter()
            .map(|wheel| WheelFields::of(ledger, wheel))
            .collect(),
        cautions: &CAUTIONS,
        read: Read::of(reading),
    })
}
