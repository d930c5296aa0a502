//! The flywheels of a decision side by side.

use super::decide::{milliseconds, thousandths};
use super::table::Figures;
use super::{fifties, percent, seconds};
use crate::car::season::Counts;
use crate::numerics::Interval;
use crate::study::decide::{Decision, WheelDecision};

pub(super) fn side_by_side(decision: &Decision) -> Figures {
    let names: Vec<&str> = decision
        .wheels
        .iter()
        .map(|wheel| wheel.name.as_str())
        .collect();
    let mut table = Figures::new("Flywheel", &names);
    let wheels = || decision.wheels.iter();
    let what = match decision.question.season.counts {
        Counts::QuickToSixtyFeet => "Mean sixty-foot time, s",
        Counts::QuickToQuarterMile => "Mean 1,320 ft time, s",
        Counts::Steady => "Spread of sixty-foot time, s",
    };
    table.row(
        "Chance of being the best",
        wheels().map(|wheel| percent(wheel.chance_best)),
    );
    table.row(
        "  95 % interval",
        wheels().map(|wheel| {
            let Interval { low, high } = wheel.chance_best_interval;
            format!("{:.0}–{:.0} %", low * 100.0, high * 100.0)
        }),
    );
    table.row(
        "Behind the best on average",
        wheels().map(|wheel| milliseconds(wheel.loss_mean_s)),
    );
    table.row(
        "  95 % interval, ms",
        wheels().map(|wheel| thousandths(&wheel.loss_mean_interval_s)),
    );
    table.row(
        "  in the worst 1 in 20",
        wheels().map(|wheel| milliseconds(wheel.loss_p95_s)),
    );
    table.row(
        "    95 % interval, ms",
        wheels().map(|wheel| thousandths(&wheel.loss_p95_interval_s)),
    );
    table.row(
        "  in the worst sheet drawn",
        wheels().map(|wheel| milliseconds(wheel.loss_worst_s)),
    );
    table.row(
        "Over the season, a launch",
        wheels().map(|wheel| milliseconds(wheel.season.loss_s)),
    );
    table.row(
        "  95 % interval, ms",
        wheels().map(|wheel| thousandths(&wheel.season.interval_s)),
    );
    table.row(what, wheels().map(|wheel| seconds(wheel.counted_mean_s())));
    table.row(
        "  one case in ten below, above",
        wheels().map(|wheel| {
            let at = |share| seconds(wheel.counted_at_s(share));
            format!("{}–{}", at(0.1), at(0.9))
        }),
    );
    table.row("Aim at, rpm", wheels().map(aim));
    table.row("  over the doubt, rpm", wheels().map(aims));
    table.row(
        "Can still become",
        wheels().map(|wheel| can_become(decision, wheel)),
    );
    table
}

fn aim(wheel: &WheelDecision) -> String {
    let aim_rad_s = wheel.nominal.map(|own| own.aim_rad_s);
    aim_rad_s.map_or("–".into(), fifties)
}

fn aims(wheel: &WheelDecision) -> String {
    let at = |share| wheel.aim_at_rad_s(share).map(fifties);
    at(0.1)
        .zip(at(0.9))
        .map_or("–".into(), |(low, high)| format!("{low}–{high}"))
}

fn can_become(decision: &Decision, wheel: &WheelDecision) -> String {
    let others = wheel.season.reachable.len().saturating_sub(1);
    if others + 1 == decision.wheels.len() {
        return String::from("any");
    }
    match others {
        0 => String::from("none other"),
        1 => String::from("1 other"),
        others => format!("{others} others"),
    }
}

/// What stands in the table, and which wheels may be taken at any time.
pub(super) fn how_to_read(decision: &Decision) -> String {
    let season = &decision.question.season;
    let bought: Vec<String> = decision
        .wheels
        .iter()
        .filter(|wheel| wheel.cut_from.is_none())
        .map(|wheel| format!("\"{}\"", wheel.name))
        .collect();
    let shelf = if bought.is_empty() {
        String::new()
    } else {
        format!(
            " Not cut from another, so to be taken at any time while whole: {}.",
            bought.join(", ")
        )
    };
    format!(
        "Over the season: {} launches at a first meeting on the wheel, then {} on the best that it can still become, as the meeting's slips tell it.{shelf}",
        season.meeting, season.launches
    )
}
