//! What the scatter says, in sentences.

use super::{percent, rpm};
use crate::study::comparison::{Comparison, HeldAgainst};
use crate::study::scatter::break_even::{BreakEven, MOST_SD_RAD_S, Winner};
use crate::study::scatter::pairs::{Pair, Verdict};

/// One or two sentences for every pair of flywheels.
pub(super) fn pair_sentences(comparison: &Comparison) -> Vec<String> {
    comparison
        .pairs()
        .map(|held| pair_sentence(&held))
        .collect()
}

/// One or two sentences for a pair of flywheels.
pub(super) fn pair_sentence(held: &HeldAgainst) -> String {
    format!(
        "\"{}\" against \"{}\": {} {}",
        held.lighter.name(),
        held.heavier.name(),
        mean_words(held.pair),
        break_even_words(&held.pair.break_even)
    )
}

fn mean_words(pair: &Pair) -> String {
    let interval = &pair.mean_difference_interval_s;
    let margin = margin((interval.high - interval.low) / 2.0);
    let difference_s = pair.mean_difference_s.abs();
    let share = percent(pair.lighter_wins_share);
    match pair.verdict() {
        Verdict::Undecided => format!(
            "undecided on average ({difference_s:.4} ± {margin} s); the lighter wins {share} of paired launches."
        ),
        Verdict::LighterQuicker => format!(
            "the lighter is quicker on average by {difference_s:.4} ± {margin} s and wins {share} of paired launches."
        ),
        Verdict::HeavierQuicker => format!(
            "the heavier is quicker on average by {difference_s:.4} ± {margin} s; the lighter wins {share} of paired launches."
        ),
    }
}

/// The last decimal of a mean difference, s.
pub(super) const LEAST_SHOWN_S: f64 = 0.0001;

/// A margin with four decimals; never nothing at all.
fn margin(half_width_s: f64) -> String {
    if half_width_s < LEAST_SHOWN_S / 2.0 {
        format!("less than {LEAST_SHOWN_S}")
    } else {
        format!("{half_width_s:.4}")
    }
}

fn break_even_words(break_even: &BreakEven) -> String {
    match break_even {
        BreakEven::At {
            sd_rad_s,
            interval_rad_s,
            below,
        } => {
            let (first, then) = match below {
                Winner::Heavier => ("heavier", "lighter"),
                _ => ("lighter", "heavier"),
            };
            format!(
                "Break-even at a scatter of {} rpm ({} to {}): steadier than that the {first} pays, less steady the {then}.",
                rpm(*sd_rad_s),
                rpm(interval_rad_s.low),
                rpm(interval_rad_s.high)
            )
        }
        BreakEven::Never(Winner::Undecided) => format!(
            "No break-even up to {} rpm of scatter: the difference stays within its error.",
            rpm(MOST_SD_RAD_S)
        ),
        BreakEven::Never(winner) => format!(
            "Break-even: none, the {} wins throughout, up to {} rpm of scatter{}.",
            winner.word(),
            rpm(MOST_SD_RAD_S),
            match winner {
                Winner::Heavier =>
                    ", though one perfect launch may favour the lighter: release and grip scatter even where the launch speed does not",
                _ => "",
            }
        ),
    }
}
