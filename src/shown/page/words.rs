//! The page's sentences.

use super::card::CardWork;
use crate::launch::Outcome;
use crate::shown::text::{percent, rpm, seconds, thousands};
use crate::study::card::{FAR_OFF_SD, Miss, MissCost, Off, Shown};
use crate::study::comparison::{Comparison, Contender};
use crate::study::findings::{Choice, Findings, MattersMost, SaferSide, Side, shows_on_a_slip};
use crate::study::scatter::sensitivity::Cause;
use crate::study::scatter::study::WheelScatter;
use crate::study::window::{Edge, Window};

/// Names joined as a sentence joins them, each in quotation marks.
pub(super) fn named<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    let quoted: Vec<String> = names.into_iter().map(|name| format!("“{name}”")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

/// What to do: which flywheel, which launch speed, between which limits.
pub(super) fn advice(work: &CardWork, pick: &Contender) -> String {
    let name = pick.name();
    let aim_rad_s = pick.scatter.aim.launch_speed_rad_s;
    let which = if work.comparison.is_fitted(pick.study) {
        format!("Keep the flywheel that is in the car, “{name}”,")
    } else {
        format!("Fit the flywheel “{name}”")
    };
    let tolerance = seconds(work.reading.car.track.tolerance_s.get());
    let (low, high) = (
        rpm(pick.best.window.low.speed_rad_s()),
        rpm(pick.best.window.high.speed_rad_s()),
    );
    let aim = rpm(aim_rad_s);
    if pick.best.window.contains(aim_rad_s) {
        return format!(
            "{which} and launch from {aim} rpm; anywhere from {low} to {high} rpm a clean launch loses no more than {tolerance} s{}.",
            open_ends(&pick.best.window)
        );
    }
    let side = if aim_rad_s > pick.best.window.high.speed_rad_s() {
        "higher"
    } else {
        "lower"
    };
    format!(
        "{which} and launch from {aim} rpm; a clean launch is at its best from {low} to {high} rpm, but with this driver's misses a {side} aim is quicker on average."
    )
}

/// That a window runs to an end of the launch speeds looked at, if it does.
fn open_ends(window: &Window) -> &'static str {
    let at_end = |edge: Edge| matches!(edge, Edge::RangeEnd(_));
    match (at_end(window.low), at_end(window.high)) {
        (false, false) => "",
        (true, false) => " (the lower end is where the sheet stops looking)",
        (false, true) => " (the upper end is where the sheet stops looking)",
        (true, true) => " (both ends are where the sheet stops looking)",
    }
}

/// How sure the choice of flywheel is.
pub(super) fn sureness(choice: &Choice) -> String {
    let launches = thousands(choice.wheel.scatter.table.launches());
    let Some(nearest) = &choice.nearest else {
        return "No other flywheel of the sheet gets the car to 60 ft, so there was nothing to hold it against.".into();
    };
    if !choice.undecided_against.is_empty() {
        let names = named(choice.rivals().map(|rival| rival.name()));
        let margins: Vec<String> = choice
            .undecided_against
            .iter()
            .map(|held| {
                format!(
                    "{:.4} ± {:.4} s",
                    held.pair.mean_difference_s.abs(),
                    held.pair.mean_difference_interval_s.half_width()
                )
            })
            .collect();
        return format!(
            "The flywheel is undecided: {names} may be just as quick, for over {launches} computed launches the average differs by less than its own uncertainty ({}).",
            margins.join("; ")
        );
    }
    let interval = &nearest.pair.mean_difference_interval_s;
    let (low, high) = (interval.low.abs(), interval.high.abs());
    format!(
        "That choice is sure as far as this sheet's numbers are right: over {launches} computed launches with this driver's unsteadiness it is quicker on average than the next best, {}, by {:.4} s (95 % sure: {:.4} to {:.4} s).{}",
        named(nearest.other(&choice.wheel).map(|other| other.name())),
        nearest.pair.mean_difference_s.abs(),
        low.min(high),
        low.max(high),
        if shows_on_a_slip(nearest.pair.mean_difference_s) {
            ""
        } else {
            " No time slip shows that little: between these two, let steadiness and price decide."
        },
    )
}

