//! `[clutch]`.

use super::keys::{Key, clutch as key};
use super::problem::{Problem, Sort};
use super::steps;
use super::table_reader::TableReader;
use super::typed::inside_out;
use super::value::{Amount, Found};
use super::warnings::Warning;
use crate::car::checked::{AtLeastOne, NonNegative, Positive, Share};
use crate::car::clutch::{Capacity, Clutch, Faces, Heating, Plate, Wear};
use crate::car::schedule::Schedule;
use std::num::NonZeroU32;

/// Friction faces of a single plate.
const ONE_PLATE: NonZeroU32 = NonZeroU32::MIN.saturating_add(1);

/// Keys that describe a clutch by its clamp and faces.
const FACE_KEYS: [&Key; 6] = [
    key::CLAMP,
    key::FACES,
    key::FRICTION,
    key::OUTER,
    key::INNER,
    key::WEAR,
];

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Found<Clutch>> {
    let capacity = capacity(t);
    let disc = t.measure::<Positive>(key::DISC_INERTIA).needed();
    let release = release(t);
    let static_ratio = t.measure::<AtLeastOne>(key::STATIC_RATIO).or_default();
    let heating = heating(t);
    let capacity = capacity?;
    Some(Found {
        place: capacity.place,
        read: capacity.read,
        value: Clutch {
            capacity: capacity.value,
            disc_inertia_kg_m2: disc?.value,
            release: release?,
            static_ratio: static_ratio?.value,
            heating: heating?,
        },
    })
}

fn capacity(t: &TableReader<'_>) -> Option<Found<Capacity>> {
    let given = t.measure::<Positive>(key::CAPACITY);
    let face_key = FACE_KEYS.into_iter().fold(None, |found, key| {
        let there = t.has(key);
        found.or(there.then_some(key))
    });
    match (given.is_absent(), face_key) {
        (false, None) => given.given().map(|found| found.map(Capacity::Given)),
        (false, Some(key)) => {
            t.diagnostics.problem(
                Problem::new(
                    t.key_place(key),
                    format!("the clutch is given twice over: by capacity and by {key}"),
                )
                .label("part of clamp and faces")
                .also(t.key_place(key::CAPACITY), "capacity")
                .help("capacity alone, or clamp, friction, outer and inner (with faces, if there are not two)"),
            );
            None
        }
        (true, None) => {
            t.lacks(key::CAPACITY);
            None
        }
        (true, Some(_)) => faces(t),
    }
}

fn faces(t: &TableReader<'_>) -> Option<Found<Capacity>> {
    let clamp = t.measure::<Positive>(key::CLAMP).needed();
    let count = t
        .count(key::FACES)
        .or_value(ONE_PLATE, Amount::Number(f64::from(ONE_PLATE.get())));
    let friction = t.measure::<Positive>(key::FRICTION).needed();
    let outer = t.measure::<Positive>(key::OUTER).needed();
    let inner = t.measure::<NonNegative>(key::INNER).needed();
    let wear = t
        .choice(key::WEAR, &Wear::ALL, Wear::name)
        .or_word(Wear::UniformWear);
    let (clamp, outer, inner) = (clamp?, outer?, inner?);
    let radii = (
        NonNegative::new(inner.value.get() / 2.0)?,
        Positive::new(outer.value.get() / 2.0)?,
    );
    let faces = Faces::new(
        clamp.value,
        count?.value,
        friction?.value,
        radii,
        wear?.value,
    );
    if faces.is_err() {
        t.diagnostics.problem(inside_out(&outer, &inner));
    }
    faces
        .ok()
        .map(|faces| clamp.map(|_| Capacity::Faces(faces)))
}

fn release(t: &TableReader<'_>) -> Option<Schedule> {
    let time = t.measure::<Positive>(key::RELEASE_TIME);
    match (time.is_absent(), t.has(key::RELEASE)) {
        (false, true) => {
            t.diagnostics.problem(
                Problem::new(t.key_place(key::RELEASE), "the release is given twice over")
                    .label("a table")
                    .also(t.key_place(key::RELEASE_TIME), "a time")
                    .help(
                        "keep release_time for a steady release, or release for a table of points",
                    ),
            );
            None
        }
        (true, true) => {
            let release = steps::read(t, key::RELEASE, Schedule::release)?;
            t.check_usual(key::RELEASE, release.value.last_corner_s(), &release.place);
            Some(release.value)
        }
        _ => {
            let time = time.needed()?;
            Some(Schedule::ramp(time.value))
        }
    }
}

fn heating(t: &TableReader<'_>) -> Option<Heating> {
    let fade = t.measure::<Share>(key::FADE).or_default();
    let mass = t.measure::<Positive>(key::PLATE_MASS);
    let heat = t.measure::<Positive>(key::PLATE_SPECIFIC_HEAT);
    if mass.is_absent() {
        if !heat.is_absent() {
            let warning = Warning::NotUsed {
                key: t.full_key(key::PLATE_SPECIFIC_HEAT),
                why: "it needs plate_mass beside it",
            };
            t.diagnostics
                .warning(warning, Some(&t.key_place(key::PLATE_SPECIFIC_HEAT)));
        }
        let fade = fade?;
        if fade.value.get() > 0.0 {
            t.diagnostics.problem(
                Problem::new(fade.place, format!("fade = {} needs plate_mass", fade.read))
                    .label("fade goes by the plate's temperature")
                    .help("give the mass of the metal that soaks up the heat, for example plate_mass = \"4.0 kg\", or leave fade out")
                    .sort(Sort::Missing),
            );
            return None;
        }
        return heat.is_good().then_some(Heating::Unknown);
    }
    let mass = mass.given();
    let heat = heat.or_default();
    let plate = Plate {
        mass_kg: mass?.value,
        specific_heat_j_kg_k: heat?.value,
    };
    Some(match Positive::new(fade?.value.get()) {
        Some(fade) => Heating::Fading(plate, fade),
        None => Heating::Steady(plate),
    })
}
