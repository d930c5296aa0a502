//! Which flywheel another one is machined out of.

use super::diagnostics::Diagnostics;
use super::parts::PartRead;
use super::problem::Problem;
use super::unknown_key::nearest;
use super::value::Found;
use super::warnings::{PartWarning, Warning};
use crate::units::quote;

/// Share by which a wheel may have more inertia than the one it is cut from before that is an
/// error: two drawings, or a drawing and a swing test, may disagree by so much (common practice,
/// no source).
const MORE_THAN_ITS_BLANK: f64 = 0.05;

/// A flywheel and what it is cut from.
pub(super) struct Blank<'a> {
    pub(super) read: &'a PartRead,
    pub(super) cut_from: Option<&'a Found<String>>,
}

/// The place of each wheel's blank among the wheels; what is wrong is noted, and then the wheel
/// counts as cut from nothing.
pub(super) fn blanks(diagnostics: &Diagnostics, wheels: &[Blank<'_>]) -> Vec<Option<usize>> {
    let names: Vec<Option<&str>> = wheels
        .iter()
        .map(|wheel| wheel.read.name.as_ref().map(|name| name.value.as_str()))
        .collect();
    let named: Vec<Option<usize>> = wheels
        .iter()
        .map(|wheel| {
            let from = wheel.cut_from?;
            let found = names.iter().position(|name| *name == Some(&from.value));
            if found.is_none() {
                diagnostics.problem(not_there(from, names.iter().copied().flatten()));
            }
            found
        })
        .collect();
    for (index, wheel) in wheels.iter().enumerate() {
        if let Some(from) = wheel.cut_from
            && roots(&named, index).is_none()
        {
            diagnostics.problem(
                Problem::new(from.place.clone(), "this wheel is cut from itself in the end")
                    .label("goes round in a ring")
                    .help("metal comes off, never on: name the heavier wheel that this one is turned from, and leave cut_from out for a wheel that is bought"),
            );
        }
    }
    named
}

fn not_there<'a>(from: &Found<String>, names: impl Iterator<Item = &'a str>) -> Problem {
    let names: Vec<&str> = names.collect();
    let problem = Problem::new(
        from.place.clone(),
        format!(
            "no flywheel of the sheet is called \"{}\"",
            quote(&from.value)
        ),
    )
    .help(format!("the sheet's flywheels: {}", names.join(", ")));
    match nearest(&from.value, names) {
        Some(near) => problem.label(format!("did you mean {near}?")),
        None => problem,
    }
}

/// The wheel at the head of a chain of cuts; nothing where the chain is a ring.
fn roots(named: &[Option<usize>], mut at: usize) -> Option<usize> {
    for _ in 0..=named.len() {
        match named.get(at).copied().flatten() {
            Some(from) => at = from,
            None => return Some(at),
        }
    }
    None
}

/// Wheels cut from one drawing share its error: the factor on the inertia of each, where the
/// sheet does not say one, is that of the first drawn wheel of its chain.
pub(super) fn drawing_scales(
    diagnostics: &Diagnostics,
    wheels: &[Blank<'_>],
    named: &[Option<usize>],
) -> Vec<Option<f64>> {
    (0..wheels.len())
        .map(|index| {
            let wheel = wheels.get(index)?;
            wheel.read.drawn()?;
            if wheel.read.scale_said {
                return None;
            }
            let head = drawn_head(wheels, named, index);
            let head = wheels.get(head)?.read;
            match head.drawn() {
                Some(drawing) if head.scale_said => Some(drawing.inertia_scale()),
                _ => Some(head.note_drawing(diagnostics)),
            }
        })
        .collect()
}

/// The furthest wheel up the chain that is reached by drawn wheels alone.
fn drawn_head(wheels: &[Blank<'_>], named: &[Option<usize>], mut at: usize) -> usize {
    for _ in 0..named.len() {
        match named.get(at).copied().flatten() {
            Some(from) if wheels.get(from).is_some_and(|w| w.read.drawn().is_some()) => at = from,
            _ => break,
        }
    }
    at
}

/// Metal comes off, never on: a wheel with more inertia than the one it is cut from is refused,
/// or, where the two are within what drawings and swing tests disagree by, warned of.
pub(super) fn check_metal(
    diagnostics: &Diagnostics,
    wheels: &[Blank<'_>],
    named: &[Option<usize>],
) {
    for (wheel, from) in wheels.iter().zip(named) {
        let blank = from.and_then(|from| wheels.get(from)?.read.part());
        let (Some(part), Some(blank), Some(said)) = (wheel.read.part(), blank, wheel.cut_from)
        else {
            continue;
        };
        let (inertia, blank_inertia) = (part.inertia_kg_m2(), blank.inertia_kg_m2());
        if inertia > blank_inertia * (1.0 + MORE_THAN_ITS_BLANK) {
            diagnostics.problem(
                Problem::new(
                    said.place.clone(),
                    format!("\"{}\" has more inertia than the wheel it is cut from", quote(&part.name)),
                )
                .label(format!(
                    "{} against {}",
                    shown(inertia),
                    shown(blank_inertia)
                ))
                .help("metal comes off, never on: cut_from names the heavier wheel, and stands with the lighter one"),
            );
        } else if inertia > blank_inertia {
            let warning = PartWarning::MoreThanItsBlank {
                inertia_kg_m2: inertia,
                blank_kg_m2: blank_inertia,
            };
            diagnostics.warning(
                Warning::Part {
                    part: part.name,
                    warning,
                },
                Some(&said.place),
            );
        }
    }
}

fn shown(inertia_kg_m2: f64) -> String {
    crate::units::System::Metric.show(inertia_kg_m2, crate::units::Kind::Inertia)
}
