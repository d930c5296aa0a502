//! `[engine]`.

use super::keys::engine as key;
use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::{Amount, Found};
use super::warnings::Warning;
use super::{dyno, torque_file, weather};
use crate::car::checked::{NonNegative, Positive};
use crate::car::engine::{DEFAULT_MOTORING_SHARE, Engine, TorqueCurve};
use crate::car::weather::{Standard, StatedFor};
use crate::units::{Kind, System};
use std::path::Path;

/// What the sheet says of the engine: other sections lean on the limiter and the stall speed
/// even where the rest is wrong.
pub(super) struct EngineRead {
    pub(super) engine: Option<Engine>,
    pub(super) limiter: Option<Found<Positive>>,
    pub(super) stall: Option<Found<Positive>>,
}

/// Reads the section; the torque curve lies beside the sheet, in `folder`.
pub(super) fn read(t: &TableReader<'_>, folder: &Path) -> EngineRead {
    let file = t.words(key::TORQUE_CURVE).needed();
    let columns = dyno::columns(t);
    let stated_for = stated_for(t);
    let limiter = t.measure::<Positive>(key::LIMITER).needed();
    let stall = t.measure::<Positive>(key::STALL).or_default();
    let motoring = t.measure::<NonNegative>(key::MOTORING_TORQUE);

    let curve = file.as_ref().and_then(|file| {
        let path = folder.join(&file.value);
        torque_file::read(t.diagnostics, &path, &file.place, &columns)
    });
    let curve = scaled(t, dyno::at_crank(t, curve));
    let motoring = match &curve {
        Some(curve) => motoring.or(DEFAULT_MOTORING_SHARE * curve.peak_nm()),
        None => motoring.given(),
    };
    if let Some(curve) = &curve {
        check_curve(t, curve, limiter.as_ref(), stall.as_ref());
        if let Some(motoring) = &motoring {
            check_motoring(t, curve, motoring);
        }
        if let Some(file) = &file {
            check_peak(t, curve.peak_nm(), file);
        }
    }
    EngineRead {
        engine: assemble(
            curve,
            stated_for,
            limiter.as_ref(),
            stall.as_ref(),
            motoring,
        ),
        limiter,
        stall,
    }
}

fn assemble(
    curve: Option<TorqueCurve>,
    stated_for: Option<StatedFor>,
    limiter: Option<&Found<Positive>>,
    stall: Option<&Found<Positive>>,
    motoring: Option<Found<NonNegative>>,
) -> Option<Engine> {
    Some(Engine {
        curve: curve?,
        stated_for: stated_for?,
        limiter_rad_s: limiter?.value,
        stall_rad_s: stall?.value,
        motoring_nm: motoring?.value,
    })
}

#[derive(Clone, Copy)]
enum Stated {
    Standard(Standard),
    AsMeasured,
}

const AS_MEASURED: &str = "as measured";

fn stated_for(t: &TableReader<'_>) -> Option<StatedFor> {
    let all: Vec<Stated> = Standard::ALL
        .into_iter()
        .map(Stated::Standard)
        .chain([Stated::AsMeasured])
        .collect();
    let stated = t
        .choice(key::STATED_FOR, &all, |stated| match stated {
            Stated::Standard(standard) => standard.name(),
            Stated::AsMeasured => AS_MEASURED,
        })
        .needed();
    let dyno = t.inner(key::DYNO_WEATHER);
    let absent = dyno.is_absent();
    let dyno = dyno.given();
    let place = dyno.as_ref().map(|dyno| dyno.place.clone());
    let weather = dyno.and_then(|dyno| {
        let weather = weather::read(&dyno.value);
        dyno.value.finish();
        weather
    });
    match stated?.value {
        Stated::Standard(standard) => {
            if !absent {
                let warning = Warning::NotUsed {
                    key: t.full_key(key::DYNO_WEATHER),
                    why: "the curve is stated for a standard's own weather, not as measured",
                };
                t.diagnostics.warning(warning, place.as_ref());
            }
            Some(StatedFor::Standard(standard))
        }
        Stated::AsMeasured => {
            if absent {
                t.lacks(key::DYNO_WEATHER);
            }
            weather.map(StatedFor::AsMeasured)
        }
    }
}

/// The curve brought to what fits or dynamometers of other days say of it. Its doubt stands for
/// the whole curve's: a dynamometer errs by one factor rather than point by point.
fn scaled(t: &TableReader<'_>, curve: Option<TorqueCurve>) -> Option<TorqueCurve> {
    let scale = t.measure::<Positive>(key::TORQUE_SCALE);
    let scale = if scale.is_absent() {
        t.default_value(key::TORQUE_SCALE, 1.0)
    } else {
        scale.given()?.value.get()
    };
    curve?.scaled(scale).ok()
}

/// An engine that takes more to turn over than it ever gives is none.
fn check_motoring(t: &TableReader<'_>, curve: &TorqueCurve, motoring: &Found<NonNegative>) {
    if motoring.value.get() > curve.peak_nm() {
        let peak = Amount::of(curve.peak_nm(), Some(Kind::Torque)).shown(System::Metric);
        t.diagnostics.problem(
            Problem::new(
                motoring.place.clone(),
                format!("motoring_torque = {} is more than the engine ever gives", motoring.read),
            )
            .label(format!("the curve's highest torque is {peak}"))
            .help("the torque it takes to turn the engine over with the throttle shut: some 12 % of the highest; leave it out if nobody measured it"),
        );
    }
}

/// Holds the curve's highest torque against the range declared beside its key.
fn check_peak(t: &TableReader<'_>, peak_nm: f64, file: &Found<String>) {
    let kind = key::TORQUE_CURVE.form.kind();
    let Some(hard) = key::TORQUE_CURVE.hard.filter(|hard| !hard.hold(peak_nm)) else {
        t.check_usual(key::TORQUE_CURVE, peak_nm, &file.place);
        return;
    };
    let peak = Amount::of(peak_nm, kind).shown(System::Metric);
    t.diagnostics.problem(
        Problem::new(
            file.place.clone(),
            format!("the highest torque of {} is {peak}", file.read),
        )
        .label(hard.must_be(kind))
        .help("look at the unit in the name of the file's column, and at the figures below it"),
    );
}

fn check_curve(
    t: &TableReader<'_>,
    curve: &TorqueCurve,
    limiter: Option<&Found<Positive>>,
    stall: Option<&Found<Positive>>,
) {
    let rpm = |speed| Amount::of(speed, Some(Kind::AngularSpeed)).shown(System::Metric);
    // A speed read from "7000 rpm" and one from a file's 7000 are the same to the last bit.
    if let Some(limiter) = limiter.filter(|l| l.value.get() > curve.last_speed_rad_s()) {
        let short = rpm(limiter.value.get() - curve.last_speed_rad_s());
        t.diagnostics.problem(
            Problem::new(
                limiter.place.clone(),
                format!("the torque curve ends {short} under the limiter"),
            )
            .label(format!(
                "the curve's last speed is {}",
                rpm(curve.last_speed_rad_s())
            ))
            .help("measure or draw the curve on up to the limiter, or set the limiter where the curve ends"),
        );
    }
    if let Some(stall) = stall.filter(|s| s.value.get() >= curve.first_speed_rad_s()) {
        let first = rpm(curve.first_speed_rad_s());
        t.diagnostics.problem(
            Problem::new(
                stall.place.clone(),
                format!("stall = {} is not below the torque curve's first speed", stall.read),
            )
            .label(format!("must be below {first}"))
            .help("the speed below which the engine stops; torque falls in a straight line from the curve's first point to nothing there"),
        );
    }
}
