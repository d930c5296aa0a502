//! Two flywheels under the same chances: how often one is quicker.

use super::LaunchTable;
use super::grid::GridLine;
use super::replicated::Replicated;

/// Chances of launch speed are tried in steps of this, standard deviations …
const STEP: f64 = 0.02;
/// … so many of them to either side of the aim: 6e-7 lies beyond.
const STEPS: u32 = 250;

/// One side: its table, the launch speed it is aimed at and its deviation, rad/s.
#[derive(Debug, Clone, Copy)]
pub struct Aimed<'t> {
    /// The table.
    pub table: &'t LaunchTable,
    /// Launch speed aimed at.
    pub aim_rad_s: f64,
    /// Its standard deviation.
    pub sd_rad_s: f64,
}

impl Aimed<'_> {
    /// The launch speed of a chance, rad/s.
    pub(super) fn speed_rad_s(&self, chance: f64) -> f64 {
        (self.aim_rad_s + self.sd_rad_s * chance)
            .clamp(self.table.law.lowest_rad_s, self.table.law.highest_rad_s)
    }

    /// Share that gets away, and time, at a chance of the launch speed, along one line.
    pub(super) fn at(&self, line: &GridLine, chance: f64) -> Option<(f64, f64)> {
        let grid = &self.table.grid;
        let steps = (self.speed_rad_s(chance) - grid.low_rad_s) / grid.step_rad_s;
        let below = super::smoothing::whole(steps).min(grid.len.saturating_sub(2));
        let part = steps - super::smoothing::steps(below);
        let between = |values: &[f64]| {
            let (from, to) = (values.get(below)?, values.get(below + 1)?);
            Some(from + part * (to - from))
        };
        Some((between(&line.away)?, between(&line.time_s)?))
    }
}

/// Share of paired launches that the first wins: it gets away, and the other does not or is
/// slower. Equal times are nobody's win.
pub fn share_won(one: &Aimed, other: &Aimed) -> Replicated {
    let chances: Vec<(f64, f64)> = (0..=2 * STEPS)
        .map(|i| STEP * (f64::from(i) - f64::from(STEPS)))
        .map(|chance| (chance, (-0.5 * chance * chance).exp()))
        .collect();
    let sum: f64 = chances.iter().map(|(_, density)| density).sum();
    let won_by = |own: &[GridLine], others: &[GridLine]| -> Vec<f64> {
        own.iter()
            .zip(others)
            .map(|(own, others)| {
                chances
                    .iter()
                    .filter_map(|(chance, density)| {
                        let (own_away, own_s) = one.at(own, *chance)?;
                        let (other_away, other_s) = other.at(others, *chance)?;
                        let alone = (own_away - other_away).max(0.0);
                        let both = if own_s < other_s {
                            own_away.min(other_away)
                        } else {
                            0.0
                        };
                        Some(density / sum * (alone + both))
                    })
                    .sum()
            })
            .collect()
    };
    let won = won_by(&one.table.lines, &other.table.lines);
    let thinned = won_by(&one.table.thinned, &other.table.thinned);
    let total = |won: &[f64], weights: &[f64]| -> f64 {
        won.iter()
            .zip(weights)
            .map(|(won, weight)| won * weight)
            .sum()
    };
    let weights = &one.table.weights;
    Replicated {
        value: total(&won, &weights.all),
        without: weights.without.iter().map(|w| total(&won, w)).collect(),
        thinned: total(&thinned, &weights.all),
    }
}
