//! `[driver]`.

use super::engine::EngineRead;
use super::keys::driver as key;
use super::lift;
use super::practice;
use super::problem::{Place, Problem};
use super::steps;
use super::table_reader::TableReader;
use super::value::{Amount, Found};
use super::warnings::{ENOUGH_LAUNCHES, NEAR_STALL, Warning};
use super::words;
use crate::car::Flywheels;
use crate::car::checked::{NonNegative, Positive};
use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::car::driver::{
    DEFAULT_RANGE_START_RPM, Driver, Hold, ReleaseRange, SpeedRange, Unsteadiness,
};
use crate::car::practice::Practice;
use crate::car::schedule::Schedule;
use crate::units::{self, Kind, System};
use std::path::Path;

/// Reads the section; practice files lie beside the sheet, in `folder`.
pub(super) fn read(
    t: &TableReader<'_>,
    engine: &EngineRead,
    wheels: Option<&Flywheels>,
    folder: &Path,
) -> Option<Driver> {
    let hold = t.choice(key::HOLD, &Hold::ALL, Hold::name).needed();
    let hold = hold.map(|hold| hold.value);
    let throttle = throttle(t, hold);
    let lift = lift::read(t);
    let launch_range = launch_range(t, engine);
    let release_range = release_range(t);
    let (launch_sd, practice) = launch_sd(t, wheels, folder);
    let exponent = t.measure::<NonNegative>(key::HOLD_EXPONENT).or_default();
    let release_sd = t.measure::<NonNegative>(key::RELEASE_SD).or_default();
    Some(Driver {
        hold: hold?,
        throttle: throttle?,
        lift: lift?,
        launch_range: launch_range?,
        release_range: release_range?,
        unsteadiness: Unsteadiness {
            launch_sd_rad_s: launch_sd?,
            hold_exponent: exponent?.value,
            release_sd: release_sd?.value,
        },
        practice,
    })
}

fn throttle(t: &TableReader<'_>, hold: Option<Hold>) -> Option<Schedule> {
    let time = t.measure::<NonNegative>(key::THROTTLE_TIME);
    if t.has(key::THROTTLE) {
        if !time.is_absent() {
            t.diagnostics.problem(
                Problem::new(
                    t.key_place(key::THROTTLE),
                    "the throttle is given twice over",
                )
                .label("a table")
                .also(t.key_place(key::THROTTLE_TIME), "a time")
                .help("keep throttle_time for a steady opening, or throttle for a table of points"),
            );
            return None;
        }
        let throttle = steps::read(t, key::THROTTLE, Schedule::throttle)?;
        t.check_usual(
            key::THROTTLE,
            throttle.value.last_corner_s(),
            &throttle.place,
        );
        return Some(throttle.value);
    }
    let time = match hold {
        Some(hold) => time.or(hold.default_throttle_s()),
        None => time.given(),
    }?;
    Some(match Positive::new(time.value.get()) {
        Some(time) => Schedule::ramp(time),
        None => Schedule::constant(1.0),
    })
}

fn rpm(speed_rad_s: f64) -> String {
    System::Metric.brief(speed_rad_s, Kind::AngularSpeed)
}

fn launch_range(t: &TableReader<'_>, engine: &EngineRead) -> Option<SpeedRange> {
    let list = t.list(key::LAUNCH_RANGE);
    let limits = engine.stall.as_ref().zip(engine.limiter.as_ref());
    if list.is_absent() {
        return default_range(t, limits?);
    }
    let list = list.given()?;
    let [low, high] = list.value.as_slice() else {
        t.diagnostics.problem(
            Problem::new(
                list.place,
                format!(
                    "launch_range has {}, not two",
                    words::counted(list.value.len(), "value")
                ),
            )
            .label("two are needed")
            .help(format!("launch_range takes {}", key::LAUNCH_RANGE.takes())),
        );
        return None;
    };
    let end =
        |item: &_| match t.quantity_in::<Positive>(key::LAUNCH_RANGE, Kind::AngularSpeed, item) {
            Ok(speed) => Some(speed.get()),
            Err(problem) => {
                t.diagnostics.problem(problem);
                None
            }
        };
    let places = (t.place(low.span()), t.place(high.span()));
    let (low, high) = (end(low), end(high));
    let (low, high) = (low?, high?);
    let Some(range) = SpeedRange::new(low, high) else {
        t.diagnostics.problem(
            Problem::new(
                list.place,
                format!("launch_range = {} is no range", list.read),
            )
            .label("the first speed must be below the second"),
        );
        return None;
    };
    check_range(t, range, &places, limits).then_some(range)
}

/// `None` inside where the sheet gives none; `None` outside where what it gives is wrong.
#[expect(
    clippy::option_option,
    reason = "not given and given wrongly are two things: the second stops the reading"
)]
fn release_range(t: &TableReader<'_>) -> Option<Option<ReleaseRange>> {
    let list = t.list(key::RELEASE_RANGE);
    if list.is_absent() {
        return Some(None);
    }
    let list = list.given()?;
    let ends: Vec<Option<f64>> = list
        .value
        .iter()
        .map(
            |item| match t.quantity_in::<Positive>(key::RELEASE_RANGE, Kind::Time, item) {
                Ok(time) => Some(time.get()),
                Err(problem) => {
                    t.diagnostics.problem(problem);
                    None
                }
            },
        )
        .collect();
    let range = match ends.as_slice() {
        [Some(quickest_s), Some(slowest_s)] => ReleaseRange::new(*quickest_s, *slowest_s),
        [_, _] => return None,
        _ => None,
    };
    if range.is_none() {
        t.diagnostics.problem(
            Problem::new(
                list.place,
                format!("release_range = {} is no range", list.read),
            )
            .label("two times are needed, the first below the second")
            .help(format!(
                "release_range takes {}",
                key::RELEASE_RANGE.takes()
            )),
        );
        return None;
    }
    Some(range)
}

