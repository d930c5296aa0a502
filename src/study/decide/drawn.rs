//! Sheets drawn from the doubt of a car.

use super::super::scatter::sobol::unit_point;
use crate::car::Car;
use crate::car::doubt::DoubtedCar;
use crate::numerics::quantile::standard_normal;
use crate::numerics::seed::block_seed;

/// Sheets drawn where nobody says otherwise.
pub const DEFAULT_SHEETS: usize = 256;
/// Independent blocks that the sheets come in.
pub const BLOCKS: usize = 16;
/// Fewest sheets: two a block.
pub const FEWEST_SHEETS: usize = 2 * BLOCKS;
/// Most sheets.
pub const MOST_SHEETS: usize = 16_384;
/// Draws tried for each sheet wanted before a block stays short: a sheet whose doubt lies nearly
/// all beyond what a sheet may say gives few.
const MOST_TRIES: usize = 64;
/// The stream of seeds that sheets are drawn from.
const STREAM: u32 = 0x5EE7;

/// One sheet as it may be.
#[derive(Debug, Clone)]
pub struct DrawnSheet {
    /// The car.
    pub car: Car,
    /// The drawn value of each doubted input, SI.
    pub values: Vec<f64>,
    /// The same as standard normal scores: where in its doubt each lies.
    pub scores: Vec<f64>,
}

/// Sheets as they may be, in independent blocks of equal length.
#[derive(Debug, Clone)]
pub struct DrawnSheets {
    /// The sheets, block after block.
    pub sheets: Vec<DrawnSheet>,
    /// Sheets in each block.
    pub block_len: usize,
    /// Draws that the sheet's own ranges refused, drawn again.
    pub refused: usize,
}

impl DrawnSheets {
    /// About so many sheets (whole blocks) from a seed: scrambled Sobol points, one coordinate
    /// for each doubted input. With nothing in doubt, the one sheet there is.
    pub fn new(doubted: &DoubtedCar, count: usize, seed: u32) -> Self {
        if doubted.inputs().is_empty() {
            return Self::nominal_alone(doubted);
        }
        let block_len = count.clamp(FEWEST_SHEETS, MOST_SHEETS).div_ceil(BLOCKS);
        let mut refused = 0;
        let mut blocks: Vec<Vec<DrawnSheet>> = (0..BLOCKS)
            .map(|block| draw_block(doubted, block_len, seed, block, &mut refused))
            .collect();
        // Every block as long as the shortest: their means then count alike.
        let block_len = blocks.iter().map(Vec::len).min().unwrap_or(0);
        if block_len == 0 {
            return Self {
                refused,
                ..Self::nominal_alone(doubted)
            };
        }
        for block in &mut blocks {
            block.truncate(block_len);
        }
        Self {
            sheets: blocks.into_iter().flatten().collect(),
            block_len,
            refused,
        }
    }

    fn nominal_alone(doubted: &DoubtedCar) -> Self {
        let inputs = doubted.inputs();
        Self {
            sheets: vec![DrawnSheet {
                car: doubted.nominal().clone(),
                values: inputs.iter().map(|input| input.nominal).collect(),
                scores: vec![0.0; inputs.len()],
            }],
            block_len: 1,
            refused: 0,
        }
    }
}

fn draw_block(
    doubted: &DoubtedCar,
    block_len: usize,
    seed: u32,
    block: usize,
    refused: &mut usize,
) -> Vec<DrawnSheet> {
    let seed = block_seed(seed, STREAM, u32::try_from(block).unwrap_or(u32::MAX));
    let mut drawn = Vec::with_capacity(block_len);
    for index in 0..block_len * MOST_TRIES {
        if drawn.len() == block_len {
            break;
        }
        let shares: Vec<f64> = (0_u32..)
            .take(doubted.inputs().len())
            .map(|dimension| unit_point(index, dimension, seed))
            .collect();
        match doubted.at_shares(&shares) {
            Some(car) => drawn.push(DrawnSheet {
                car,
                values: doubted.values_at(&shares),
                scores: shares.iter().map(|share| standard_normal(*share)).collect(),
            }),
            None => *refused += 1,
        }
    }
    drawn
}
