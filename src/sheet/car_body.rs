//! `[car]`.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::{Amount, COMMON_PRACTICE, Found};
use super::warnings::{CAR_MASS, CG_HEIGHT, DRAG_AREA, ROLLING, Usual, WHEEL_PAIR, WHEELBASE};
use crate::car::body::{Axle, Body, DEFAULT_PITCH_TIME_S, DEFAULT_ROLLING, Drive};
use crate::car::checked::{InnerShare, NonNegative, Positive, Share};
use crate::units::Kind;

/// Height beyond which no car's centre of gravity lies, m (common practice, no source).
const HIGHEST_CG_M: f64 = 3.0;

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Body> {
    let mass = t
        .quantity::<Positive>("mass", Kind::Mass)
        .needed("\"870 kg\"");
    let drive = drive(t);
    let wheelbase = t
        .quantity::<Positive>("wheelbase", Kind::Distance)
        .needed("\"2.40 m\"");
    let cg_height = t
        .quantity::<Positive>("cg_height", Kind::Distance)
        .within(0.0..=HIGHEST_CG_M, "above the ground, with the driver in")
        .needed("\"0.48 m\"");
    let front_share = t.number::<InnerShare>("front_share").needed("0.53");
    let drag_area = t
        .quantity::<NonNegative>("drag_area", Kind::Area)
        .needed("\"0.62 m²\"");
    let rolling = t
        .number::<NonNegative>("rolling")
        .or(DEFAULT_ROLLING, COMMON_PRACTICE);
    let driven = t
        .quantity::<Positive>("driven_wheels_inertia", Kind::Inertia)
        .needed("\"1.7 kg·m²\"");
    let undriven = t
        .quantity::<NonNegative>("undriven_wheels_inertia", Kind::Inertia)
        .needed("\"1.3 kg·m²\"");
    let pitch = t
        .quantity::<Positive>("pitch_time", Kind::Time)
        .or(DEFAULT_PITCH_TIME_S, COMMON_PRACTICE);

    warning(t, &CAR_MASS, "mass", mass.as_ref());
    warning(t, &WHEELBASE, "wheelbase", wheelbase.as_ref());
    warning(t, &CG_HEIGHT, "cg_height", cg_height.as_ref());
    warning(t, &DRAG_AREA, "drag_area", drag_area.as_ref());
    warning(t, &ROLLING, "rolling", rolling.as_ref());
    warning(t, &WHEEL_PAIR, "driven_wheels_inertia", driven.as_ref());
    warning(t, &WHEEL_PAIR, "undriven_wheels_inertia", undriven.as_ref());
    Some(Body {
        mass_kg: mass?.value,
        drive: drive?,
        wheelbase_m: wheelbase?.value,
        cg_height_m: cg_height?.value,
        front_share: front_share?.value,
        drag_area_m2: drag_area?.value,
        rolling: rolling?.value,
        driven_wheels_kg_m2: driven?.value,
        undriven_wheels_kg_m2: undriven?.value,
        pitch_time_s: pitch?.value,
    })
}

fn warning<T: Copy + Into<f64>>(
    t: &TableReader<'_>,
    usual: &Usual,
    key: &str,
    found: Option<&Found<T>>,
) {
    if let Some(found) = found {
        usual.check(t.diagnostics, t.full_key(key), found);
    }
}

#[derive(Clone, Copy, PartialEq)]
enum End {
    Rear,
    Front,
}

#[derive(Clone, Copy, PartialEq)]
enum AxleSort {
    Independent,
    Live,
}

#[derive(Clone, Copy, PartialEq)]
enum Differential {
    Locked,
    Open,
}

fn drive(t: &TableReader<'_>) -> Option<Drive> {
    let end = t
        .choice("drive", &[End::Rear, End::Front], |end| match end {
            End::Rear => "rear",
            End::Front => "front",
        })
        .needed("\"rear\"");
    let axle_sorts = [AxleSort::Independent, AxleSort::Live];
    let axle = t.choice("axle", &axle_sorts, |axle| match axle {
        AxleSort::Independent => "independent",
        AxleSort::Live => "live",
    });
    let axle_place = t.key_place("axle");
    let axle = axle.or_value(
        AxleSort::Independent,
        Amount::Word("independent".to_owned()),
        "both driven tyres loaded alike",
    );
    let differentials = [Differential::Locked, Differential::Open];
    let differential = t.choice(
        "differential",
        &differentials,
        |differential| match differential {
            Differential::Locked => "locked",
            Differential::Open => "open",
        },
    );
    let track_width = t.quantity::<Positive>("track_width", Kind::Distance);
    let roll_share = t.number::<Share>("front_roll_share");
    if axle?.value == AxleSort::Independent {
        // Equal loads on both tyres: an open differential then does what a locked one does.
        let good = differential.is_good() && track_width.is_good() && roll_share.is_good();
        return Some(match end?.value {
            End::Rear if good => Drive::Rear(Axle::Even),
            End::Front if good => Drive::Front,
            _ => return None,
        });
    }
    let differential = differential.or_value(
        Differential::Locked,
        Amount::Word("locked".to_owned()),
        "a drag car's usual one; common practice, no source",
    );
    let end = end?.value;
    if end == End::Front {
        t.diagnostics.problem(
            Problem::new(axle_place, "a live axle cannot be driven at the front here")
                .label("axle = \"live\" needs drive = \"rear\"")
                .also(t.key_place("drive"), "front drive"),
        );
        return None;
    }
    if differential?.value == Differential::Locked {
        let good = track_width.is_good() && roll_share.is_good();
        return good.then_some(Drive::Rear(Axle::Even));
    }
    let (track_width, roll_share) = (track_width.needed("\"1.32 m\""), roll_share.needed("0.7"));
    Some(Drive::Rear(Axle::LiveOpen {
        track_width_m: track_width?.value,
        front_roll_share: roll_share?.value,
    }))
}
