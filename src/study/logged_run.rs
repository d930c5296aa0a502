//! A logged run laid over the model's: launch speed, first bite, lowest speed, lock-up and slip as
//! the log has them, found by the same rules in both.
//!
//! The logger has a clock of its own. First bite is looked for where the driven side begins to
//! turn: under a clutch let in steadily its speed rises with the square of time, so it passes four
//! times a low level after twice the time, and `bite = 2 t(level) − t(4 level)`. What this rule
//! errs by is taken from the model's own run, where first bite is known, and taken off. All rules
//! are our own; common practice, no source.

use crate::car::logged_run::{Channel, LoggedRun};
use crate::launch::trace::TracePoint;
use crate::launch::{Launch, Rig};

/// Tread speed of the low level, m/s: above what a creeping car and a noisy pick-up show.
const LOW_LEVEL_M_S: f64 = 0.5;
/// Four times the low level.
const HIGH_LEVEL_M_S: f64 = 4.0 * LOW_LEVEL_M_S;
/// A level counts as passed where the reading after it lies above it too: one wild reading is none.
const READINGS_ABOVE: usize = 2;
/// The launch speed is read over this time before first bite, s.
const HELD_FOR_S: f64 = 0.5;
/// The last of it is left out, s: the foot is moving already, and first bite is known only so well.
const LEFT_OUT_S: f64 = 0.03;
/// Engine and input shaft count as one within this share of their speed, or this many rad/s where
/// that is more: a pick-up's error.
const TOGETHER_SHARE: f64 = 0.015;
const TOGETHER_RAD_S: f64 = 3.0;
/// They must stay together for so long, s, to count as locked.
const TOGETHER_FOR_S: f64 = 0.1;
/// Slip is told only above this tread speed, m/s: below, it is a quotient of small numbers.
const SLIP_FROM_M_S: f64 = 2.0;
/// Readings further apart than this, s, have a gap between them.
const GAP_S: f64 = 0.25;

/// How something was found; each has a short fixed name for documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HowFound {
    /// The rise of the driven side, the rule's error in the model's run taken off.
    RiseOf(Channel),
    /// The middle reading of engine speed in the half second before first bite.
    HeldBeforeBite,
    /// The lowest middle of three neighbouring readings of engine speed to 60 ft.
    LowestOfThree,
    /// Engine and input shaft, or driven wheels times the first gear's ratio, come together and
    /// stay so.
    SpeedsTogether(Channel),
    /// Tread speed less car speed.
    TreadLessCar(Channel),
}

impl HowFound {
    /// Short fixed name.
    pub const fn identifier(self) -> &'static str {
        match self {
            Self::RiseOf(_) => "rise_of_driven_side",
            Self::HeldBeforeBite => "held_before_bite",
            Self::LowestOfThree => "lowest_of_three",
            Self::SpeedsTogether(_) => "speeds_together",
            Self::TreadLessCar(_) => "tread_less_car",
        }
    }
}

/// A figure from the log, and how it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The figure, SI.
    pub value: f64,
    /// How it was found.
    pub how: HowFound,
}

/// Lowest engine speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lowest {
    /// Speed, rad/s.
    pub speed: Figure,
    /// When, s from first bite.
    pub at_s: f64,
}

/// Slip of the driven tyres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// Highest tread speed over the car's to 60 ft, m/s.
    pub most_m_s: Figure,
    /// Time to 60 ft with the slip beyond the tyre's peak, s.
    pub past_peak_s: f64,
}

/// What a log says of a launch. Times count from first bite, but for first bite itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// First bite on the logger's clock, s.
    pub first_bite_s: Figure,
    /// Engine speed held before it, rad/s.
    pub launch_speed_rad_s: Option<Figure>,
    /// Half the range of those readings, rad/s.
    pub held_within_rad_s: Option<f64>,
    /// Lowest engine speed to 60 ft.
    pub lowest: Option<Lowest>,
    /// First lock-up, s.
    pub lock_at_s: Option<Figure>,
    /// Slip.
    pub slip: Option<Slip>,
}

