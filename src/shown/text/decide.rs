//! Which flywheel to start with.

use super::decide_table::{how_to_read, side_by_side};
use super::report::{Block, Report, Section};
use super::table::Figures;
use super::{LAUNCH_CAUTION, percent, seconds, thousands};
use crate::car::season::Counts;
use crate::numerics::Interval;
use crate::sheet::{Reading, keys};
use crate::study::decide::drawn::MOST_SHEETS;
use crate::study::decide::metal_left::{FLAT_S, MetalLeft};
use crate::study::decide::verdict::RunnerUp;
use crate::study::decide::{Decision, WheelDecision};
use crate::units::{Kind, System};

/// Worth of an input below this is not told: a tenth of a slip's last figure, s.
const WORTH_TELLING_S: f64 = 0.0001;

/// An input that moves the choice by less than a slip's last figure is not told, s.
const MOVE_TELLING_S: f64 = 0.001;
/// Nor is one that moves it by less than this share of what the first does.
const BESIDE_THE_FIRST: f64 = 0.3;

/// A gain that shows as 0.0 ms is none, s.
const NOTHING_S: f64 = 0.000_05;

/// The verdict first, then what it rests on.
pub fn decide(reading: &Reading, decision: &Decision, system: System) -> Report {
    let mut sections = vec![
        Section::said("What to start with", verdict(decision)).answering(),
        Section::new(
            "Each flywheel under the doubt",
            vec![
                Block::Table(side_by_side(decision)),
                Block::Said(how_to_read(decision)),
            ],
        ),
        Section::new("What to find out first", find_out_first(decision)),
    ];
    if let Some(metal) = &decision.metal_left {
        sections.push(Section::new(
            "Metal left",
            vec![
                Block::Table(metal_table(metal, system)),
                Block::Said(flat_words(metal, decision, system)),
            ],
        ));
    }
    sections.push(Section::said(
        "How this was worked out",
        worked_out(decision),
    ));
    Report {
        title: reading.car.title.clone(),
        subject: String::from("Which flywheel to start with"),
        sections,
        metal_cautions: &[],
        launch_caution: LAUNCH_CAUTION,
    }
}

/// The verdict in two sentences or three: what to do and what it may cost, how sure that is and
/// what would change it.
pub(in crate::shown) fn verdict(decision: &Decision) -> Vec<String> {
    if decision.wheels.len() < 2 {
        return vec![alone(decision)];
    }
    let mut said = vec![start(decision)];
    said.extend(grounds(decision));
    said
}

/// What stands behind the verdict, for where the wheel itself is named in other words: why it
/// stays if it does, what it may cost, how sure that is and what would change it.
pub(in crate::shown) fn verdict_explained(decision: &Decision) -> Vec<String> {
    let stays = decision.verdict.leave_metal_on;
    let why = stays.then(|| format!("Why it stays: {}.", why_it_stays(decision)));
    why.into_iter().chain(grounds(decision)).collect()
}

/// What a verdict may cost, how sure it is and what would change it.
fn grounds(decision: &Decision) -> Vec<String> {
    let at_worst = behind_at_worst(decision);
    let at_worst = at_worst.map(|behind| format!("In the worst case of twenty {behind}."));
    let so_sure = [how_sure(decision), change_of_mind(decision)];
    let so_sure = so_sure.join(" ").trim().to_owned();
    let mut said: Vec<String> = at_worst.into_iter().chain([so_sure]).collect();
    said.retain(|words| !words.is_empty());
    said
}

/// What a comparison says of it at its top, in two sentences: which wheel and what it costs at
/// worst, then what could change that and how sure it is. A car with one flywheel has nothing to
/// choose.
pub(super) fn verdict_in_short(decision: &Decision) -> Vec<String> {
    if decision.wheels.len() < 2 {
        return Vec::new();
    }
    let start = start(decision);
    let start = start.trim_end_matches('.');
    let first = match behind_at_worst(decision) {
        Some(behind) => format!("{start}; in the worst case of twenty {behind}."),
        None => format!("{start}."),
    };
    let sheets = decision.drawn.sheets.len();
    let sure = so_sure(decision);
    let second = match could_change(decision) {
        Some(change) => format!(
            "What could change that: {change} ({sure}: {sheets} drawn sheets say so, `flyheft decide` asks more)."
        ),
        None => {
            format!("That is {sure}: {sheets} drawn sheets say so, `flyheft decide` asks more.")
        }
    };
    vec![format!("{first} {second}")]
}

