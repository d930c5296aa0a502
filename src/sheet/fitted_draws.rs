//! What a fit has learnt of several values at once, as weighted draws.

use super::drawn::ValueDoubt;
use crate::car::doubt::{Doubt, DoubtOrigin, JointDraws};

/// Weighted sets of values of several keys.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    pub(super) keys: Vec<String>,
    pub(super) weighted: Vec<(f64, Vec<f64>)>,
}

impl Fitted {
    /// The draws by the places of their keys among the doubts.
    pub(super) fn joint(&self, doubts: &[ValueDoubt]) -> Option<JointDraws> {
        let position = |key: &String| doubts.iter().position(|doubt| doubt.input.key == *key);
        let positions: Option<Vec<usize>> = self.keys.iter().map(position).collect();
        JointDraws::new(positions?, self.weighted.clone())
    }

    /// Puts what the draws say of each value alone in place of the doubt it had before.
    pub(super) fn replace(&self, doubts: &mut [ValueDoubt]) {
        let total: f64 = self.weighted.iter().map(|(weight, _)| weight).sum();
        for (column, key) in self.keys.iter().enumerate() {
            let Some(doubt) = doubts.iter_mut().find(|doubt| doubt.input.key == *key) else {
                continue;
            };
            let mean_of = |of: &dyn Fn(f64) -> f64| {
                let values = self.weighted.iter().filter_map(|(weight, set)| {
                    let value = set.get(column)?;
                    Some(weight * of(*value))
                });
                values.sum::<f64>() / total
            };
            let mean = mean_of(&|value| value);
            let variance = mean_of(&|value| (value - mean).powi(2));
            doubt.input.doubt = Doubt::Normal {
                deviation: variance.sqrt(),
            };
            doubt.input.origin = DoubtOrigin::Fitted;
        }
    }
}
