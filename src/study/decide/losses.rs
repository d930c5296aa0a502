//! What each flywheel loses, sheet by sheet, against the quickest in that sheet.

use crate::numerics::Interval;
use crate::numerics::quantile::normal_errors;
use crate::numerics::summary::{mean, mean_interval, percentile};

/// Losses of several choices over drawn sheets, s: never below 0, and 0 for the best in a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Losses {
    /// One list a choice, one number a sheet.
    by_choice: Vec<Vec<f64>>,
    /// Sheets in each independent block of draws.
    block_len: usize,
}

impl Losses {
    /// From what each choice costs in each sheet (one list a choice), drawn in independent blocks
    /// of so many sheets.
    ///
    /// `Loss(w, θ) = m(w, θ) − min over all choices`.
    pub fn of_costs(costs: &[Vec<f64>], block_len: usize) -> Self {
        let sheets = costs.first().map_or(0, Vec::len);
        let least: Vec<f64> = (0..sheets)
            .map(|sheet| {
                let here = costs.iter().filter_map(|choice| choice.get(sheet));
                here.copied().fold(f64::INFINITY, f64::min)
            })
            .collect();
        let by_choice = costs
            .iter()
            .map(|choice| choice.iter().zip(&least).map(|(c, l)| c - l).collect())
            .collect();
        Self {
            by_choice,
            block_len: block_len.max(1),
        }
    }

    /// How many choices.
    pub fn choices(&self) -> usize {
        self.by_choice.len()
    }

    /// How many sheets.
    pub fn sheets(&self) -> usize {
        self.by_choice.first().map_or(0, Vec::len)
    }

    /// Losses of one choice, sheet by sheet, s; empty where there is no such choice.
    pub fn of(&self, choice: usize) -> &[f64] {
        self.by_choice.get(choice).map_or(&[], Vec::as_slice)
    }

    /// Mean loss of a choice, s.
    pub fn mean(&self, choice: usize) -> f64 {
        mean(self.of(choice))
    }

    /// Loss of a choice in the worst 1 in 20, s: its 95th percentile.
    pub fn worst_in_20(&self, choice: usize) -> f64 {
        percentile(self.of(choice), 0.95)
    }

    /// 95 % interval of that: between the losses whose ranks a count of sheets beyond the 95th
    /// percentile would have in 19 cases of 20, were they drawn one by one (order statistics; any
    /// text of non-parametric statistics). Sheets that fill their space evenly do no worse.
    pub fn worst_in_20_interval(&self, choice: usize) -> Interval {
        let off = normal_errors() * (0.95 * 0.05 / as_float(self.sheets().max(1))).sqrt();
        let at = |share: f64| percentile(self.of(choice), share.clamp(0.0, 1.0));
        Interval {
            low: at(0.95 - off),
            high: at(0.95 + off),
        }
    }

    /// Loss of a choice in the worst sheet drawn, s.
    pub fn worst(&self, choice: usize) -> f64 {
        self.of(choice).iter().copied().fold(0.0, f64::max)
    }

    /// Mean loss of a choice with its 95 % interval, which ends at 0, s.
    pub fn mean_interval(&self, choice: usize) -> Interval {
        let (_, interval) = self.mean_with_interval(self.of(choice));
        Interval {
            low: interval.low.max(0.0),
            high: interval.high,
        }
    }

    /// Share of the sheets in which a choice is best, with its 95 % interval; sheets with several
    /// best are shared out.
    pub fn chance_best(&self, choice: usize) -> (f64, Interval) {
        let is_best = |choice: usize, sheet: usize| {
            let loss = self.of(choice).get(sheet);
            loss.is_some_and(|loss| *loss <= 0.0)
        };
        let per_sheet: Vec<f64> = (0..self.sheets())
            .map(|sheet| {
                if !is_best(choice, sheet) {
                    return 0.0;
                }
                let best = (0..self.choices()).filter(|other| is_best(*other, sheet));
                1.0 / as_float(best.count())
            })
            .collect();
        let (share, interval) = self.mean_with_interval(&per_sheet);
        let interval = Interval {
            low: interval.low.clamp(0.0, 1.0),
            high: interval.high.clamp(0.0, 1.0),
        };
        (share, interval)
    }

    /// The choice with the least mean loss among some.
    pub fn best_on_average(&self, among: &[usize]) -> Option<usize> {
        among
            .iter()
            .copied()
            .min_by(|a, b| self.mean(*a).total_cmp(&self.mean(*b)))
    }

    /// Mean over the sheets of the least loss among some choices, s: what perfect knowledge leaves.
    pub fn mean_of_least(&self, among: &[usize]) -> f64 {
        let least: Vec<f64> = (0..self.sheets())
            .map(|sheet| {
                let here = among
                    .iter()
                    .filter_map(|choice| self.of(*choice).get(sheet));
                here.copied().fold(f64::INFINITY, f64::min)
            })
            .collect();
        mean(&least)
    }

    /// Mean of numbers that belong to the sheets one by one, with its 95 % interval from the
    /// independent blocks that the sheets were drawn in.
    pub fn mean_with_interval(&self, per_sheet: &[f64]) -> (f64, Interval) {
        let blocks: Vec<f64> = per_sheet.chunks(self.block_len).map(mean).collect();
        (mean(per_sheet), mean_interval(&blocks))
    }
}

/// A count as a float (exact below 2^53).
#[expect(clippy::cast_precision_loss, reason = "counts stay far below 2^53")]
pub(super) fn as_float(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Of losses that rise evenly from 0 to 1 over a thousand sheets the 95th percentile is 0.95, its
    /// interval 1.96 √(0.95 · 0.05/1000) = 0.0135 to either side, and the worst is 1: to the step
    /// between two sheets.
    #[test]
    fn reference_worst_in_20_of_even_losses() {
        let rising: Vec<f64> = (0..1000).map(|i| f64::from(i) / 999.0).collect();
        let losses = Losses::of_costs(&[vec![0.0; 1000], rising], 100);
        let told = losses.worst_in_20_interval(1);
        assert_relative_eq!(losses.worst_in_20(1), 0.95, epsilon = 2e-3);
        assert_relative_eq!(told.low, 0.9365, epsilon = 2e-3);
        assert_relative_eq!(told.high, 0.9635, epsilon = 2e-3);
        assert_relative_eq!(losses.worst(1), 1.0, epsilon = 1e-12);
    }

    /// Two choices, four sheets, by hand.
    #[test]
    fn law_losses_are_against_the_best_in_each_sheet() {
        let losses = Losses::of_costs(&[vec![2.0, 2.0, 2.0, 2.0], vec![1.9, 2.3, 2.0, 2.1]], 2);
        assert_relative_eq!(losses.mean(0), 0.025, max_relative = 1e-12);
        assert_relative_eq!(losses.mean(1), 0.1, max_relative = 1e-12);
        assert_relative_eq!(losses.chance_best(0).0, 0.625, max_relative = 1e-12);
        assert_relative_eq!(losses.chance_best(1).0, 0.375, max_relative = 1e-12);
        assert_eq!(losses.best_on_average(&[0, 1]), Some(0));
        assert!(losses.mean_of_least(&[0, 1]).abs() < 1e-15);
    }
}
