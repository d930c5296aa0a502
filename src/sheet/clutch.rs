//! `[clutch]`.

use super::problem::{Problem, Sort};
use super::steps;
use super::table_reader::TableReader;
use super::typed::inside_out;
use super::value::{Amount, COMMON_PRACTICE, Found};
use super::warnings::{DISC_INERTIA, RELEASE_TIME, Warning};
use crate::car::checked::{AtLeastOne, NonNegative, Positive, Share};
use crate::car::clutch::{
    Capacity, Clutch, DEFAULT_SPECIFIC_HEAT, DEFAULT_STATIC_RATIO, Faces, Heating, Plate, Wear,
};
use crate::car::schedule::Schedule;
use crate::units::Kind;

/// Keys that describe a clutch by its clamp and faces.
const FACE_KEYS: [&str; 6] = ["clamp", "faces", "friction", "outer", "inner", "wear"];

/// Reads the section.
pub(super) fn read(t: &TableReader<'_>) -> Option<Found<Clutch>> {
    let capacity = capacity(t);
    let disc = t
        .quantity::<Positive>("disc_inertia", Kind::Inertia)
        .needed("\"0.0055 kg·m²\"");
    if let Some(disc) = &disc {
        DISC_INERTIA.check(t.diagnostics, t.full_key("disc_inertia"), disc);
    }
    let release = release(t);
    let static_ratio = t
        .number::<AtLeastOne>("static_ratio")
        .or(DEFAULT_STATIC_RATIO, COMMON_PRACTICE);
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
    let given = t.quantity::<Positive>("capacity", Kind::Torque);
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
                .also(t.key_place("capacity"), "capacity")
                .help("capacity alone, or clamp, faces, friction, outer and inner"),
            );
            None
        }
        (true, None) => {
            t.lacks(
                "capacity",
                "\"310 N·m\" (or clamp, faces, friction, outer and inner)",
            );
            None
        }
        (true, Some(_)) => faces(t),
    }
}

fn faces(t: &TableReader<'_>) -> Option<Found<Capacity>> {
    let clamp = t
        .quantity::<Positive>("clamp", Kind::Force)
        .needed("\"6200 N\"");
    let count = t.count("faces").needed("2");
    let friction = t
        .number::<Positive>("friction")
        .within(0.0..=MOST_FRICTION, "")
        .needed("0.30");
    let outer = t
        .quantity::<Positive>("outer", Kind::Length)
        .needed("\"200 mm\"");
    let inner = t
        .quantity::<NonNegative>("inner", Kind::Length)
        .needed("\"135 mm\"");
    let wear = t.choice("wear", &Wear::ALL, Wear::name).or_value(
        Wear::UniformWear,
        Amount::Word(Wear::UniformWear.name().to_owned()),
        "a clutch that has bedded in",
    );
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

/// Friction coefficient of a clutch facing at most: beyond it a slip of the point is likelier
/// than a lining (common practice, no source).
const MOST_FRICTION: f64 = 1.5;

fn release(t: &TableReader<'_>) -> Option<Schedule> {
    let time = t.quantity::<Positive>("release_time", Kind::Time);
    match (time.is_absent(), t.has("release")) {
        (false, true) => {
            t.diagnostics.problem(
                Problem::new(t.key_place("release"), "the release is given twice over")
                    .label("a table")
                    .also(t.key_place("release_time"), "a time")
                    .help(
                        "keep release_time for a steady release, or release for a table of points",
                    ),
            );
            None
        }
        (true, true) => {
            let release = steps::read(t, "release", Schedule::release)?;
            let last_s = release.value.last_corner_s();
            RELEASE_TIME.check_value(
                t.diagnostics,
                t.full_key("release"),
                last_s,
                Some(&release.place),
            );
            Some(release.value)
        }
        _ => {
            let time = time.needed("\"0.25 s\"")?;
            RELEASE_TIME.check(t.diagnostics, t.full_key("release_time"), &time);
            Some(Schedule::ramp(time.value))
        }
    }
}

fn heating(t: &TableReader<'_>) -> Option<Heating> {
    let fade = t.number::<Share>("fade").or(0.0, "no fade");
    let mass = t.quantity::<Positive>("plate_mass", Kind::Mass);
    let heat = t.quantity::<Positive>("plate_specific_heat", Kind::SpecificHeat);
    if mass.is_absent() {
        if !heat.is_absent() {
            let warning = Warning::NotUsed {
                key: t.full_key("plate_specific_heat"),
                why: "it needs plate_mass beside it",
            };
            t.diagnostics
                .warning(warning, Some(&t.key_place("plate_specific_heat")));
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
    let heat = heat.or(
        DEFAULT_SPECIFIC_HEAT,
        "iron and steel; handbook round value",
    );
    let plate = Plate {
        mass_kg: mass?.value,
        specific_heat_j_kg_k: heat?.value,
    };
    Some(match Positive::new(fade?.value.get()) {
        Some(fade) => Heating::Fading(plate, fade),
        None => Heating::Steady(plate),
    })
}
