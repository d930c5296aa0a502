//! Swing tests: inertia with its range, what to measure better first, who disagrees.

use super::table::Figures;
use super::wrapped;
use crate::car::checked::InnerShare;
use crate::metal::swing::{
    Assumed, LENGTH_WITHIN_M, MASS_WITHIN_KG, Quantity, RADIUS_WITHIN_M, REACTION_SD_S, SWINGS,
    SwingWarning, ThreeWay,
};
use crate::numerics::uncertainty::Measured;
use crate::study::swinging::{COVERAGE, Stands, SwungResult};
use crate::units::{Kind, System};
use std::fmt::Write as _;

/// Half the width of the range that holds the true value, in the value's unit.
pub(in crate::shown) fn expanded(value: &Measured) -> f64 {
    InnerShare::new(COVERAGE).map_or(f64::NAN, |coverage| value.expanded(coverage))
}

/// Swing tests under a title.
pub fn swing(title: &str, results: &[SwungResult], system: System) -> String {
    let mut text = format!("{title}\n");
    for result in results {
        text.push('\n');
        text.push_str(&one(result, system));
    }
    text.push('\n');
    text.push_str(&wrapped(
        "± holds the true value in 95 of 100 such tests, if nothing was missed. A hung flywheel falls hard: keep clear of it, \
         and see the guide to the swing test for cords and fixings. Inertia says nothing of strength or cracks.",
    ));
    text
}

fn one(result: &SwungResult, system: System) -> String {
    let (inertia, gyration) = (
        &result.analysis.inertia_kg_m2.result,
        &result.analysis.gyration_m.result,
    );
    let stands = match result.swung.stands {
        Stands::ForInertia => "its inertia comes from this test",
        Stands::AsCheck => "a check of its drawing",
    };
    let mut text = format!("Swing test: {} ({stands})\n", result.swung.part.name);
    let _ = writeln!(
        text,
        "Inertia {} ± {}  ({:.1} %)\nRadius of gyration {} ± {}\n",
        system.number(inertia.value, Kind::Inertia),
        system.show(expanded(inertia), Kind::Inertia),
        100.0 * expanded(inertia) / inertia.value,
        system.number(gyration.value, Kind::Length),
        system.show(expanded(gyration), Kind::Length),
    );
    text.push_str(&budget(result));
    for warning in warnings(result) {
        text.push_str(&wrapped(&format!("Warning: {warning}.")));
    }
    if !result.swung.assumed.is_empty() {
        let assumed: Vec<String> = result
            .swung
            .assumed
            .iter()
            .map(|assumed| assumed_words(*assumed, system))
            .collect();
        text.push_str(&wrapped(&format!(
            "Taken because nothing is told (common practice, no source): {}.",
            assumed.join("; ")
        )));
    }
    if let Some(three) = &result.three_way {
        text.push_str(&against(three, system));
    }
    text
}

/// What comes from each input alone, as a share of the inertia (one standard deviation).
fn budget(result: &SwungResult) -> String {
    let mut table = Figures::new("What to measure better first", &["adds ±", "share"]);
    let all = &result.analysis.inertia_kg_m2.contributions;
    let value = result.analysis.inertia_kg_m2.result.value;
    for part in all.iter().filter(|part| part.uncertainty > 0.0) {
        table.row(
            part.input.words(),
            [
                format!("{:.2} %", 100.0 * part.uncertainty / value),
                super::percent(part.share_of_variance),
            ],
        );
    }
    let mut text = table.text();
    if let Some(first) = all.first() {
        text.push_str(&wrapped(&format!(
            "Improve first: the {}. {}",
            first.input.words(),
            advice(first.input)
        )));
    }
    text
}

const fn advice(input: Quantity) -> &'static str {
    match input {
        Quantity::Period | Quantity::PlatformPeriod => {
            "Count more swings, or take splits (--splits): eleven splits over fifty swings beat two presses by a third."
        }
        Quantity::CordRadius => "It counts twice: measure hole to hole with a caliper.",
        Quantity::CordLength => "Measure plumb, from upper to lower fixing; longer cords help.",
        Quantity::PartMass | Quantity::PlatformMass => "Use better scales.",
        Quantity::Amplitude | Quantity::PlatformAmplitude => {
            "Swing less, and note the angle at start and end."
        }
        Quantity::Gravity => "Give your own place's: --gravity \"9.81 m/s²\".",
    }
}

/// Every doubt once: platform and part may give the same.
pub(in crate::shown) fn warnings(result: &SwungResult) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for warning in &result.analysis.warnings {
        let words = doubt_words(warning);
        if !said.contains(&words) {
            said.push(words);
        }
    }
    said
}

/// A warning in words.
fn doubt_words(warning: &SwingWarning) -> String {
    match warning {
        SwingWarning::AmplitudeNotTold => String::from(
            "how far it swung is not told; at 10° to either side the inertia would read 0.4 % high",
        ),
        SwingWarning::LargeAmplitude(rad) => format!(
            "it swung {:.0}° to either side; more than 10° is allowed for, but swing less",
            rad.to_degrees()
        ),
        SwingWarning::Miscounted { swing } => format!(
            "the split at swing {swing} is off by more than half a swing: it looks miscounted"
        ),
        SwingWarning::ScatterAboveReaction { scatter_s, told_s } => format!(
            "the splits scatter by {scatter_s:.2} s, more than twice the {told_s:.2} s told for a press"
        ),
        SwingWarning::HeavyPlatform { share } => format!(
            "the platform has {:.0} % of all that hung: a lighter one measures better",
            share * 100.0
        ),
    }
}

/// What was taken for granted.
pub(in crate::shown) fn assumed_words(assumed: Assumed, system: System) -> String {
    let length = |m: f64| super::passes::setting(m, system);
    match assumed {
        Assumed::RadiusWithin => format!("radius within ± {}", length(RADIUS_WITHIN_M)),
        Assumed::LengthWithin => format!("length within ± {}", length(LENGTH_WITHIN_M)),
        Assumed::MassWithin => {
            format!(
                "masses within ± {}",
                system.show(MASS_WITHIN_KG, Kind::Mass)
            )
        }
        Assumed::Swings => format!("timed over {SWINGS} swings"),
        Assumed::Reaction => format!("a press scatters by {REACTION_SD_S} s"),
    }
}

fn against(three: &ThreeWay, system: System) -> String {
    let mut table = Figures::new(
        "Drawing, scales, swing",
        &["difference", "over both ranges", "agrees"],
    );
    let agrees = |holds: bool| String::from(if holds { "yes" } else { "NO" });
    for (label, agreement, kind) in [
        ("mass: scales less drawing", &three.mass, Kind::Mass),
        ("inertia: swing less drawing", &three.inertia, Kind::Inertia),
        (
            "radius of gyration: swing less drawing",
            &three.gyration,
            Kind::Length,
        ),
    ] {
        table.row(
            label,
            [
                system.show(agreement.difference, kind),
                format!("{:.2}", agreement.en_number),
                agrees(agreement.holds()),
            ],
        );
    }
    format!(
        "\n{}{}",
        table.text(),
        wrapped(&format!(
            "Verdict: {}. The drawing scaled to the scales has {}.",
            three.verdict.words(),
            system.show(three.scaled_inertia_kg_m2, Kind::Inertia)
        ))
    )
}