/// How sure the answer is, in a few words.
fn so_sure(decision: &Decision) -> String {
    let verdict = &decision.verdict;
    match verdict.choice() {
        _ if verdict.sure && verdict.place_to_use() == verdict.start_with => String::from("sure"),
        Some(choice) => format!(
            "not sure, it may be \"{}\" as well",
            name(decision, choice.other)
        ),
        None => String::from("not sure"),
    }
}

fn name(decision: &Decision, wheel: usize) -> &str {
    decision.wheels.get(wheel).map_or("–", |wheel| &wheel.name)
}

/// Milliseconds with as many figures as mean anything.
pub(super) fn milliseconds(time_s: f64) -> String {
    let thousandths = time_s * 1000.0;
    if thousandths.abs() < 10.0 {
        format!("{thousandths:.1} ms")
    } else {
        format!("{thousandths:.0} ms")
    }
}

/// Two times in milliseconds, with as many figures as mean anything.
pub(super) fn thousandths(interval: &Interval) -> String {
    if interval.high < 0.01 {
        format!("{:.1}–{:.1}", interval.low * 1e3, interval.high * 1e3)
    } else {
        format!("{:.0}–{:.0}", interval.low * 1e3, interval.high * 1e3)
    }
}

fn start(decision: &Decision) -> String {
    let verdict = &decision.verdict;
    if verdict.leave_metal_on {
        return stays(decision);
    }
    format!("Start with \"{}\".", name(decision, verdict.start_with))
}

/// The fitted wheel stays as it is, and why.
fn stays(decision: &Decision) -> String {
    let verdict = &decision.verdict;
    let fitted = name(decision, verdict.fitted.unwrap_or(verdict.start_with));
    let why = why_it_stays(decision);
    format!("Leave the metal on, keep \"{fitted}\": {why}.")
}

/// Why the fitted wheel is to stay: what is to be had elsewhere, and that no season shows it.
fn why_it_stays(decision: &Decision) -> String {
    let verdict = &decision.verdict;
    let season = &decision.question.season;
    let better = match season.counts {
        Counts::QuickToSixtyFeet | Counts::QuickToQuarterMile => "quicker",
        Counts::Steady => "steadier",
    };
    if verdict.gain_over_fitted_s < NOTHING_S {
        return format!(
            "over all that the sheet leaves open, no other wheel is {better} on average"
        );
    }
    format!(
        "on paper \"{}\" is {} a launch {better}, but {} launches with each would not show less than {}",
        best_on_average(decision),
        milliseconds(verdict.gain_over_fitted_s),
        season.launches,
        milliseconds(verdict.shown_by_slips_s)
    )
}

/// The flywheel that loses least on average over what the sheet does not know.
fn best_on_average(decision: &Decision) -> &str {
    let wheels = decision.wheels.iter();
    wheels
        .min_by(|a, b| a.loss_mean_s.total_cmp(&b.loss_mean_s))
        .map_or("–", |wheel| &wheel.name)
}

/// What the start and the others lose in the worst 1 in 20.
fn behind_at_worst(decision: &Decision) -> Option<String> {
    let start = decision.named_wheel()?;
    let dearest = decision
        .wheels
        .iter()
        .filter(|wheel| wheel.name != start.name)
        .max_by(|a, b| a.loss_p95_s.total_cmp(&b.loss_p95_s))?;
    Some(format!(
        "\"{}\" is {} behind the best wheel, \"{}\" {}",
        start.name,
        milliseconds(start.loss_p95_s),
        dearest.name,
        milliseconds(dearest.loss_p95_s)
    ))
}

