//! Whether all runs together lie off the model to one side.
//!
//! One run may lie far off by chance, and that is why it is given room. The mean of many, each with
//! the say that its distance leaves it, may not:
//! where their sixty-foot times, say, are all later than a fitted model has them, something is at
//! work that the sheet does not know of, and what was fitted has been bent to make up for it.

use super::learnt::{Fit, ODD_BELOW, RunFit};
use super::model::reading_error;
use crate::car::slip::Shown;
use crate::numerics::quantile::standard_normal;

/// A mean that luck alone leaves so far off less often than this is no luck, both sides together;
/// less often still where the fit has drawn the model towards the runs.
const BY_LUCK: f64 = 0.01;
/// Fewer runs than this have no mean to speak of.
const FEWEST: usize = 3;

/// A figure of which the runs' mean lies off the model's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misfit {
    /// The figure.
    pub shown: Shown,
    /// Runs that show it and are not odd.
    pub runs: usize,
    /// Mean of what was read less what such runs usually show, each with its say, SI.
    pub mean: f64,
    /// Its standard error by readings and chance, SI.
    pub error: f64,
}

impl Fit {
    /// Figures of which the runs' mean lies further off the model's than chance allows.
    pub fn misfits(&self) -> Vec<Misfit> {
        let usual: Vec<&RunFit> = (self.runs.iter())
            .filter(|run| run.weight >= ODD_BELOW)
            .collect();
        let beyond = standard_normal(1.0 - 0.5 * BY_LUCK);
        let mut shown: Vec<Shown> = Vec::new();
        for figure in usual.iter().flat_map(|run| &run.slip.figures) {
            if !shown.contains(&figure.shown) {
                shown.push(figure.shown);
            }
        }
        shown
            .into_iter()
            .filter_map(|shown| mean_off(&usual, shown))
            .filter(|misfit| misfit.mean.abs() > beyond * misfit.error)
            .collect()
    }
}

fn mean_off(runs: &[&RunFit], shown: Shown) -> Option<Misfit> {
    let off: Vec<Off> = runs.iter().filter_map(|run| run.off(shown)).collect();
    if off.len() < FEWEST {
        return None;
    }
    let say: f64 = off.iter().map(|run| run.pull).sum();
    let variance: f64 = off.iter().map(|run| run.pull_variance).sum();
    Some(Misfit {
        shown,
        runs: off.len(),
        mean: off.iter().map(|run| run.pull * run.off).sum::<f64>() / say,
        error: variance.sqrt() / say,
    })
}

/// A figure as read less what such runs usually show, the run's say, and the variance of both
/// multiplied.
struct Off {
    off: f64,
    pull: f64,
    pull_variance: f64,
}

impl RunFit {
    /// How far a figure lies off; `None` where the slip does not show it.
    fn off(&self, shown: Shown) -> Option<Off> {
        let figures = self.slip.figures.iter();
        let of_model = self.usual.iter().zip(&self.pull_variance);
        let (figure, (usual, variance)) = figures
            .zip(of_model)
            .find(|(figure, _)| figure.shown == shown)?;
        Some(Off {
            off: figure.value - usual,
            pull: self.pull,
            pull_variance: variance + reading_error(figure).powi(2),
        })
    }
}
