//! What the scatter says, in sentences.

use super::{percent, rpm, seconds};
use crate::sheet::Reading;
use crate::study::compare::WheelStudy;
use crate::study::scatter::break_even::{BreakEven, MOST_SD_RAD_S, Winner};
use crate::study::scatter::frontier::Beaten;
use crate::study::scatter::pairs::{Pair, Verdict};
use crate::study::scatter::study::{ScatterStudy, WheelScatter};

/// One or two sentences for every pair of flywheels.
pub(super) fn pair_sentences(studies: &[WheelStudy], scatter: &ScatterStudy) -> Vec<String> {
    scatter
        .pairs
        .iter()
        .filter_map(|pair| {
            let light = studies.get(pair.lighter)?.wheel.name();
            let heavy = studies.get(pair.heavier)?.wheel.name();
            Some(format!(
                "\"{light}\" against \"{heavy}\": {} {}",
                mean_words(pair),
                break_even_words(&pair.break_even)
            ))
        })
        .collect()
}

fn mean_words(pair: &Pair) -> String {
    let interval = &pair.mean_difference_interval_s;
    let margin = (interval.high - interval.low) / 2.0;
    let difference_s = pair.mean_difference_s.abs();
    let share = percent(pair.lighter_wins_share);
    match pair.verdict() {
        Verdict::Undecided => format!(
            "undecided on average ({difference_s:.4} ± {margin:.4} s); the lighter wins {share} of paired launches."
        ),
        Verdict::LighterQuicker => format!(
            "the lighter is quicker on average by {difference_s:.4} ± {margin:.4} s and wins {share} of paired launches."
        ),
        Verdict::HeavierQuicker => format!(
            "the heavier is quicker on average by {difference_s:.4} ± {margin:.4} s; the lighter wins {share} of paired launches."
        ),
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
            "Break-even: none, the {} wins throughout, up to {} rpm of scatter.",
            winner.word(),
            rpm(MOST_SD_RAD_S)
        ),
    }
}

/// The reading for a racer who must be quick, and for one who must be steady.
pub(super) fn readings(
    reading: &Reading,
    studies: &[WheelStudy],
    scatter: &ScatterStudy,
) -> Vec<String> {
    let name = |wheel: &WheelScatter| {
        studies
            .get(wheel.index)
            .map_or("", |study| study.wheel.name())
    };
    let by = |figure: fn(&WheelScatter) -> f64| {
        scatter
            .wheels
            .iter()
            .min_by(|a, b| figure(a).total_cmp(&figure(b)))
    };
    let mut said = Vec::new();
    if let Some(quick) = by(|wheel| wheel.aim.mean_s) {
        said.push(format!(
            "Heads-up racing, where quick wins: \"{}\", aimed at {} rpm, {} s on average{}.",
            name(quick),
            rpm(quick.aim.launch_speed_rad_s),
            seconds(quick.aim.mean_s),
            undecided_with(quick, studies, scatter),
        ));
    }
    if let Some(steady) = by(|wheel| wheel.aim.sd_s) {
        said.push(format!(
            "Bracket racing, where steady wins: \"{}\", aimed at {} rpm, {} s spread about {} s.",
            name(steady),
            rpm(steady.aim.launch_speed_rad_s),
            seconds(steady.aim.sd_s),
            seconds(steady.aim.mean_s),
        ));
    }
    for wheel in &scatter.wheels {
        let (other, sure) = match wheel.quick_and_steady.beaten {
            Beaten::No => continue,
            Beaten::By(index) => (index, ""),
            Beaten::PerhapsBy(index) => (index, ", though not beyond the error of the draws"),
        };
        if let Some(other) = studies.get(other) {
            said.push(format!(
                "\"{}\" is beaten on both counts by \"{}\"{sure}.",
                name(wheel),
                other.wheel.name()
            ));
        }
    }
    if let Some(practice) = &reading.car.driver.practice {
        said.push(format!(
            "The driver's scatter was measured from {} practice launches; `flyheft practice` tells how sure it is.",
            practice.launches.len()
        ));
    }
    said
}

/// The flywheels that the quickest is not decided against.
fn undecided_with(quick: &WheelScatter, studies: &[WheelStudy], scatter: &ScatterStudy) -> String {
    let names: Vec<String> = scatter
        .pairs
        .iter()
        .filter(|pair| pair.verdict() == Verdict::Undecided)
        .filter_map(|pair| {
            let other = if pair.lighter == quick.index {
                pair.heavier
            } else if pair.heavier == quick.index {
                pair.lighter
            } else {
                return None;
            };
            studies
                .get(other)
                .map(|study| format!("\"{}\"", study.wheel.name()))
        })
        .collect();
    if names.is_empty() {
        String::new()
    } else {
        format!(" (undecided against {})", names.join(" and "))
    }
}