/// How far a channel lies from the model's run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distance {
    /// The channel.
    pub channel: Channel,
    /// Root of the mean square of log less model, SI.
    pub root_mean_square: f64,
    /// Mean of log less model, SI.
    pub mean: f64,
    /// Readings compared.
    pub readings: usize,
}

/// A log laid over the model's run.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlay {
    /// What the log says.
    pub logged: Found,
    /// The same, found by the same rules in the model's run.
    pub model: Found,
    /// How far apart they lie, channel by channel, from first bite to the model's 60 ft.
    pub distances: Vec<Distance>,
    /// Longest time within that without a reading in any channel, s, where it is a gap.
    pub gap_s: Option<f64>,
}

/// Launch speed in a log, rad/s, before anything is known of the model's run: with first bite by
/// its rule alone. `None` where the log has no engine speed before it, or no driven side.
pub fn launch_speed_rad_s(log: &LoggedRun, rig: &Rig) -> Option<f64> {
    let (_, bite_s) = rise(log, rig, Channel::ALL)?;
    held(log, bite_s).map(|(figure, _)| figure.value)
}

/// Lays a log over the model's run. `None` where first bite cannot be found in it: nothing of the
/// driven side is logged, or it never begins to turn.
pub fn overlay(
    log: &LoggedRun,
    rig: &Rig,
    launch: &Launch,
    points: &[TracePoint],
) -> Option<Overlay> {
    let (channel, raw_s) = rise(log, rig, Channel::ALL)?;
    let as_logged = modelled(points);
    let error_s = rise(&as_logged, rig, [channel]).map_or(0.0, |(_, bite_s)| bite_s);
    let bite_s = raw_s - error_s;
    let until_s = sixty_foot_since_bite_s(launch);
    let distances: Vec<Distance> = log
        .channels
        .iter()
        .filter_map(|logged| distance(logged.channel, log, &as_logged, (bite_s, until_s)))
        .collect();
    Some(Overlay {
        logged: found(log, rig, (channel, bite_s), until_s),
        model: found(&as_logged, rig, (channel, 0.0), until_s),
        gap_s: gap(log, (bite_s, bite_s + until_s)),
        distances,
    })
}

/// 60 ft, or the end of a run that did not come so far, s from first bite.
pub(in crate::study) fn sixty_foot_since_bite_s(launch: &Launch) -> f64 {
    launch
        .sixty_foot_s()
        .zip(launch.clock_started_s)
        .map_or(launch.ending.time_s, |(sixty_s, started_s)| {
            sixty_s + started_s
        })
}

/// The model's run as a logger would have taken it down, times from first bite.
fn modelled(points: &[TracePoint]) -> LoggedRun {
    use crate::car::logged_run::Logged;
    let channels = Channel::ALL.map(|channel| {
        let mut readings: Vec<(f64, f64)> = Vec::with_capacity(points.len());
        for point in points {
            if readings.last().is_none_or(|last| point.time_s > last.0) {
                readings.push((point.time_s, point.reading(channel)));
            }
        }
        Logged { channel, readings }
    });
    LoggedRun {
        channels: channels.to_vec(),
    }
}

/// Speed at the tread that one unit of a driven channel stands for, m/s.
fn tread_per_unit(channel: Channel, rig: &Rig) -> Option<f64> {
    let radius_m = rig.tyre().radius_m.get();
    match channel {
        Channel::Engine => None,
        Channel::InputShaft => Some(radius_m / rig.gears.first()?.overall),
        Channel::DrivenWheels => Some(radius_m),
        Channel::Car => Some(1.0),
    }
}

/// First bite by the rise of the first of these channels that shows one, s.
fn rise(
    log: &LoggedRun,
    rig: &Rig,
    channels: impl IntoIterator<Item = Channel>,
) -> Option<(Channel, f64)> {
    channels.into_iter().find_map(|channel| {
        let per_unit = tread_per_unit(channel, rig)?;
        let readings = log.readings(channel);
        let low_s = passes(readings, LOW_LEVEL_M_S / per_unit)?;
        let high_s = passes(readings, HIGH_LEVEL_M_S / per_unit)?;
        Some((channel, 2.0 * low_s - high_s))
    })
}

