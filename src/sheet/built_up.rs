//! A part by its sections, holes and extras.

use super::geometry;
use super::keys::part::{self, extra, hole, section};
use super::material::MaterialRead;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::typed::inside_out;
use super::value::Found;
use super::warnings::{PartWarning, Warning};
use crate::car::checked::{NonNegative, Positive};
use crate::car::inertia::{
    BuiltUp, Description, Extra, ExtraPlace, HoleRing, PartError, Section, WEIGHED_DOUBT_SHARE,
};

/// Reads the sections and what goes with them.
pub(super) fn read(
    t: &TableReader<'_>,
    name: Option<&Found<String>>,
    material: Option<&MaterialRead>,
) -> Option<Description> {
    let list = t.inners(part::SECTIONS);
    let sections = list.needed();
    let sections = sections.and_then(|list| {
        let place = list.place.clone();
        let sections = all(list.value, section)?;
        Some((sections, place))
    });
    let hole_list = t.inners(part::HOLES);
    let holes = optional(hole_list.is_absent(), hole_list.given(), hole_ring);
    let extra_list = t.inners(part::EXTRAS);
    let extras = optional(extra_list.is_absent(), extra_list.given(), extra);
    let weighed = t.measure::<Positive>(part::WEIGHED);
    let was_weighed = !weighed.is_absent();
    let weighed = weighed.given();
    let scale = t.measure::<Positive>(part::INERTIA_SCALE);
    let scale_good = scale.is_good();
    let scale = scale.given();
    if material.is_none() {
        t.lacks(part::MATERIAL);
    }
    let material = material?.material.clone()?;
    let ((sections, place), holes, extras) = (sections?, holes?, extras?);
    if was_weighed && weighed.is_none() || !scale_good {
        return None;
    }
    let part_name = name.map_or_else(|| t.shown(), |name| name.value.clone());
    geometry::check(t.diagnostics, &part_name, &sections, &holes);
    let sections = sections.into_iter().map(|section| section.value).collect();
    let holes = holes.into_iter().map(|ring| ring.value).collect();
    let extras = extras.into_iter().map(|extra| extra.value).collect();
    let scales = weighed.as_ref().map(|weighed| weighed.value);
    match BuiltUp::new(material, sections, holes, extras, scales) {
        Ok(part) => {
            check_weighing(t, part_name, &part, weighed.as_ref());
            Some(Description::BuiltUp(match scale {
                Some(scale) => part.with_inertia_scale(scale.value),
                None => part,
            }))
        }
        Err(error) => {
            t.diagnostics.problem(match error {
                PartError::NoSections => Problem::new(place, "sections is empty")
                    .label("a part built up from metal needs at least one section"),
                other => Problem::new(place, other.to_string())
                    .help("look at diameters, depths and counts of the holes"),
            });
            None
        }
    }
}