fn how_sure(decision: &Decision) -> String {
    let verdict = &decision.verdict;
    let Some(next) = &verdict.runner_up else {
        return String::new();
    };
    if verdict.leave_metal_on && verdict.fitted != Some(verdict.start_with) {
        return changed_all_the_same(decision, next);
    }
    if verdict.sure {
        return format!(
            "Sure: any other start costs at least {} a launch more over the season.",
            milliseconds(next.behind_interval_s.low)
        );
    }
    let behind = milliseconds(next.behind_s);
    let undecided = next.behind_interval_s.low <= 0.0;
    if undecided && verdict.leave_metal_on {
        format!(
            "\"{}\" may be as good ({behind} a launch behind over the season, within the error of the draws): {}.",
            name(decision, next.wheel),
            why_not(decision, next)
        )
    } else if undecided {
        format!(
            "Undecided which to start with, \"{}\" or \"{}\": that costs {behind} a launch more over the season, within the error of the draws.",
            name(decision, verdict.start_with),
            name(decision, next.wheel)
        )
    } else {
        format!(
            "Likely, not sure: \"{}\" costs {behind} a launch more over the season on average, but would have been the better start in {} of the cases.",
            name(decision, next.wheel),
            percent(next.regret_share)
        )
    }
}

/// Why a wheel that may be as good as the fitted one is no reason to change it.
fn why_not(decision: &Decision, next: &RunnerUp) -> &'static str {
    let is_cut = |wheel: &WheelDecision| wheel.cut_from.is_some();
    if decision.wheels.get(next.wheel).is_some_and(is_cut) {
        "no reason to cut, for metal never goes back on"
    } else {
        "no reason to buy it"
    }
}

/// What to take where the fitted wheel is to stay, and somebody changes it for the little there
/// is to gain.
fn changed_all_the_same(decision: &Decision, next: &RunnerUp) -> String {
    let verdict = &decision.verdict;
    let [start, other] = [verdict.start_with, next.wheel].map(|wheel| name(decision, wheel));
    let undecided = next.behind_interval_s.low <= 0.0;
    match (undecided, verdict.fitted == Some(next.wheel)) {
        (false, _) => format!("If it is changed all the same, then to \"{start}\"."),
        (true, true) => format!(
            "If it is changed all the same, then to \"{start}\": whether that is any better is within the error of the draws."
        ),
        (true, false) => format!(
            "If it is changed all the same, then to \"{start}\" or \"{other}\": between those two it is undecided."
        ),
    }
}

fn change_of_mind(decision: &Decision) -> String {
    let change = could_change(decision);
    change.map_or_else(String::new, |change| {
        format!("What could change it: {change}.")
    })
}

/// The inputs that could change the answer: by what they are worth, or, of the verdict in short,
/// by how far each by itself moves it.
fn could_change(decision: &Decision) -> Option<String> {
    let worth = decision.find_out_first.iter();
    let worth = worth.filter(|finding| finding.worth.value_s >= WORTH_TELLING_S);
    let furthest_s = decision.moved.first().map_or(0.0, |moved| moved.by_s);
    let least_s = (furthest_s * BESIDE_THE_FIRST).max(MOVE_TELLING_S);
    let moved = decision.moved.iter();
    let moved = moved.filter(|moved| moved.by_s >= least_s);
    let all = worth
        .map(|finding| &finding.key)
        .chain(moved.map(|moved| &moved.key));
    let telling: Vec<String> = all.take(2).map(|key| keys::words_for(key)).collect();
    (!telling.is_empty()).then(|| telling.join(", then "))
}

/// With one flywheel the question is how much could come off.
fn alone(decision: &Decision) -> String {
    let Some(metal) = &decision.metal_left else {
        return format!("There is one flywheel, \"{}\".", name(decision, 0));
    };
    let (Some(fitted), Some(lightest)) = (metal.points.first(), metal.points.last()) else {
        return String::new();
    };
    let best = metal
        .points
        .iter()
        .map(|point| point.mean_s)
        .fold(f64::INFINITY, f64::min);
    let gain_s = fitted.mean_s - best;
    if gain_s < FLAT_S {
        return format!(
            "Leave the metal on: taking it off gains no more than {} on average, anywhere down to a crank side of {:.4} kg·m².",
            milliseconds(gain_s),
            lightest.crank_side_kg_m2
        );
    }
    format!(
        "Metal may come off: {} on average is to be had, and from a crank side of {:.4} kg·m² down nothing more is gained.",
        milliseconds(gain_s),
        metal.flat_kg_m2.high
    )
}

