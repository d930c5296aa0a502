//! The page's sentences.

use super::card::CardWork;
use crate::launch::Outcome;
use crate::shown::text::{percent, rpm, seconds, thousands};
use crate::study::card::{FAR_OFF_SD, Miss, MissCost, Off, Shown, pair_of, undecided_against};
use crate::study::compare::{Best, WheelStudy};
use crate::study::scatter::frontier::Dominated;
use crate::study::scatter::sensitivity::Cause;
use crate::study::scatter::study::WheelScatter;
use crate::study::window::{Edge, Window};

/// Half a millisecond: the most that two times may differ and look alike on a time slip.
const SHOWS_S: f64 = 0.0005;

/// The flywheel to use, with all that is known of it.
#[derive(Clone, Copy)]
pub(super) struct Pick<'w> {
    pub(super) study: &'w WheelStudy<'w>,
    pub(super) best: &'w Best,
    pub(super) wheel: &'w WheelScatter<'w>,
}

impl<'w> Pick<'w> {
    pub(super) fn of(work: &CardWork<'w>) -> Option<Self> {
        let index = work.card?.pick;
        let study = work.studies.get(index)?;
        Some(Self {
            study,
            best: study.best.as_ref()?,
            wheel: work.scatter.wheel(index)?,
        })
    }

