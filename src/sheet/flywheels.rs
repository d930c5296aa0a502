//! `[[flywheel]]`: the candidates, one of them in the car now.

use super::cut_from::{self, Blank};
use super::diagnostics::Diagnostics;
use super::keys::part::{self, flywheel};
use super::machining;
use super::parts::{Noted, PartRead, read_part, read_swing_check};
use super::problem::{Place, Problem, Sort};
use super::table_reader::TableReader;
use super::value::Found;
use super::warnings::{FLYWHEEL_INERTIA, FLYWHEEL_MASS, PartWarning, Warning};
use crate::car::machining::Machining;
use crate::car::material::Failure;
use crate::car::swing::SwingTest;
use crate::car::{Flywheel, Flywheels};

struct Candidate {
    read: PartRead,
    header: Place,
    /// The mark, if it could be read.
    fitted: Option<Found<bool>>,
    mark_refused: bool,
    machining: Option<Machining>,
    swing_check: Result<Option<SwingTest>, Noted>,
    cut_from: Option<Found<String>>,
}

fn candidate(t: TableReader<'_>) -> Candidate {
    let read = read_part(&t);
    let fitted = t.flag(flywheel::FITTED);
    let absent = fitted.is_absent();
    let fitted = fitted.given();
    let cut_from = t.words(flywheel::CUT_FROM).given();
    let machining = machining::read(&t);
    let swing_check = read_swing_check(&t);
    check_usual(&t, &read);
    let header = t.header.clone();
    t.finish();
    Candidate {
        mark_refused: !absent && fitted.is_none(),
        fitted,
        read,
        header,
        machining,
        swing_check,
        cut_from,
    }
}

/// What the candidates have to do with each other: which is cut from which, and the error that
/// wheels of one drawing share.
fn relate(diagnostics: &Diagnostics, candidates: &mut [Candidate]) {
    let before = diagnostics.problem_count();
    let wheels: Vec<Blank<'_>> = candidates
        .iter()
        .map(|candidate| Blank {
            read: &candidate.read,
            cut_from: candidate.cut_from.as_ref(),
        })
        .collect();
    let named = cut_from::blanks(diagnostics, &wheels);
    if diagnostics.problem_count() > before {
        return;
    }
    let scales = cut_from::drawing_scales(diagnostics, &wheels, &named);
    if !diagnostics.is_drawn() {
        cut_from::check_metal(diagnostics, &wheels, &named);
    }
    for (candidate, scale) in candidates.iter_mut().zip(scales) {
        if let Some(scale) = scale {
            candidate.read.scale(scale);
        }
    }
}

/// Reads all candidates, and holds them against each other.
pub(super) fn read(tables: Vec<TableReader<'_>>) -> Option<Flywheels> {
    let diagnostics = tables.first()?.diagnostics;
    let before = diagnostics.problem_count();
    let there = tables.iter().any(TableReader::is_there);
    let mut candidates: Vec<Candidate> = tables.into_iter().map(candidate).collect();
    relate(diagnostics, &mut candidates);
    for problem in fitted_problem(&candidates)
        .filter(|_| there)
        .into_iter()
        .chain(same_names(&candidates))
    {
        diagnostics.problem(problem);
    }
    if !there || diagnostics.problem_count() > before {
        return None;
    }
    let wheels: Option<Vec<(Flywheel, bool)>> = candidates
        .into_iter()
        .map(|candidate| {
            let part = candidate.read.part()?;
            let material = candidate.read.material;
            let machining = candidate.machining?;
            let fitted = candidate.fitted.is_some_and(|fitted| fitted.value);
            let wheel = Flywheel {
                part,
                material,
                machining,
                swing_check: candidate.swing_check.ok()?,
                cut_from: candidate.cut_from.map(|from| from.value),
            };
            Some((wheel, fitted))
        })
        .collect();
    Flywheels::new(wheels?).ok()
}

fn fitted_problem(candidates: &[Candidate]) -> Option<Problem> {
    let mut marked = candidates
        .iter()
        .filter_map(|c| c.fitted.as_ref())
        .filter(|fitted| fitted.value);
    let first = marked.next();
    match (first, marked.next()) {
        (Some(_), None) => None,
        (Some(first), Some(second)) => Some(
            Problem::new(second.place.clone(), "two flywheels are marked as the one in the car now")
                .label("marked again")
                .also(first.place.clone(), "marked here")
                .help("the driver's unsteadiness is measured with the wheel that is fitted now; keep fitted = true with that one alone"),
        ),
        (None, _) if candidates.iter().any(|c| c.mark_refused) => None,
        (None, _) => candidates.first().map(|c| {
            Problem::new(c.header.clone(), "no flywheel is marked as the one in the car now")
                .help("put fitted = true under the [[flywheel]] that is fitted now")
                .sort(Sort::Missing)
        }),
    }
}

fn same_names(candidates: &[Candidate]) -> Vec<Problem> {
    let names: Vec<&Found<String>> = candidates
        .iter()
        .filter_map(|c| c.read.name.as_ref())
        .collect();
    let mut problems = Vec::new();
    for (index, name) in names.iter().enumerate() {
        let earlier = names
            .iter()
            .take(index)
            .find(|other| other.value == name.value);
        if let Some(earlier) = earlier {
            problems.push(
                Problem::new(
                    name.place.clone(),
                    format!("two flywheels are called {}", name.read),
                )
                .label("this name again")
                .also(earlier.place.clone(), "first here")
                .help("results go by the name: give each flywheel its own"),
            );
        }
    }
    problems
}

fn check_usual(t: &TableReader<'_>, read: &PartRead) {
    let Some(part) = read.part() else { return };
    let key = |key: &str| format!("flywheel \"{}\", {key}", part.name);
    let check = |usual, name, value| {
        t.diagnostics
            .check_usual(usual, key(name), value, &t.header);
    };
    if let Some(mass) = part.mass_kg() {
        check(&FLYWHEEL_MASS, "mass", mass);
    }
    check(&FLYWHEEL_INERTIA, "inertia", part.inertia_kg_m2());
    if let Some(material) = &read.material
        && material.failure == Failure::Brittle
    {
        let warning = PartWarning::BrittleFlywheel {
            material: material.name.clone(),
        };
        let part = part.name.clone();
        t.diagnostics.warning(
            Warning::Part { part, warning },
            Some(&t.key_place(part::MATERIAL)),
        );
    }
}
