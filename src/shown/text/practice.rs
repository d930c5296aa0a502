//! Practice launches.

use super::table::Figures;
use super::{rpm, wrapped};
use crate::study::practice::{Drift, PracticeStudy};

/// What practice launches say, against a target in rad/s if there is one.
pub fn practice(study: &PracticeStudy, target_rad_s: Option<f64>) -> String {
    let mut text = table(study);
    text.push('\n');
    for sentence in sentences(study, target_rad_s) {
        text.push_str(&wrapped(&sentence));
    }
    text
}

fn table(study: &PracticeStudy) -> String {
    let mut table = Figures::new("Practice launches", &["rpm", "95 % sure"]);
    let (mean, sd) = (&study.mean_interval_rad_s, &study.sd_interval_rad_s);
    table.row(
        "How many",
        [study.launches.len().to_string(), String::new()],
    );
    table.row(
        "Mean launch speed",
        [
            rpm(study.mean_rad_s),
            format!("{} to {}", rpm(mean.low), rpm(mean.high)),
        ],
    );
    table.row(
        "Scatter (one SD)",
        [
            rpm(study.sd_rad_s),
            format!("{} to {}", rpm(sd.low), rpm(sd.high)),
        ],
    );
    if let Some(drift) = &study.drift_rad_s {
        table.row(
            "Drift, first launch to last",
            [
                rpm(drift.change_rad_s),
                format!(
                    "{} to {}",
                    rpm(drift.interval_rad_s.low),
                    rpm(drift.interval_rad_s.high)
                ),
            ],
        );
    }
    table.text()
}

fn sentences(study: &PracticeStudy, target_rad_s: Option<f64>) -> Vec<String> {
    let mut said: Vec<String> = target_rad_s
        .map(|target| offset(study, target))
        .into_iter()
        .collect();
    said.extend(mixed(&study.flywheels));
    said.extend(study.drift_rad_s.as_ref().map(drift));
    for index in &study.outliers {
        if let Some(speed) = study.launches.get(*index) {
            said.push(format!(
                "Launch {} at {} rpm lies far from the rest. It is counted all the same: leave it out only if you know what went wrong.",
                index + 1,
                rpm(*speed)
            ));
        }
    }
    said.push(format!(
        "Another {} launches would halve the interval of the scatter.",
        study.more_to_halve
    ));
    said
}

/// What is said where launches with several flywheels are taken together.
fn mixed(flywheels: &[Option<String>]) -> Option<String> {
    let named: Vec<String> = flywheels
        .iter()
        .flatten()
        .map(|name| format!("\"{name}\""))
        .collect();
    if named.len() < 2 {
        return None;
    }
    let unnamed = if flywheels.contains(&None) {
        ", and some with none named"
    } else {
        ""
    };
    Some(format!(
        "These are launches with several flywheels taken together: {}{unnamed}. A lighter one is held less steadily, so the scatter is a mixture: --wheel NAME takes those with one alone.",
        named.join(", ")
    ))
}

fn offset(study: &PracticeStudy, target: f64) -> String {
    let off = study.mean_rad_s - target;
    if study.mean_interval_rad_s.contains(target) {
        return format!(
            "On average {} rpm off the target of {} rpm: no more than chance.",
            rpm(off.abs()),
            rpm(target)
        );
    }
    let side = if off > 0.0 { "above" } else { "below" };
    format!(
        "On average {} rpm {side} the target of {} rpm, more than chance: correct by that much.",
        rpm(off.abs()),
        rpm(target)
    )
}

fn drift(drift: &Drift) -> String {
    if !drift.shows() {
        return "No drift over the day that is more than chance.".into();
    }
    let way = if drift.change_rad_s > 0.0 {
        "rose"
    } else {
        "fell"
    };
    format!(
        "The launch speed {way} by {} rpm over the day, more than chance: part of the scatter is drift.",
        rpm(drift.change_rad_s.abs())
    )
}