fn find_out_first(decision: &Decision) -> Vec<Block> {
    let told: Vec<_> = decision
        .find_out_first
        .iter()
        .filter(|finding| finding.worth.value_s >= WORTH_TELLING_S)
        .collect();
    if decision.find_out_first.is_empty() {
        return vec![Block::Said("Nothing is in doubt.".into())];
    }
    if told.is_empty() {
        return vec![Block::Said(
            "No single input is worth finding out: knowing it exactly gains less than 0.1 ms a launch.".into(),
        )];
    }
    let mut table = Figures::new(
        "Knowing exactly",
        &["gains a launch, ms", "95 % interval, ms"],
    );
    for finding in told {
        let worth = &finding.worth;
        table.row(
            &keys::words_for(&finding.key),
            [
                format!("{:.1}", worth.value_s * 1e3),
                format!(
                    "{:.1}–{:.1}",
                    worth.interval_s.low * 1e3,
                    worth.interval_s.high * 1e3
                ),
            ],
        );
    }
    vec![
        Block::Table(table),
        Block::Said(format!(
            "Knowing everything would gain {} a launch.",
            milliseconds(decision.everything_worth_s)
        )),
    ]
}

fn metal_table(metal: &MetalLeft, system: System) -> Figures {
    let unit = system.unit(Kind::Inertia).symbol;
    let mut table = Figures::new(
        &format!("Crank side, {unit}"),
        &[
            "mean, s",
            "1 in 10 below, s",
            "1 in 10 above, s",
            "spread, s",
            "stalls",
        ],
    );
    for point in &metal.points {
        table.row(
            &system.number(point.crank_side_kg_m2, Kind::Inertia),
            [
                seconds(point.mean_s),
                seconds(point.mean_p10_s),
                seconds(point.mean_p90_s),
                seconds(point.sd_s),
                percent(point.share_stalled),
            ],
        );
    }
    table
}

fn flat_words(metal: &MetalLeft, decision: &Decision, system: System) -> String {
    let show = |inertia| system.show(inertia, Kind::Inertia);
    let alone = if decision.wheels.len() < 2 {
        " The lightest end is half the flywheel's inertia."
    } else {
        ""
    };
    format!(
        "Between {} and {} no wheel is better by {FLAT_S} s: heavier or lighter there is the same to a driver.{alone}",
        show(metal.flat_kg_m2.low),
        show(metal.flat_kg_m2.high)
    )
}

fn worked_out(decision: &Decision) -> Vec<String> {
    let refused = match decision.drawn.refused {
        0 => String::new(),
        refused => format!(
            " {refused} drawn sheets lay outside what a sheet may say and were drawn again."
        ),
    };
    let mut said = vec![format!(
        "{} sheets drawn from the doubt, each flywheel at its own aim in each: {} launches. Held against drawn launches, differences between two means are good to {}.{refused}",
        decision.drawn.sheets.len(),
        thousands(decision.launches),
        milliseconds(decision.evaluation_error_s)
    )];
    let next = decision.verdict.runner_up.as_ref();
    said.extend(next.and_then(|next| more_sheets(decision, next)));
    said
}

/// How many sheets would part two starts that these do not part.
fn more_sheets(decision: &Decision, next: &RunnerUp) -> Option<String> {
    if next.behind_interval_s.low > 0.0 {
        return None;
    }
    let [one, other] = [decision.verdict.start_with, next.wheel].map(|wheel| name(decision, wheel));
    #[expect(clippy::cast_precision_loss, reason = "some thousands of sheets")]
    let most = MOST_SHEETS as f64;
    Some(match next.sheets_to_part {
        Some(sheets) if sheets <= most => format!(
            "To part \"{one}\" and \"{other}\" would take about {:.0} sheets (--sheets).",
            2_f64.powf(sheets.log2().ceil())
        ),
        _ => format!(
            "More sheets would not part \"{one}\" and \"{other}\": what a mean may be wrong by is as much as the difference."
        ),
    })
}
