//! `[car]`.

use super::keys::car as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use crate::car::body::{Axle, Body, Drive};
use crate::car::checked::{InnerShare, NonNegative, Positive, Share};

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Body> {
    let mass = t.measure::<Positive>(key::MASS).needed();
    let drive = drive(t);
    let wheelbase = t.measure::<Positive>(key::WHEELBASE).needed();
    let cg_height = t.measure::<Positive>(key::CG_HEIGHT).needed();
    let front_share = t.measure::<InnerShare>(key::FRONT_SHARE).needed();
    let drag_area = t.measure::<NonNegative>(key::DRAG_AREA).needed();
    let rolling = t.measure::<NonNegative>(key::ROLLING).or_default();
    let driven = t.measure::<Positive>(key::DRIVEN_WHEELS_INERTIA).needed();
    let undriven = t
        .measure::<NonNegative>(key::UNDRIVEN_WHEELS_INERTIA)
        .needed();
    let pitch = t.measure::<Positive>(key::PITCH_TIME).or_default();

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
        .choice(key::DRIVE, &[End::Rear, End::Front], |end| match end {
            End::Rear => "rear",
            End::Front => "front",
        })
        .needed();
    let axle_sorts = [AxleSort::Independent, AxleSort::Live];
    let axle = t.choice(key::AXLE, &axle_sorts, |axle| match axle {
        AxleSort::Independent => "independent",
        AxleSort::Live => "live",
    });
    let axle_place = t.key_place(key::AXLE);
    let axle = axle.or_word(AxleSort::Independent);
    let differentials = [Differential::Locked, Differential::Open];
    let differential = t.choice(
        key::DIFFERENTIAL,
        &differentials,
        |differential| match differential {
            Differential::Locked => "locked",
            Differential::Open => "open",
        },
    );
    let track_width = t.measure::<Positive>(key::TRACK_WIDTH);
    let roll_share = t.measure::<Share>(key::FRONT_ROLL_SHARE);
    if axle?.value == AxleSort::Independent {
        // Equal loads on both tyres: an open differential then does what a locked one does.
        let good = differential.is_good() && track_width.is_good() && roll_share.is_good();
        return Some(match end?.value {
            End::Rear if good => Drive::Rear(Axle::Even),
            End::Front if good => Drive::Front,
            _ => return None,
        });
    }
    let differential = differential.or_word(Differential::Locked);
    let end = end?.value;
    if end == End::Front {
        t.diagnostics.problem(
            Problem::new(axle_place, "a live axle cannot be driven at the front here")
                .label("axle = \"live\" needs drive = \"rear\"")
                .also(t.key_place(key::DRIVE), "front drive"),
        );
        return None;
    }
    if differential?.value == Differential::Locked {
        let good = track_width.is_good() && roll_share.is_good();
        return good.then_some(Drive::Rear(Axle::Even));
    }
    let (track_width, roll_share) = (track_width.needed(), roll_share.needed());
    Some(Drive::Rear(Axle::LiveOpen {
        track_width_m: track_width?.value,
        front_roll_share: roll_share?.value,
    }))
}
