//! Seeded draws of the driver's and the day's chance.
//!
//! The points behind them are those of `sobol`.

pub use super::sobol::BLOCKS;
use super::sobol::{seed_of, unit_point};
use super::table::{Law, Points};
use crate::numerics::quantile::standard_normal;

/// Draws of one launch each where nobody says otherwise.
pub const DEFAULT_DRAWS: usize = 2048;
/// The seed where nobody says otherwise.
pub const DEFAULT_SEED: u32 = 1;
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

/// How much is drawn, and from which seed: the same chances for every flywheel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draws {
    count: usize,
    seed: u32,
}

/// Draws that one point of release and grip stands for: it is launched at every launch speed.
const DRAWS_A_POINT: usize = 16;

impl Draws {
    /// So many draws (kept between the fewest and the most) from a seed.
    pub fn new(count: usize, seed: u32) -> Self {
        Self {
            count: count.clamp(FEWEST_DRAWS, MOST_DRAWS),
            seed,
        }
    }

    /// How many were asked for.
    pub fn count(&self) -> usize {
        self.count
    }

    /// The seed they come from.
    pub fn seed(&self) -> u32 {
        self.seed
    }

    /// Points of release and grip for a table, one for every 16 draws.
    pub fn points(&self, law: &Law) -> Points {
        Points::new(self.count.div_ceil(DRAWS_A_POINT), self.seed, law)
    }

    /// Single launches, so many in each block, block after block.
    pub fn chances(&self, block_len: usize) -> Vec<Chance> {
        (0..BLOCKS)
            .flat_map(|block| (0..block_len).map(move |index| (block, index)))
            .map(|(block, index)| {
                let at = |dimension: u32| {
                    standard_normal(unit_point(index, dimension, seed_of(self.seed, block)))
                };
                Chance {
                    speed: at(0),
                    release: at(1),
                    grip: at(2),
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean, spread and tail of a standard normal: 0, 1, and 1.281552 at 90 % (normal table).
    /// Tolerance: 4,096 points in independent blocks of 256 settle to about 1e-3. Each block has
    /// one point in every 256th of the probability, so 230 or 231 of them below 90 %.
    #[test]
    fn reference_draws_are_standard_normal() {
        let chances = Draws::new(4096, 7).chances(256);
        for pick in [
            (|c: &Chance| c.speed) as fn(&Chance) -> f64,
            |c| c.release,
            |c| c.grip,
        ] {
            let values: Vec<f64> = chances.iter().map(pick).collect();
            let mean = values.iter().sum::<f64>() / 4096.0;
            let variance = values.iter().map(|v| v * v).sum::<f64>() / 4096.0;
            assert!(mean.abs() < 2e-3, "{mean}");
            assert!((variance - 1.0).abs() < 1e-2, "{variance}");
            for block in values.chunks(256) {
                let below = block.iter().filter(|v| **v < 1.281_551_57).count();
                assert!((230..=231).contains(&below), "{below}");
            }
        }
    }

    /// A sum of the three, whose mean is 0: the error with 16 times the draws falls by far more
    /// than the four times of plain random draws would give.
    #[test]
    fn law_means_settle_faster_than_random_numbers_would() {
        let error = |count: usize| -> f64 {
            let total: f64 = (0..20)
                .map(|seed| {
                    let sum: f64 = Draws::new(count, seed)
                        .chances(count / BLOCKS)
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
        let of = |seed| Draws::new(512, seed).chances(8);
        assert_eq!(of(3), of(3));
        assert_ne!(of(3), of(4));
    }
}
