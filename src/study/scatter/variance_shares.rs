//! What the spread of sixty-foot time comes from, as shares of its variance.

use crate::numerics::Estimate;

/// Number of inputs.
pub const INPUTS: usize = 3;

/// The shares of one input, from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InputShare {
    /// What would go if this alone were held still: `Var E[T | this]/Var T`.
    pub first: Estimate,
    /// What would stay if all others were held still: `1 − Var E[T | the others]/Var T`.
    pub total: Estimate,
}
