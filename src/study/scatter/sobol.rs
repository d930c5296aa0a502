//! Points that fill a space evenly.
//!
//! Owen-scrambled Sobol points (the `sobol_burley` crate; direction numbers of Joe & Kuo 2008),
//! in blocks that are scrambled independently: within a block the points fill the space evenly,
//! so means settle faster than with plain random numbers; from block to block they are
//! independent, so the spread of the blocks' means is an honest measure of the error
//! (randomised quasi-Monte Carlo; Owen, *Monte Carlo theory, methods and examples*, ch. 17,
//! from memory).

use crate::numerics::seed::block_seed;

/// Independent blocks that the draws come in.
pub const BLOCKS: usize = 16;

/// The seed of a block.
pub(super) fn seed_of(seed: u32, block: usize) -> u32 {
    block_seed(seed, 0, u32::try_from(block).unwrap_or(u32::MAX))
}

/// A coordinate strictly between 0 and 1 of one scrambled Sobol point.
pub(in crate::study) fn unit_point(index: usize, dimension: u32, seed: u32) -> f64 {
    /// Half the spacing of the crate's 24-bit fractions: keeps a coordinate off 0 and 1.
    const HALF_SPACING: f64 = 0.5 / 16_777_216.0;
    let index = u32::try_from(index).unwrap_or(u32::MAX) & 0xFFFF;
    f64::from(sobol_burley::sample(index, dimension, seed)) + HALF_SPACING
}
