//! Seeded draws of the driver's and the day's chance.
//!
//! Owen-scrambled Sobol points (the `sobol_burley` crate; direction numbers of Joe & Kuo 2008),
//! in blocks that are scrambled independently: within a block the points fill the space evenly,
//! so means settle faster than with plain random numbers; from block to block they are
//! independent, so the spread of the blocks' means is an honest measure of the error
//! (randomised quasi-Monte Carlo; Owen, *Monte Carlo theory, methods and examples*, ch. 17,
//! from memory).

use crate::numerics::quantile::standard_normal;

/// Draws of one launch each where nobody says otherwise.
pub const DEFAULT_DRAWS: usize = 2048;
/// The seed where nobody says otherwise.
pub const DEFAULT_SEED: u32 = 1;
/// Independent blocks that the draws come in.
pub const BLOCKS: usize = 16;
/// Fewest draws: two points a block.
pub const FEWEST_DRAWS: usize = 2 * BLOCKS;
/// Most draws: the sequence has 65,536 points a block.
pub const MOST_DRAWS: usize = BLOCKS * 65_536;

/// The chance of one launch: three independent standard normal numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// How far off the launch speed is.
    pub speed: f64,
    /// How far off the logarithm of the release time is.
    pub release: f64,
    /// How far off the grip is.
    pub grip: f64,
}

/// The same chances for every flywheel, in independent blocks.
#[derive(Debug, Clone, PartialEq)]
pub struct Draws {
    chances: Vec<Chance>,
    block_len: usize,
    seed: u32,
}

impl Draws {
    /// About `count` draws (rounded up to whole blocks, kept between the fewest and the most)
    /// from a seed.
    pub fn new(count: usize, seed: u32) -> Self {
        let count = count.clamp(FEWEST_DRAWS, MOST_DRAWS);
        let block_len = count.div_ceil(BLOCKS);
        let chances = (0..BLOCKS)
            .flat_map(|block| (0..block_len).map(move |index| (block, index)))
            .map(|(block, index)| {
                let at = |dimension: u32| {
                    standard_normal(unit_point(index, dimension, block_seed(seed, block)))
                };
                Chance {
                    speed: at(0),
                    release: at(1),
                    grip: at(2),
                }
            })
            .collect();
        Self {
            chances,
            block_len,
            seed,
        }
    }

    /// All chances, block after block.
    pub fn chances(&self) -> &[Chance] {
        &self.chances
    }

    /// The seed they came from.
    pub fn seed(&self) -> u32 {
        self.seed
    }

    /// Draws in each block.
    pub fn block_len(&self) -> usize {
        self.block_len
    }

    /// Means over each block of numbers that belong to the draws one by one.
    pub fn block_means(&self, values: &[f64]) -> Vec<f64> {
        values
            .chunks(self.block_len)
            .map(crate::numerics::summary::mean)
            .collect()
    }
}

/// A seed of its own for each block (the multiplier is the 32-bit golden-ratio constant of
/// Knuth's multiplicative hash, *TAOCP* 6.4, from memory).
fn block_seed(seed: u32, block: usize) -> u32 {
    const GOLDEN_RATIO_32: u32 = 0x9E37_79B9;
    let block = u32::try_from(block).unwrap_or(u32::MAX);
    seed.wrapping_mul(GOLDEN_RATIO_32)
        .wrapping_add(block.wrapping_mul(0x85EB_CA6B))
        .rotate_left(13)
        ^ seed
}

/// A coordinate strictly between 0 and 1 of one scrambled Sobol point.
pub(in crate::study) fn unit_point(index: usize, dimension: u32, seed: u32) -> f64 {
    /// Half the spacing of the crate's 24-bit fractions: keeps a coordinate off 0 and 1.
    const HALF_SPACING: f64 = 0.5 / 16_777_216.0;
    let index = u32::try_from(index).unwrap_or(u32::MAX) & 0xFFFF;
    f64::from(sobol_burley::sample(index, dimension, seed)) + HALF_SPACING
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean, spread and tail of a standard normal: 0, 1, and 1.281552 at 90 % (normal table).
    /// Tolerance: 4,096 points in independent blocks of 256 settle to about 1e-3.
    #[test]
    fn reference_draws_are_standard_normal() {
        let draws = Draws::new(4096, 7);
        for pick in [
            (|c: &Chance| c.speed) as fn(&Chance) -> f64,
            |c| c.release,
            |c| c.grip,
        ] {
            let values: Vec<f64> = draws.chances().iter().map(pick).collect();
            let mean = values.iter().sum::<f64>() / 4096.0;
            let variance = values.iter().map(|v| v * v).sum::<f64>() / 4096.0;
            let below = values.iter().filter(|v| **v < 1.281_551_57).count();
            assert!(mean.abs() < 2e-3, "{mean}");
            assert!((variance - 1.0).abs() < 1e-2, "{variance}");
            assert!((3680..=3693).contains(&below), "{below}");
        }
    }

    /// A sum of the three, whose mean is 0: the error with 16 times the draws falls by far more
    /// than the four times of plain random draws would give.
    #[test]
    fn law_means_settle_faster_than_random_numbers_would() {
        let error = |count: usize| -> f64 {
            let total: f64 = (0..20)
                .map(|seed| {
                    let draws = Draws::new(count, seed);
                    let sum: f64 = draws
                        .chances()
                        .iter()
                        .map(|c| c.speed + c.release * c.grip + c.grip)
                        .sum();
                    let mean = sum / f64::from(u32::try_from(count).unwrap());
                    mean * mean
                })
                .sum();
            (total / 20.0).sqrt()
        };
        let (few, many) = (error(256), error(4096));
        assert!(many < few / 6.0, "{few:e} {many:e}");
    }

    #[test]
    fn law_a_seed_gives_the_same_draws_and_another_seed_others() {
        assert_eq!(Draws::new(512, 3), Draws::new(512, 3));
        assert_ne!(Draws::new(512, 3), Draws::new(512, 4));
    }
}