/// When readings rise through a level and stay above it, s, straight between readings.
fn passes(readings: &[(f64, f64)], level: f64) -> Option<f64> {
    readings.windows(1 + READINGS_ABOVE).find_map(|window| {
        let [(before_s, before), after @ ..] = window else {
            return None;
        };
        let (after_s, above) = after.first()?;
        let rises = *before < level && after.iter().all(|(_, reading)| *reading >= level);
        rises.then(|| before_s + (after_s - before_s) * (level - before) / (above - before))
    })
}

/// The engine speed held before first bite, and half the range of its readings.
fn held(log: &LoggedRun, bite_s: f64) -> Option<(Figure, f64)> {
    let window = bite_s - HELD_FOR_S..=bite_s - LEFT_OUT_S;
    let mut held: Vec<f64> = within(log.readings(Channel::Engine), window)
        .map(|(_, reading)| reading)
        .collect();
    held.sort_by(f64::total_cmp);
    let (low, high) = (held.first()?, held.last()?);
    let middle = *held.get(held.len() / 2)?;
    let figure = Figure {
        value: middle,
        how: HowFound::HeldBeforeBite,
    };
    Some((figure, 0.5 * (high - low)))
}

fn within(
    readings: &[(f64, f64)],
    window: std::ops::RangeInclusive<f64>,
) -> impl Iterator<Item = (f64, f64)> + '_ {
    readings
        .iter()
        .copied()
        .filter(move |(time_s, _)| window.contains(time_s))
}

fn found(log: &LoggedRun, rig: &Rig, (channel, bite_s): (Channel, f64), until_s: f64) -> Found {
    let held = held(log, bite_s);
    Found {
        first_bite_s: Figure {
            value: bite_s,
            how: HowFound::RiseOf(channel),
        },
        launch_speed_rad_s: held.map(|(figure, _)| figure),
        held_within_rad_s: held.map(|(_, range)| range),
        lowest: lowest(log, bite_s, until_s),
        lock_at_s: lock_up(log, rig, bite_s),
        slip: slip(log, rig, bite_s, until_s),
    }
}

fn lowest(log: &LoggedRun, bite_s: f64, until_s: f64) -> Option<Lowest> {
    let readings: Vec<(f64, f64)> =
        within(log.readings(Channel::Engine), bite_s..=bite_s + until_s).collect();
    let (time_s, value) = without_wild(&readings).min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(Lowest {
        speed: Figure {
            value,
            how: HowFound::LowestOfThree,
        },
        at_s: time_s - bite_s,
    })
}

/// The middle one of some readings by its value: one wild reading among three is left out, and
/// where they rise or fall it is the one in the middle of their time, too.
fn middle(readings: &[(f64, f64)]) -> Option<(f64, f64)> {
    let mut sorted = readings.to_vec();
    sorted.sort_by(|a, b| a.1.total_cmp(&b.1));
    sorted.get(sorted.len() / 2).copied()
}

/// Readings with the middle one of each and its neighbours in its place.
fn without_wild(readings: &[(f64, f64)]) -> impl Iterator<Item = (f64, f64)> + '_ {
    readings.windows(3).filter_map(|three| {
        let (_, value) = middle(three)?;
        Some((three.get(1)?.0, value))
    })
}

/// The reading of a channel next to a time on the logger's clock, with its own time: the middle
/// one of three; `None` where none is near.
pub(in crate::study) fn reading_about(
    log: &LoggedRun,
    channel: Channel,
    time_s: f64,
) -> Option<(f64, f64)> {
    let readings = log.readings(channel);
    let after = readings.partition_point(|(at_s, _)| *at_s < time_s);
    let three = readings.get(after.checked_sub(1)?..after + 2)?;
    let near = three.iter().all(|(at_s, _)| (at_s - time_s).abs() <= GAP_S);
    near.then(|| middle(three)).flatten()
}