/// Every table read, or nothing where one is wrong.
fn all<T>(
    tables: Vec<TableReader<'_>>,
    read: fn(&TableReader<'_>) -> Option<T>,
) -> Option<Vec<Found<T>>> {
    let each: Vec<Option<Found<T>>> = tables
        .into_iter()
        .map(|t| {
            let place = t.header.clone();
            let value = read(&t);
            t.finish();
            Some(Found {
                value: value?,
                place,
                read: String::new(),
            })
        })
        .collect();
    each.into_iter().collect()
}

fn optional<T>(
    absent: bool,
    given: Option<Found<Vec<TableReader<'_>>>>,
    read: fn(&TableReader<'_>) -> Option<T>,
) -> Option<Vec<Found<T>>> {
    if absent {
        return Some(Vec::new());
    }
    all(given?.value, read)
}

fn half_of(diameter: Positive) -> Option<Positive> {
    Positive::new(diameter.get() / 2.0)
}

fn half(diameter: NonNegative) -> Option<NonNegative> {
    NonNegative::new(diameter.get() / 2.0)
}

fn section(s: &TableReader<'_>) -> Option<Section> {
    let inner = s.measure::<NonNegative>(section::INNER).needed();
    let outer = s.measure::<Positive>(section::OUTER).needed();
    let flat = s.measure::<Positive>(section::THICKNESS);
    let at_inner = s.measure::<NonNegative>(section::THICKNESS_INNER);
    let at_outer = s.measure::<NonNegative>(section::THICKNESS_OUTER);
    let tapered = !(at_inner.is_absent() && at_outer.is_absent());
    let thickness = if flat.is_absent() && tapered {
        let (a, b) = (at_inner.needed(), at_outer.needed());
        a.zip(b).map(|(a, b)| (a.value, b.value))
    } else if tapered {
        let second = if at_inner.is_absent() {
            section::THICKNESS_OUTER
        } else {
            section::THICKNESS_INNER
        };
        s.diagnostics.problem(
            Problem::new(s.key_place(second), "the section's thickness is given twice over")
                .label("tapered")
                .also(s.key_place(section::THICKNESS), "flat")
                .help("thickness for a flat section; thickness_inner and thickness_outer for a tapered one"),
        );
        None
    } else {
        let flat = flat.needed().map(|flat| flat.value.as_non_negative());
        flat.map(|flat| (flat, flat))
    };
    let (inner, outer) = (inner?, outer?);
    let (at_inner, at_outer) = thickness?;
    match Section::new(
        half(inner.value)?,
        half_of(outer.value)?,
        at_inner,
        at_outer,
    ) {
        Ok(section) => Some(section),
        Err(PartError::SectionInsideOut { .. }) => {
            s.diagnostics.problem(inside_out(&outer, &inner));
            None
        }
        Err(error) => {
            s.diagnostics
                .problem(Problem::new(s.header.clone(), error.to_string()));
            None
        }
    }
}

fn hole_ring(h: &TableReader<'_>) -> Option<HoleRing> {
    let count = h.count(hole::COUNT).needed();
    let diameter = h.measure::<Positive>(hole::DIAMETER).needed();
    let circle = h.measure::<NonNegative>(hole::CIRCLE).needed();
    let depth = h.measure::<Positive>(hole::DEPTH).needed();
    Some(HoleRing {
        count: count?.value,
        diameter_m: diameter?.value,
        depth_m: depth?.value,
        pitch_radius_m: half(circle?.value)?,
    })
}

fn extra(e: &TableReader<'_>) -> Option<Extra> {
    let name = e.words(extra::NAME).needed();
    let mass = e.measure::<Positive>(extra::MASS).needed();
    let gyration = e.measure::<Positive>(extra::RADIUS_OF_GYRATION);
    let count = e.count(extra::COUNT);
    let circle = e.measure::<NonNegative>(extra::CIRCLE);
    let points = !(count.is_absent() && circle.is_absent());
    let place = if points && !gyration.is_absent() {
        let second = if count.is_absent() {
            extra::CIRCLE
        } else {
            extra::COUNT
        };
        e.diagnostics.problem(
            Problem::new(e.key_place(second), "the extra's place is given twice over")
                .label("points on a circle")
                .also(e.key_place(extra::RADIUS_OF_GYRATION), "a ring")
                .help("radius_of_gyration with the mass of the whole, or count and circle with the mass of each"),
        );
        None
    } else if points {
        let (count, circle) = (count.needed(), circle.needed());
        count.zip(circle).and_then(|(count, circle)| {
            Some(ExtraPlace::Points {
                count: count.value,
                pitch_radius_m: half(circle.value)?,
            })
        })
    } else {
        gyration
            .needed()
            .map(|radius| ExtraPlace::Gyration(radius.value))
    };
    Some(Extra {
        name: name?.value,
        mass_kg: mass?.value,
        place: place?,
    })
}

fn check_weighing(
    t: &TableReader<'_>,
    part: String,
    built: &BuiltUp,
    weighed: Option<&Found<Positive>>,
) {
    let Some(weighed) = weighed else { return };
    if (built.weighing_factor() - 1.0).abs() > WEIGHED_DOUBT_SHARE {
        let warning = PartWarning::WeighingOff {
            weighed_kg: weighed.value.get(),
            computed_kg: built.computed().mass_kg,
        };
        t.diagnostics
            .warning(Warning::Part { part, warning }, Some(&weighed.place));
    }
}
