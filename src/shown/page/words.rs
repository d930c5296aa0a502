//! The page's sentences.

use crate::launch::{Launch, Outcome};
use crate::shown::text::{percent, rpm, seconds};
use crate::study::card::{FAR_OFF_SD, Miss, MissCost, Off, Shown};
use crate::study::comparison::{Comparison, Contender};
use crate::study::findings::{Findings, MattersMost, shows_on_a_slip};
use crate::study::scatter::sensitivity::Cause;
use crate::study::scatter::study::WheelScatter;

/// Names joined as a sentence joins them, each in quotation marks.
pub(super) fn named<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    let quoted: Vec<String> = names.into_iter().map(|name| format!("“{name}”")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
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
    let from = rpm(shown.launch.launch_speed_rad_s);
    let lead = match shown.off {
        Off::Low => format!("Too low, from {from} rpm: "),
        Off::On => format!("On the aim, {from} rpm: "),
        Off::High => format!("Too high, from {from} rpm: "),
    };
    lead + &what_happens(&shown.launch)
}

/// What happens in a launch, from first bite to 60 ft.
pub(super) fn what_happens(launch: &Launch) -> String {
    let fall = format!("the engine falls to {} rpm", rpm(launch.slowest_rad_s));
    if launch.ending.outcome == Outcome::Stalled {
        return format!(
            "the engine stalls {:.2} s after the clutch bites.",
            launch.ending.time_s
        );
    }
    let Some(sixty_s) = launch.sixty_foot_s() else {
        return format!("{fall} and the car does not get to 60 ft within a minute.");
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
        "{fall}, {lock}, {spin}; 60 ft in {} s.{bog}",
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