fn check_range(
    t: &TableReader<'_>,
    range: SpeedRange,
    places: &(Place, Place),
    limits: Option<(&Found<Positive>, &Found<Positive>)>,
) -> bool {
    let Some((stall, limiter)) = limits else {
        return true;
    };
    let (low, high) = (range.low_rad_s(), range.high_rad_s());
    let (stall, limiter) = (stall.value.get(), limiter.value.get());
    if low <= stall {
        t.diagnostics.problem(
            Problem::new(
                places.0.clone(),
                format!("launch_range begins at {}", rpm(low)),
            )
            .label(format!("must be above the stall speed, {}", rpm(stall))),
        );
    } else if low < NEAR_STALL * stall {
        let warning = Warning::LaunchNearStall {
            lowest_rad_s: low,
            stall_rad_s: stall,
        };
        t.diagnostics.warning(warning, Some(&places.0));
    }
    if high > limiter {
        t.diagnostics.problem(
            Problem::new(
                places.1.clone(),
                format!("launch_range ends at {}", rpm(high)),
            )
            .label(format!("must not be above the limiter, {}", rpm(limiter))),
        );
    }
    low > stall && high <= limiter
}

fn default_range(
    t: &TableReader<'_>,
    (stall, limiter): (&Found<Positive>, &Found<Positive>),
) -> Option<SpeedRange> {
    let low = units::RPM
        .to_si(DEFAULT_RANGE_START_RPM)
        .max(2.0 * stall.value.get());
    let high = limiter.value.get();
    let range = SpeedRange::new(low, high);
    if range.is_none() {
        t.diagnostics.problem(
            Problem::new(
                t.header.clone(),
                format!("[driver] lacks launch_range, and from {} there is no way up to the limiter, {}", rpm(low), rpm(high)),
            )
            .help("for example launch_range = [\"1200 rpm\", \"1400 rpm\"]"),
        );
        return None;
    }
    t.diagnostics.default_used(
        t.full_key(key::LAUNCH_RANGE),
        Amount::Word(format!("{} to {}", rpm(low), rpm(high))),
        key::LAUNCH_RANGE.reason(),
    );
    range
}

fn launch_sd(
    t: &TableReader<'_>,
    wheels: Option<&Flywheels>,
    folder: &Path,
) -> (Option<NonNegative>, Option<Practice>) {
    let given = t.measure::<NonNegative>(key::LAUNCH_SD);
    let file = t.words(key::PRACTICE);
    if file.is_absent() {
        let sd = given.or_default();
        return (sd.map(|sd| sd.value), None);
    }
    if !given.is_absent() {
        t.diagnostics.problem(
            Problem::new(
                t.key_place(key::PRACTICE),
                "launch_sd and practice are both given",
            )
            .label("practice launches give the spread")
            .also(t.key_place(key::LAUNCH_SD), "the spread itself")
            .help("keep one of the two"),
        );
        return (None, None);
    }
    let Some(file) = file.given() else {
        return (None, None);
    };
    let practice = practice::read_named(
        t.diagnostics,
        &folder.join(&file.value),
        &file.place,
        wheels,
    );
    let sd = practice
        .as_ref()
        .and_then(|practice| spread(t, practice, wheels, &file.place))
        .and_then(|(sd, counted)| NonNegative::new(as_measured(t, sd.get(), counted)));
    (sd, practice)
}

fn spread(
    t: &TableReader<'_>,
    practice: &Practice,
    wheels: Option<&Flywheels>,
    place: &Place,
) -> Option<(NonNegative, usize)> {
    let fitted = wheels?.fitted()?.name();
    let counted = practice.with_flywheel(fitted).count();
    let Some(sd) = practice.launch_sd_rad_s(fitted) else {
        t.diagnostics.problem(
            Problem::new(
                place.clone(),
                format!(
                    "the practice file has {} with \"{fitted}\", the flywheel in the car now",
                    words::counted(counted, "launch")
                ),
            )
            .label("at least two are needed to tell a spread")
            .help("launches without a name in the column flywheel count as made with the one in the car now"),
        );
        return None;
    };
    t.check_usual(key::LAUNCH_SD, sd.get(), place);
    if counted < ENOUGH_LAUNCHES {
        t.diagnostics
            .warning(Warning::FewLaunches { counted }, Some(place));
    }
    Some((sd, counted))
}

/// A spread from `counted` launches is itself known to one part in `√(2(n−1))`, one standard
/// deviation (JCGM 100:2008, E.4.3, from memory).
fn as_measured(t: &TableReader<'_>, sd_rad_s: f64, counted: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of launches")]
    let freedom = counted.saturating_sub(1).max(1) as f64;
    let deviation = sd_rad_s / (2.0 * freedom).sqrt();
    let doubt = (Doubt::Normal { deviation }, DoubtOrigin::Measured);
    let kind = Some(Kind::AngularSpeed);
    let key = t.address_of(key::LAUNCH_SD);
    t.diagnostics.doubted(key, kind, sd_rad_s, doubt)
}
