//! One JSON document a command. SI units, the unit in the key; what was not reached is `null`.

mod card;
mod check;
mod compare;
mod cut;
mod decide;
mod disc;
mod doubts;
mod fit;
mod gearing;
#[cfg(test)]
mod identifier_tests;
mod inertia;
mod launch;
mod logged_run;
mod practice;
mod sheet_schema;
mod swing;
mod window;

pub use card::card;
pub use check::check;
pub use compare::compare;
pub use cut::cut;
pub use decide::decide;
pub use fit::fit;
pub use gearing::gearing;
pub use inertia::inertia;
pub use launch::launch;
pub use practice::practice;
pub use sheet_schema::sheet_schema;
pub use swing::{swing, swing_of_part};
pub use window::window;

use crate::sheet::{DefaultUsed, PlacedWarning, Reading};
use crate::units::System;
use serde::Serialize;

/// Rounds a frequency of rotation to rpm for a document.
pub(super) fn rpm(speed_rad_s: f64) -> f64 {
    speed_rad_s / crate::car::constants::RAD_S_PER_RPM
}

/// A document as text, a line feed at its end.
pub(super) fn document(value: &impl Serialize) -> String {
    // Numbers and strings in structs: nothing of it can fail to become JSON.
    serde_json::to_string_pretty(value).map_or_else(|_| String::from("null\n"), |text| text + "\n")
}

/// What a sheet left open, and what is worth a second look.
#[derive(Debug, Serialize)]
pub(super) struct Read {
    defaults: Vec<Default_>,
    /// The key keeps the name it has always had.
    #[serde(rename = "doubts")]
    warnings: Vec<String>,
}

#[derive(Debug, Serialize)]
#[serde(rename = "default")]
struct Default_ {
    key: String,
    value: String,
    reason: String,
}

impl Read {
    pub(super) fn of(reading: &Reading) -> Self {
        Self::of_notes(&reading.defaults, &reading.warnings)
    }

    pub(super) fn of_notes(defaults: &[DefaultUsed], warnings: &[PlacedWarning]) -> Self {
        Self {
            defaults: defaults
                .iter()
                .map(|default| Default_ {
                    key: default.key.clone(),
                    value: default.shown(System::Metric),
                    reason: default.reason.to_string(),
                })
                .collect(),
            warnings: warnings
                .iter()
                .map(|placed| placed.warning.text(System::Metric))
                .collect(),
        }
    }
}
