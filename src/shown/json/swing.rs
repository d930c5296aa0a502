//! `flyheft/swing/1`.

use super::{Read, document};
use crate::metal::swing::{Agreement, SwingAnalysis, ThreeWay};
use crate::sheet::Reading;
use crate::sheet::part_file::PartReading;
use crate::shown::text::{assumed_words, expanded, warnings as warning_words};
use crate::study::swinging::{COVERAGE, SwungResult};
use crate::units::System;
use serde::Serialize;

#[derive(Debug, Serialize)]
struct Document<'a> {
    schema: &'static str,
    title: &'a str,
    coverage: f64,
    parts: Vec<PartFields<'a>>,
    #[serde(flatten)]
    read: Read,
}

#[derive(Debug, Serialize)]
struct PartFields<'a> {
    name: &'a str,
    stands: &'static str,
    inertia_kg_m2: f64,
    inertia_uncertainty_kg_m2: f64,
    inertia_expanded_kg_m2: f64,
    gyration_m: f64,
    gyration_expanded_m: f64,
    period_s: f64,
    stretch: f64,
    budget: Vec<InputFields>,
    doubts_of_the_test: Vec<&'static str>,
    doubts_in_words: Vec<String>,
    assumed: Vec<&'static str>,
    assumed_in_words: Vec<String>,
    three_way: Option<ThreeWayFields>,
}

#[derive(Debug, Serialize)]
struct InputFields {
    input: &'static str,
    uncertainty_kg_m2: f64,
    share_of_variance: f64,
}

#[derive(Debug, Serialize)]
struct ThreeWayFields {
    mass_difference_kg: f64,
    mass_en: f64,
    inertia_difference_kg_m2: f64,
    inertia_en: f64,
    gyration_difference_m: f64,
    gyration_en: f64,
    scaled_inertia_kg_m2: f64,
    agree: bool,
    verdict: &'static str,
}

impl ThreeWayFields {
    fn of(three: &ThreeWay) -> Self {
        let all = [&three.mass, &three.inertia, &three.gyration];
        Self {
            mass_difference_kg: three.mass.difference,
            mass_en: three.mass.en_number,
            inertia_difference_kg_m2: three.inertia.difference,
            inertia_en: three.inertia.en_number,
            gyration_difference_m: three.gyration.difference,
            gyration_en: three.gyration.en_number,
            scaled_inertia_kg_m2: three.scaled_inertia_kg_m2,
            agree: all.into_iter().all(Agreement::holds),
            verdict: three.verdict.id(),
        }
    }
}

/// What is worth a second look, each once.
fn warnings(analysis: &SwingAnalysis) -> Vec<&'static str> {
    let mut told: Vec<&'static str> = Vec::new();
    for warning in &analysis.warnings {
        if !told.contains(&warning.id()) {
            told.push(warning.id());
        }
    }
    told
}

impl<'a> PartFields<'a> {
    fn of(result: &'a SwungResult) -> Self {
        let analysis = &result.analysis;
        let (inertia, gyration) = (&analysis.inertia_kg_m2.result, &analysis.gyration_m.result);
        Self {
            name: &result.swung.part.name,
            stands: result.swung.stands.id(),
            inertia_kg_m2: inertia.value,
            inertia_uncertainty_kg_m2: inertia.uncertainty,
            inertia_expanded_kg_m2: expanded(inertia),
            gyration_m: gyration.value,
            gyration_expanded_m: expanded(gyration),
            period_s: analysis.period.period_s.value,
            stretch: analysis.stretch,
            budget: analysis
                .inertia_kg_m2
                .contributions
                .iter()
                .map(|part| InputFields {
                    input: part.input.id(),
                    uncertainty_kg_m2: part.uncertainty,
                    share_of_variance: part.share_of_variance,
                })
                .collect(),
            doubts_of_the_test: warnings(analysis),
            doubts_in_words: warning_words(result),
            assumed: result
                .swung
                .assumed
                .iter()
                .map(|assumed| assumed.id())
                .collect(),
            assumed_in_words: result
                .swung
                .assumed
                .iter()
                .map(|assumed| assumed_words(*assumed, System::Metric))
                .collect(),
            three_way: result.three_way.as_ref().map(ThreeWayFields::of),
        }
    }
}

/// The document of a car's swing tests.
pub fn swing(reading: &Reading, results: &[SwungResult]) -> String {
    of(&reading.car.title, Read::of(reading), results)
}

/// The document of the swing tests of a part alone.
pub fn swing_of_part(reading: &PartReading, results: &[SwungResult]) -> String {
    let read = Read::of_notes(&reading.defaults, &reading.warnings);
    of(&reading.part.name, read, results)
}

fn of(title: &str, read: Read, results: &[SwungResult]) -> String {
    document(&Document {
        schema: "flyheft/swing/1",
        title,
        coverage: COVERAGE,
        parts: results.iter().map(PartFields::of).collect(),
        read,
    })
}