    fn aim(&self) -> f64 {
        self.wheel.aim.launch_speed_rad_s
    }
}

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
pub(super) fn advice(work: &CardWork, pick: &Pick) -> String {
    let name = pick.study.wheel.name();
    let which = if work.reading.car.flywheels.is_fitted(pick.study.wheel) {
        format!("Keep the flywheel that is in the car, “{name}”,")
    } else {
        format!("Fit the flywheel “{name}”")
    };
    let tolerance = seconds(work.reading.car.track.tolerance_s.get());
    let (low, high) = (
        rpm(pick.best.window.low.speed_rad_s()),
        rpm(pick.best.window.high.speed_rad_s()),
    );
    let aim = rpm(pick.aim());
    if pick.best.window.contains(pick.aim()) {
        return format!(
            "{which} and launch from {aim} rpm; anywhere from {low} to {high} rpm a clean launch loses no more than {tolerance} s{}.",
            open_ends(&pick.best.window)
        );
    }
    let side = if pick.aim() > pick.best.window.high.speed_rad_s() {
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
pub(super) fn sureness(work: &CardWork, pick: &Pick) -> String {
    let launches = thousands(pick.wheel.table.launches());
    let others: Vec<usize> = work
        .scatter
        .wheels
        .iter()
        .map(|wheel| wheel.index)
        .filter(|index| *index != pick.wheel.index)
        .collect();
    if others.is_empty() {
        return "No other flywheel of the sheet gets the car to 60 ft, so there was nothing to hold it against.".into();
    }
    let undecided = undecided_against(work.scatter, pick.wheel.index);
    if !undecided.is_empty() {
        let names = named(undecided.iter().filter_map(|index| work.name(*index)));
        let margins: Vec<String> = undecided
            .iter()
            .filter_map(|index| pair_of(work.scatter, pick.wheel.index, *index))
            .map(|pair| {
                let interval = &pair.mean_difference_interval_s;
                format!(
                    "{:.4} ± {:.4} s",
                    pair.mean_difference_s.abs(),
                    (interval.high - interval.low) / 2.0
                )
            })
            .collect();
        return format!(
            "The flywheel is undecided: {names} may be just as quick, for over {launches} computed launches the average differs by less than its own uncertainty ({}).",
            margins.join("; ")
        );
    }
    let nearest = others
        .iter()
        .filter_map(|index| Some((*index, pair_of(work.scatter, pick.wheel.index, *index)?)))
        .min_by(|a, b| {
            a.1.mean_difference_s
                .abs()
                .total_cmp(&b.1.mean_difference_s.abs())
        });
    let Some((index, pair)) = nearest else {
        return String::new();
    };
    let interval = &pair.mean_difference_interval_s;
    let (low, high) = (interval.low.abs(), interval.high.abs());
    format!(
        "That choice is sure as far as this sheet's numbers are right: over {launches} computed launches with this driver's unsteadiness it is quicker on average than the next best, {}, by {:.4} s (95 % sure: {:.4} to {:.4} s).{}",
        named(work.name(index)),
        pair.mean_difference_s.abs(),
        low.min(high),
        low.max(high),
        if pair.mean_difference_s.abs() < SHOWS_S {
            " No time slip shows that little: between these two, let steadiness and price decide."
        } else {
            ""
        },
    )
}

/// What it costs on average to aim too low or too high by the driver's own spread, and so which
/// way to err.
pub(super) fn if_in_doubt(pick: &Pick) -> String {
    let (table, sd) = (&pick.wheel.table, pick.wheel.aim.launch_sd_rad_s);
    let mean_s = |off: f64| table.at(pick.aim() + off, sd).mean_s;
    let on_aim_s = mean_s(0.0);
    let (low_s, high_s) = (mean_s(-sd) - on_aim_s, mean_s(sd) - on_aim_s);
    let which = if (low_s - high_s).abs() < SHOWS_S {
        "neither way is the safer one"
    } else if low_s > high_s {
        "if in doubt, aim high"
    } else {
        "if in doubt, aim low"
    };
    format!(
        "Aiming {} rpm too low costs {} s on average, as much too high {} s: {which}.",
        rpm(sd),
        seconds(low_s),
        seconds(high_s)
    )
}

/// A cost in words: `costs 0.031 s`.
pub(super) fn cost_words(cost_s: Option<f64>) -> String {
    match cost_s {
        None => "does not get to 60 ft".into(),
        Some(cost_s) if cost_s.abs() < SHOWS_S => "costs nothing a time slip shows".into(),
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
pub(super) fn practise(pick: &Pick, misses: &[MissCost], release_s: f64) -> Vec<Practise> {
    let found = |miss: Miss| misses.iter().find(|cost| cost.miss == miss);
    let sensitivity = |cause: Cause| {
        let share = Cause::ALL
            .iter()
            .zip(pick.wheel.sensitivity.iter().flatten())
            .find(|(c, _)| **c == cause);
        share.map_or(0.0, |(_, share)| share.total.value)
    };
    let mut all: Vec<Practise> = Cause::ALL
        .into_iter()
        .filter_map(|cause| {
            let (what, how, low, high) = advice_on(cause);
            let words = |cost: &MissCost| {
                let off = miss_words(cause, cost, pick.aim(), release_s);
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
    all.sort_by(|a, b| {
        let last = |item: &Practise| item.cause == Cause::Grip;
        last(a)
            .cmp(&last(b))
            .then(sensitivity(b.cause).total_cmp(&sensitivity(a.cause)))
    });
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
pub(super) fn what_matters(pick: &Pick) -> String {
    let mut causes: Vec<_> = Cause::ALL
        .into_iter()
        .zip(pick.wheel.sensitivity.iter().flatten())
        .collect();
    causes.sort_by(|a, b| b.1.total.value.total_cmp(&a.1.total.value));
    let [(first, most), (second, more), ..] = causes.as_slice() else {
        return String::new();
    };
    if most.total.interval.low <= more.total.interval.high {
        return format!(
            "From launch to launch the time differs most with {} and {}; which of the two does more is not decided.",
            first.words(),
            second.words()
        );
    }
    format!(
        "From launch to launch the time differs most with {}.",
        first.words()
    )
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
pub(super) fn steady(work: &CardWork) -> Vec<String> {
    let by = |figure: fn(&WheelScatter) -> f64| {
        work.scatter
            .wheels
            .iter()
            .min_by(|a, b| figure(a).total_cmp(&figure(b)))
    };
    let mut said = Vec::new();
    if let (Some(quick), Some(steady)) = (by(|w| w.aim.mean_s), by(|w| w.aim.sd_s)) {
        let name = |index: usize| named(work.name(index));
        if quick.index == steady.index {
            said.push(format!(
                "{} is both the quickest on average and the steadiest, so it suits heads-up racing, where the quicker car wins, and bracket racing, where the steadier one does.",
                name(quick.index)
            ));
        } else {
            said.push(format!(
                "Heads-up racing, where the quicker car wins: {}. Bracket racing, where running the same time again wins: {}, aimed at {} rpm, which spreads its times by {} s.",
                name(quick.index),
                name(steady.index),
                rpm(steady.aim.launch_speed_rad_s),
                seconds(steady.aim.sd_s),
            ));
        }
    }
    if let Some(quick) = by(|w| w.quarter.mean_s) {
        said.push(format!(
            "Over the whole 1,320 ft (402 m), where a lighter flywheel earns a little in every gear, the quickest on average is {}, {} s.",
            named(work.name(quick.index)),
            seconds(quick.quarter.mean_s),
        ));
    }
    said
}

/// Who is beaten on both counts, one sentence for each that beats others.
pub(super) fn dominated(work: &CardWork) -> Vec<String> {
    let wheels = &work.scatter.wheels;
    let by = |verdict: Dominated, sure: &str| {
        let (Dominated::By(other) | Dominated::PerhapsBy(other)) = verdict else {
            return None;
        };
        let losers: Vec<&str> = wheels
            .iter()
            .filter(|wheel| wheel.quick_and_steady.dominated == verdict)
            .filter_map(|wheel| work.name(wheel.index))
            .collect();
        let verb = if losers.len() == 1 { "is" } else { "are" };
        (!losers.is_empty()).then(|| {
            format!(
                "{} {verb} both slower and less steady than {}{sure}.",
                named(losers.iter().copied()),
                named(work.name(other))
            )
        })
    };
    wheels
        .iter()
        .flat_map(|wheel| {
            [
                by(Dominated::By(wheel.index), ""),
                by(
                    Dominated::PerhapsBy(wheel.index),
                    ", though not beyond the error of the draws",
                ),
            ]
        })
        .flatten()
        .collect()
}
