//! Where the energy of the launches shown went, as shares of all that was put in.

use crate::launch::Launch;
use crate::shown::text::percent;
use crate::study::card::Shown;

/// One way for energy to go, with its share in each launch shown.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct EnergyRow {
    /// What it went into.
    pub(super) label: &'static str,
    /// The same in a word or two.
    pub(super) short: &'static str,
    /// Its share in each launch; nothing where the launch did not get to 60 ft.
    pub(super) shares: Vec<f64>,
}

impl EnergyRow {
    /// Its share in a launch, in words.
    pub(super) fn cells(&self) -> Vec<String> {
        self.shares
            .iter()
            .map(|share| {
                if share.is_nan() {
                    "–".into()
                } else {
                    percent(*share)
                }
            })
            .collect()
    }
}

type Term = fn(&Launch) -> f64;

/// What the energy went into. The crank side takes some in where the engine ends faster than
/// the launch speed; where it gives some up, that is part of what was put in.
const TERMS: [(&str, &str, Term); 6] = [
    ("Car and wheels moving", "car and wheels", |launch| {
        launch.energy.car_j + launch.energy.wheels_and_driveline_j
    }),
    (
        "Flywheel and crank spinning faster",
        "flywheel and crank",
        |launch| (-launch.energy.crank_side_given_up_j).max(0.0),
    ),
    ("Heat in the clutch", "clutch heat", |launch| {
        launch.energy.clutch_j
    }),
    ("Heat in the tyres", "tyre heat", |launch| {
        launch.energy.tyre_j
    }),
    ("Lost in gears and shafts", "gears, shafts", |launch| {
        launch.energy.driveline_loss_j
    }),
    ("Air and rolling", "air, rolling", |launch| {
        launch.energy.drag_j + launch.energy.rolling_j
    }),
];

/// The rows for the launches shown.
pub(super) fn energy_rows(shown: &[Shown]) -> Vec<EnergyRow> {
    let total_j = |launch: &Launch| -> f64 { TERMS.iter().map(|(_, _, term)| term(launch)).sum() };
    TERMS
        .iter()
        .map(|(label, short, term)| EnergyRow {
            label,
            short,
            shares: shown
                .iter()
                .map(|shown| match shown.launch.sixty_foot_s() {
                    Some(_) => term(&shown.launch) / total_j(&shown.launch),
                    None => f64::NAN,
                })
                .collect(),
        })
        .collect()
}
