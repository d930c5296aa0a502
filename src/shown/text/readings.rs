//! What it comes to: for who must be quick, for who must be steady, and what to work on first.

use super::{about_rpm, percent, rpm, seconds};
use crate::study::comparison::{Comparison, Contender};
use crate::study::findings::{Beaten, Choice, Findings, MattersMost, PracticeFinding};
use crate::study::scatter::sensitivity::Cause;

/// What a comparison says, in sentences.
#[derive(Debug, Default)]
pub(super) struct Readings {
    /// Which flywheel for whom.
    pub(super) comes_to: Vec<String>,
    /// Where the spread comes from, and how sure the driver's own figure is.
    pub(super) work_on: Vec<String>,
}

/// Every reading, a sentence or two each.
pub(super) fn readings(comparison: &Comparison) -> Readings {
    let mut said = Readings::default();
    if let Some(findings) = comparison.findings() {
        said.comes_to.extend(heads_up(&findings));
        said.comes_to.push(bracket(&findings));
        said.comes_to.extend(findings.beaten.iter().map(beaten));
        said.work_on.extend(
            findings
                .matters_most
                .as_ref()
                .map(|most| work_on_first(&findings.quick.wheel, most)),
        );
    }
    if let Some(found) = comparison.practice() {
        said.work_on.extend(practice(&found));
    }
    said
}

/// Quick wins: to 60 ft, and down to 1,320 ft.
fn heads_up(findings: &Findings) -> [String; 2] {
    let (to_sixty, to_the_end) = (&findings.quick, &findings.quick_over_1320);
    [
        format!(
            "Heads-up racing, where quick wins: to 60 ft \"{}\", aimed at {}, {} s on average{}.",
            to_sixty.wheel.name(),
            about_rpm(to_sixty.wheel.scatter.aim.launch_speed_rad_s),
            seconds(to_sixty.wheel.scatter.aim.mean_s),
            not_decided(to_sixty),
        ),
        format!(
            "Down to 1,320 ft, where the lighter earns in every gear: \"{}\", {} s on average{}.",
            to_the_end.wheel.name(),
            seconds(to_the_end.wheel.scatter.quarter.mean_s),
            not_decided(to_the_end),
        ),
    ]
}

/// The flywheels that one is not decided against.
fn not_decided(choice: &Choice) -> String {
    let names: Vec<String> = choice
        .rivals()
        .map(|rival| format!("\"{}\"", rival.name()))
        .collect();
    if names.is_empty() {
        String::new()
    } else {
        format!(" (undecided against {})", names.join(" and "))
    }
}

/// Steady wins.
fn bracket(findings: &Findings) -> String {
    let (to_sixty, to_the_end) = (findings.steady, findings.steady_over_1320);
    format!(
        "Bracket racing, where steady wins: \"{}\", aimed at {}, spreads by {} s about {} s to 60 ft; down to 1,320 ft \"{}\" by {} s.",
        to_sixty.name(),
        about_rpm(to_sixty.scatter.aim.launch_speed_rad_s),
        seconds(to_sixty.scatter.aim.sd_s),
        seconds(to_sixty.scatter.aim.mean_s),
        to_the_end.name(),
        seconds(to_the_end.scatter.quarter.sd_s),
    )
}

fn beaten(beaten: &Beaten) -> String {
    let sure = if beaten.sure {
        ""
    } else {
        ", though not beyond the error of the draws"
    };
    format!(
        "\"{}\" is beaten on both counts, quick and steady, by \"{}\"{sure}.",
        beaten.wheel.name(),
        beaten.by.name()
    )
}

/// What the spread of the quickest flywheel comes from, the greatest cause first.
fn work_on_first(quick: &Contender, most: &MattersMost) -> String {
    let share = |value: f64| percent(value.clamp(0.0, 1.0));
    let parts: Vec<String> = most
        .causes
        .iter()
        .map(|(cause, sensitivity)| {
            let interval = &sensitivity.first.interval;
            format!(
                "{} {} ({} to {})",
                cause.words(),
                share(sensitivity.first.value),
                share(interval.low),
                share(interval.high)
            )
        })
        .collect();
    let head = if most.decided {
        let advice = match most.first {
            Cause::LaunchSpeed => "holding the launch speed is what to practise first",
            Cause::Release => "an even clutch release is what to practise first",
            Cause::Grip => "no practice mends that, burnout and staging spot may",
        };
        format!(
            "What matters most with \"{}\" is {}: {advice}",
            quick.name(),
            most.first.words()
        )
    } else {
        format!(
            "What matters most with \"{}\" is not decided between {} and {}",
            quick.name(),
            most.first.words(),
            most.second.words()
        )
    };
    format!(
        "{head}. Held still alone, each would take away of the spread's square: {}.",
        parts.join(", ")
    )
}

/// How sure the driver's measured scatter is, and whether that sways the answer.
fn practice(found: &PracticeFinding) -> Vec<String> {
    let sure = &found.study.sd_interval_rad_s;
    let mut said = vec![format!(
        "The driver's scatter comes from {} practice launches: {} rpm, 95 % sure to lie between {} and {} rpm.",
        found.study.launches.len(),
        rpm(found.study.sd_rad_s),
        rpm(sure.low),
        rpm(sure.high)
    )];
    let open: Vec<String> = found
        .may_turn
        .iter()
        .map(|held| {
            format!(
                "\"{}\" and \"{}\"",
                held.lighter.name(),
                held.heavier.name()
            )
        })
        .collect();
    if !open.is_empty() {
        said.push(format!(
            "Within that lies the break-even of {}: more practice launches may turn that answer round.",
            open.join("; of ")
        ));
    }
    said
}
