//! Quick against steady: which flywheels are beaten on both.

use super::draws::Draws;
use super::pairs::{Pair, Verdict};
use super::summary::{count, standard_deviation};

/// Quick and steady, for one flywheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuickAndSteady {
    /// Mean time, s.
    pub mean_s: f64,
    /// Standard deviation of the time, s.
    pub sd_s: f64,
    /// Whether another flywheel is both quicker and steadier.
    pub beaten: Beaten,
}

/// Whether a flywheel is beaten on both counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beaten {
    /// No other is both quicker and steadier.
    No,
    /// This one (its index) is both quicker and steadier, beyond the errors of both differences.
    By(usize),
    /// This one looks both quicker and steadier, but not beyond the errors.
    PerhapsBy(usize),
}

/// Whether the standard deviation of one set of paired times is below that of another beyond the
/// error of the difference, by leaving out one block of draws at a time: negative where the first
/// is steadier, with the error of two standard errors.
pub fn steadiness_difference(one_s: &[f64], other_s: &[f64], draws: &Draws) -> (f64, f64) {
    let difference = standard_deviation(one_s) - standard_deviation(other_s);
    let block_len = draws.block_len();
    let without: Vec<f64> = (0..one_s.len() / block_len)
        .map(|block| {
            let kept = |times: &[f64]| -> Vec<f64> {
                times
                    .chunks(block_len)
                    .enumerate()
                    .filter(|(index, _)| *index != block)
                    .flat_map(|(_, chunk)| chunk.iter().copied())
                    .collect()
            };
            standard_deviation(&kept(one_s)) - standard_deviation(&kept(other_s))
        })
        .collect();
    let n = count(&without);
    (
        difference,
        2.0 * standard_deviation(&without) * (n - 1.0) / n.sqrt(),
    )
}

/// The frontier of several flywheels, from their times at their aims and their pairs.
pub fn frontier(
    times_s: &[&[f64]],
    means_s: &[f64],
    pairs: &[Pair],
    draws: &Draws,
) -> Vec<QuickAndSteady> {
    let quicker = |one: usize, other: usize| -> Option<bool> {
        let pair = pairs.iter().find(|p| {
            (p.lighter, p.heavier) == (one, other) || (p.lighter, p.heavier) == (other, one)
        })?;
        Some(match pair.verdict() {
            Verdict::LighterQuicker => pair.lighter == one,
            Verdict::HeavierQuicker => pair.heavier == one,
            Verdict::Undecided => false,
        })
    };
    times_s
        .iter()
        .zip(means_s)
        .enumerate()
        .map(|(index, (own_s, mean_s))| {
            let mut beaten = Beaten::No;
            for (other, (other_s, other_mean_s)) in times_s.iter().zip(means_s).enumerate() {
                if other == index || beaten != Beaten::No && !matches!(beaten, Beaten::PerhapsBy(_))
                {
                    continue;
                }
                let (steadier_s, error_s) = steadiness_difference(other_s, own_s, draws);
                if other_mean_s < mean_s && steadier_s < 0.0 {
                    let sure = quicker(other, index) == Some(true) && -steadier_s > error_s;
                    beaten = if sure {
                        Beaten::By(other)
                    } else {
                        Beaten::PerhapsBy(other)
                    };
                }
            }
            QuickAndSteady {
                mean_s: *mean_s,
                sd_s: standard_deviation(own_s),
                beaten,
            }
        })
        .collect()
}