/// When the engine and the input shaft come together after first bite and stay so.
fn lock_up(log: &LoggedRun, rig: &Rig, bite_s: f64) -> Option<Figure> {
    let first = rig.gears.first()?.overall;
    let (channel, ratio) = [(Channel::InputShaft, 1.0), (Channel::DrivenWheels, first)]
        .into_iter()
        .find(|(channel, _)| !log.readings(*channel).is_empty())?;
    let input = log.readings(channel);
    let mut since_s = None;
    for (time_s, engine) in without_wild(log.readings(Channel::Engine)) {
        let apart = between(input, time_s).map(|shaft| (engine - ratio * shaft).abs());
        let together = time_s > bite_s
            && apart.is_some_and(|apart| apart <= TOGETHER_RAD_S.max(TOGETHER_SHARE * engine));
        since_s = together.then(|| since_s.unwrap_or(time_s));
        if let Some(since_s) = since_s
            && time_s - since_s >= TOGETHER_FOR_S
        {
            return Some(Figure {
                value: since_s - bite_s,
                how: HowFound::SpeedsTogether(channel),
            });
        }
    }
    None
}

fn slip(log: &LoggedRun, rig: &Rig, bite_s: f64, until_s: f64) -> Option<Slip> {
    let channel = [Channel::DrivenWheels, Channel::InputShaft]
        .into_iter()
        .find(|channel| !log.readings(*channel).is_empty())?;
    let per_unit = tread_per_unit(channel, rig)?;
    let peak_slip = rig.tyre().shape.peak_slip();
    let car = log.readings(Channel::Car);
    let (mut most_m_s, mut past_peak_s, mut last_s) = (f64::NEG_INFINITY, 0.0, None);
    for (time_s, turned) in within(log.readings(channel), bite_s..=bite_s + until_s) {
        let Some(car_m_s) = between(car, time_s) else {
            last_s = None;
            continue;
        };
        let tread_m_s = per_unit * turned;
        most_m_s = most_m_s.max(tread_m_s - car_m_s);
        let past_peak = tread_m_s > SLIP_FROM_M_S && (tread_m_s - car_m_s) / tread_m_s > peak_slip;
        if let (true, Some(last_s)) = (past_peak, last_s) {
            past_peak_s += time_s - last_s;
        }
        last_s = Some(time_s);
    }
    most_m_s.is_finite().then_some(Slip {
        most_m_s: Figure {
            value: most_m_s,
            how: HowFound::TreadLessCar(channel),
        },
        past_peak_s,
    })
}

/// A reading at a time, straight between neighbours; `None` outside the log and in its gaps.
fn between(readings: &[(f64, f64)], time_s: f64) -> Option<f64> {
    let after = readings.partition_point(|(at_s, _)| *at_s < time_s);
    let (after_s, high) = *readings.get(after)?;
    if after_s <= time_s {
        return Some(high);
    }
    let (before_s, low) = *readings.get(after.checked_sub(1)?)?;
    (after_s - before_s <= GAP_S)
        .then(|| low + (high - low) * (time_s - before_s) / (after_s - before_s))
}

fn distance(
    channel: Channel,
    log: &LoggedRun,
    model: &LoggedRun,
    (bite_s, until_s): (f64, f64),
) -> Option<Distance> {
    let model = model.readings(channel);
    let (mut count, mut sum, mut squares) = (0_u32, 0.0, 0.0);
    for (time_s, reading) in within(log.readings(channel), bite_s..=bite_s + until_s) {
        let Some(modelled) = between(model, time_s - bite_s) else {
            continue;
        };
        let apart = reading - modelled;
        count += 1;
        sum += apart;
        squares += apart * apart;
    }
    (count > 0).then(|| Distance {
        channel,
        root_mean_square: (squares / f64::from(count)).sqrt(),
        mean: sum / f64::from(count),
        readings: usize::try_from(count).unwrap_or(usize::MAX),
    })
}

/// The longest time without a reading between two times, s, where it is a gap.
fn gap(log: &LoggedRun, (from_s, to_s): (f64, f64)) -> Option<f64> {
    let gaps = log.channels.iter().flat_map(|logged| {
        logged
            .readings
            .windows(2)
            .filter_map(move |pair| match pair {
                [(a, _), (b, _)] if *b > from_s && *a < to_s => Some(b - a),
                _ => None,
            })
    });
    gaps.filter(|gap_s| *gap_s > GAP_S).max_by(f64::total_cmp)
}

#[cfg(test)]
#[path = "logged_run_tests.rs"]
mod tests;