/// What it costs on average to aim too low or too high by the driver's own spread, and so which
/// way to err.
pub(super) fn if_in_doubt(pick: &Contender, safer: &SaferSide) -> String {
    let which = match safer.side {
        Side::Either => "neither way is the safer one",
        Side::High => "if in doubt, aim high",
        Side::Low => "if in doubt, aim low",
    };
    format!(
        "Aiming {} rpm too low costs {} s on average, as much too high {} s: {which}.",
        rpm(pick.scatter.aim.launch_sd_rad_s),
        seconds(safer.too_low_s),
        seconds(safer.too_high_s)
    )
}

/// A cost in words: `costs 0.031 s`.
pub(super) fn cost_words(cost_s: Option<f64>) -> String {
    match cost_s {
        None => "does not get to 60 ft".into(),
        Some(cost_s) if !shows_on_a_slip(cost_s) => "costs nothing a time slip shows".into(),
        Some(cost_s) if cost_s > 0.0 => format!("costs {} s", seconds(cost_s)),
        Some(cost_s) => format!("gains {} s", seconds(-cost_s)),
    }
}

/// One thing to keep steady, what a typical miss of it is, and what that costs either way.
#[derive(Debug, Clone)]
pub(super) struct Practise {
    pub(super) what: &'static str,
    pub(super) how: &'static str,
    pub(super) low: String,
    pub(super) high: String,
    cause: Cause,
}

/// What to keep steady, what the spread comes from most first; the track's grip, which nobody can
/// practise, last.
pub(super) fn practise(
    pick: &Contender,
    findings: &Findings,
    misses: &[MissCost],
    release_s: f64,
) -> Vec<Practise> {
    let found = |miss: Miss| misses.iter().find(|cost| cost.miss == miss);
    let ranked: Vec<Cause> = findings
        .matters_most
        .iter()
        .flat_map(|most| most.causes.iter().map(|(cause, _)| *cause))
        .collect();
    let rank = |cause: Cause| ranked.iter().position(|other| *other == cause);
    let mut all: Vec<Practise> = Cause::ALL
        .into_iter()
        .filter_map(|cause| {
            let (what, how, low, high) = advice_on(cause);
            let words = |cost: &MissCost| {
                let off = miss_words(cause, cost, pick.scatter.aim.launch_speed_rad_s, release_s);
                format!("{off} {}", cost_words(cost.cost_s))
            };
            Some(Practise {
                what,
                how,
                low: words(found(low)?),
                high: words(found(high)?),
                cause,
            })
        })
        .collect();
    all.sort_by_key(|item| (item.cause == Cause::Grip, rank(item.cause)));
    all
}

/// What a cause is called for a driver, what to do about it, and its misses either way.
const fn advice_on(cause: Cause) -> (&'static str, &'static str, Miss, Miss) {
    match cause {
        Cause::LaunchSpeed => (
            "The launch speed",
            "Bring the needle to the aim and let the clutch out only once it stands still there.",
            Miss::SpeedLow,
            Miss::SpeedHigh,
        ),
        Cause::Release => (
            "The clutch",
            "Let the pedal out over the same time, every time.",
            Miss::ReleaseQuick,
            Miss::ReleaseSlow,
        ),
        Cause::Grip => (
            "The grip",
            "Not yours to practise: it is the track's and the day's. The same tyre pressure and the same burnout keep it steadier.",
            Miss::GripLow,
            Miss::GripHigh,
        ),
    }
}

/// How far off a miss is.
fn miss_words(cause: Cause, cost: &MissCost, aim_rad_s: f64, release_s: f64) -> String {
    let attempt = &cost.attempt;
    match cause {
        Cause::LaunchSpeed => {
            let off = attempt.launch_speed_rad_s - aim_rad_s;
            let side = if off < 0.0 { "low" } else { "high" };
            format!("{} rpm too {side}", rpm(off.abs()))
        }
        Cause::Release => format!("let out in {:.2} s", release_s * attempt.release_stretch),
        Cause::Grip => {
            let off = attempt.grip_factor - 1.0;
            let side = if off < 0.0 { "less" } else { "more" };
            format!("{} {side} grip", percent(off.abs()))
        }
    }
}

