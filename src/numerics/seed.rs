//! Seeds for draws that must not depend on each other.

/// The golden ratio's fraction as 32 bits, `2³²/φ`: steps of it fill the 32-bit numbers evenly
/// (Knuth, *The Art of Computer Programming* vol. 3, sec. 6.4; from memory).
const GOLDEN_RATIO_32: u32 = 0x9E37_79B9;

/// A seed of its own for each block of each stream.
///
/// Whatever is drawn for one purpose is a stream; its blocks are independent repetitions. For one
/// seed and stream no two blocks share a seed, and neighbouring seeds, streams and blocks give
/// seeds that have nothing to do with each other: counters in steps of the golden ratio, each
/// put through `scattered` (the construction of SplitMix: Steele, Lea & Flood, *Fast splittable
/// pseudorandom number generators*, OOPSLA 2014; from memory).
pub fn block_seed(seed: u32, stream: u32, block: u32) -> u32 {
    let counted = |from: u32, step: u32| {
        scattered(from.wrapping_add(GOLDEN_RATIO_32.wrapping_mul(step.wrapping_add(1))))
    };
    counted(counted(seed, stream), block)
}

/// Spreads every bit of a number over all others, one to one: the last mixing step of
/// MurmurHash3 for 32 bits, with its constants (A. Appleby, public domain; from memory).
const fn scattered(number: u32) -> u32 {
    let number = (number ^ (number >> 16)).wrapping_mul(0x85EB_CA6B);
    let number = (number ^ (number >> 13)).wrapping_mul(0xC2B2_AE35);
    number ^ (number >> 16)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Published values of the mixing step: 0 stays 0; 1 gives 0x514E28B7 (the hash of an empty
    /// text with seed 1, a check value of the hash's many ports; from memory).
    #[test]
    fn reference_mixing_step() {
        assert_eq!(scattered(0), 0);
        assert_eq!(scattered(1), 0x514E_28B7);
    }

    #[test]
    fn law_no_two_blocks_of_the_first_seeds_and_streams_share_a_seed() {
        let mut met = BTreeSet::new();
        for seed in 0..20 {
            for stream in 0..4 {
                for block in 0..16 {
                    met.insert(block_seed(seed, stream, block));
                }
            }
        }
        assert_eq!(met.len(), 20 * 4 * 16);
    }

    /// One bit of the seed turned over turns over half of the 32 bits on average: of 32 · 16
    /// pairs the mean is 16 with a standard error of √8/√512 = 0.125; 0.6 is near five of them.
    #[test]
    fn law_neighbouring_seeds_have_nothing_to_do_with_each_other() {
        let turned: u32 = (0..32)
            .flat_map(|bit| (0..16).map(move |block| (bit, block)))
            .map(|(bit, block)| {
                (block_seed(1, 0, block) ^ block_seed(1 ^ (1 << bit), 0, block)).count_ones()
            })
            .sum();
        let mean = f64::from(turned) / 512.0;
        assert!((mean - 16.0).abs() < 0.6, "{mean}");
    }
}