/// What the spread comes from most.
pub(super) fn what_matters(most: &MattersMost) -> String {
    if most.decided {
        format!(
            "From launch to launch the time differs most with {}.",
            most.first.words()
        )
    } else {
        format!(
            "From launch to launch the time differs most with {} and {}; which of the two does more is not decided.",
            most.first.words(),
            most.second.words()
        )
    }
}

/// What happens in a launch that is too low, right or too high.
pub(super) fn launch_story(shown: &Shown) -> String {
    let launch = &shown.launch;
    let from = rpm(launch.launch_speed_rad_s);
    let fall = format!("the engine falls to {} rpm", rpm(launch.slowest_rad_s));
    let lead = match shown.off {
        Off::Low => format!("Too low, from {from} rpm: "),
        Off::On => format!("On the aim, {from} rpm: "),
        Off::High => format!("Too high, from {from} rpm: "),
    };
    if launch.ending.outcome == Outcome::Stalled {
        return format!(
            "{lead}the engine stalls {:.2} s after the clutch bites.",
            launch.ending.time_s
        );
    }
    let Some(sixty_s) = launch.sixty_foot_s() else {
        return format!("{lead}{fall} and the car does not get to 60 ft within a minute.");
    };
    let lock = launch
        .lock_at_s
        .map_or("the clutch slips all the way".to_owned(), |lock_s| {
            format!("the clutch grips fully after {lock_s:.2} s")
        });
    let spin = if launch.spin_time_s < 0.005 {
        "the tyres never spin past their best".to_owned()
    } else {
        format!(
            "the tyres spin past their best for {:.2} s",
            launch.spin_time_s
        )
    };
    let bog = if launch.bogged {
        " That is a bog: the engine drops below where it pulls well."
    } else {
        ""
    };
    format!(
        "{lead}{fall}, {lock}, {spin}; 60 ft in {} s.{bog}",
        seconds(sixty_s)
    )
}

/// How far off the shown launches lie, in rpm.
pub(super) fn far_off_rpm(wheel: &WheelScatter) -> String {
    rpm(FAR_OFF_SD * wheel.aim.launch_sd_rad_s)
}

/// Quick against steady, in sentences.
pub(super) fn steady(findings: &Findings) -> [String; 2] {
    let (quick, steady) = (findings.quick.wheel, findings.steady);
    let to_sixty = if quick.index() == steady.index() {
        format!(
            "{} is both the quickest on average and the steadiest, so it suits heads-up racing, where the quicker car wins, and bracket racing, where the steadier one does.",
            named([quick.name()])
        )
    } else {
        format!(
            "Heads-up racing, where the quicker car wins: {}. Bracket racing, where running the same time again wins: {}, aimed at {} rpm, which spreads its times by {} s.",
            named([quick.name()]),
            named([steady.name()]),
            rpm(steady.scatter.aim.launch_speed_rad_s),
            seconds(steady.scatter.aim.sd_s),
        )
    };
    let quick = findings.quick_over_1320.wheel;
    let to_the_end = format!(
        "Over the whole 1,320 ft (402 m), where a lighter flywheel earns a little in every gear, the quickest on average is {}, {} s.",
        named([quick.name()]),
        seconds(quick.scatter.quarter.mean_s),
    );
    [to_sixty, to_the_end]
}

/// Who is beaten on both counts, one sentence for each that beats others.
pub(super) fn dominated(comparison: &Comparison, findings: &Findings) -> Vec<String> {
    let by = |winner: Contender, sure: bool| {
        let losers: Vec<&str> = findings
            .beaten
            .iter()
            .filter(|beaten| beaten.by.index() == winner.index() && beaten.sure == sure)
            .map(|beaten| beaten.wheel.name())
            .collect();
        let verb = if losers.len() == 1 { "is" } else { "are" };
        let end = if sure {
            ""
        } else {
            ", though not beyond the error of the draws"
        };
        (!losers.is_empty()).then(|| {
            format!(
                "{} {verb} both slower and less steady than {}{end}.",
                named(losers.iter().copied()),
                named([winner.name()])
            )
        })
    };
    comparison
        .contenders()
        .flat_map(|wheel| [by(wheel, true), by(wheel, false)])
        .flatten()
        .collect()
}
