//! `[engine]`.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::{Amount, COMMON_PRACTICE, Found};
use super::warnings::{LIMITER, PEAK_TORQUE, Warning};
use super::{torque_file, weather};
use crate::car::checked::{NonNegative, Positive};
use crate::car::engine::{DEFAULT_MOTORING_SHARE, Engine, TorqueCurve};
use crate::car::weather::{Standard, StatedFor};
use crate::units::{Kind, System};
use std::path::Path;

/// A factor on a measured curve beyond these is a curve of another engine (common practice, no
/// source).
const SCALES: std::ops::RangeInclusive<f64> = 0.2..=5.0;

/// Stall speed where the sheet is silent, rpm (common practice, no source).
pub(super) const DEFAULT_STALL_RPM: f64 = 500.0;

/// What the sheet says of the engine: other sections lean on the limiter and the stall speed
/// even where the rest is wrong.
pub(super) struct EngineRead {
    pub(super) engine: Option<Engine>,
    pub(super) limiter: Option<Found<Positive>>,
    pub(super) stall: Option<Found<Positive>>,
}

/// Reads the section; the torque curve lies beside the sheet, in `folder`.
pub(super) fn read(t: &TableReader<'_>, folder: &Path) -> EngineRead {
    let file = t.words("torque_curve").needed("\"torque.csv\"");
    let stated_for = stated_for(t);
    let limiter = t
        .quantity::<Positive>("limiter", Kind::AngularSpeed)
        .needed("\"7000 rpm\"");
    let stall = t
        .quantity::<Positive>("stall", Kind::AngularSpeed)
        .or(crate::units::RPM.to_si(DEFAULT_STALL_RPM), COMMON_PRACTICE);
    let motoring = t.quantity::<NonNegative>("motoring_torque", Kind::Torque);

    if let Some(limiter) = &limiter {
        LIMITER.check(t.diagnostics, t.full_key("limiter"), limiter);
    }
    let curve = file
        .as_ref()
        .and_then(|file| torque_file::read(t.diagnostics, &folder.join(&file.value), &file.place));
    let curve = scaled(t, with_sweep(t, curve));
    let motoring = match &curve {
        Some(curve) => motoring.or(
            DEFAULT_MOTORING_SHARE * curve.peak_nm(),
            "12 % of the curve's highest point; common practice, no source",
        ),
        None => motoring.given(),
    };
    if let Some(curve) = &curve {
        check_curve(t, curve, limiter.as_ref(), stall.as_ref());
        let place = file.as_ref().map(|file| &file.place);
        PEAK_TORQUE.check_value(
            t.diagnostics,
            t.full_key("torque_curve"),
            curve.peak_nm(),
            place,
        );
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
        .choice("stated_for", &all, |stated| match stated {
            Stated::Standard(standard) => standard.name(),
            Stated::AsMeasured => AS_MEASURED,
        })
        .needed("\"SAE J1349\"");
    let dyno = t.inner(
        "dyno_weather",
        "a table in braces: { pressure = …, temperature = …, humidity = … }",
    );
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
                    key: t.full_key("dyno_weather"),
                    why: "the curve is stated for a standard's own weather, not as measured",
                };
                t.diagnostics.warning(warning, place.as_ref());
            }
            Some(StatedFor::Standard(standard))
        }
        Stated::AsMeasured => {
            if absent {
                t.lacks(
                    "dyno_weather",
                    "{ pressure = \"98.2 kPa\", temperature = \"24 °C\", humidity = 0.45 }",
                );
            }
            weather.map(StatedFor::AsMeasured)
        }
    }
}

/// The curve with what a sweep test's figures leave out, where the sheet tells of a sweep.
fn with_sweep(t: &TableReader<'_>, curve: Option<TorqueCurve>) -> Option<TorqueCurve> {
    let sweep = t.inner(
        "sweep",
        "a table in braces: { rate = \"300 rpm/s\", inertia = \"0.15 kg·m²\" }",
    );
    if sweep.is_absent() {
        return curve;
    }
    let sweep = sweep.given()?.value;
    let rate = sweep
        .quantity::<Positive>("rate", Kind::SweepRate)
        .needed("\"300 rpm/s\"");
    let inertia = sweep
        .quantity::<Positive>("inertia", Kind::Inertia)
        .needed("\"0.15 kg·m²\"");
    sweep.finish();
    let (rate, inertia) = (rate?.value.get(), inertia?.value.get());
    curve?.with_sweep(rate, inertia).ok()
}

/// The curve brought to what fits or dynamometers of other days say of it. Its doubt stands for
/// the whole curve's: a dynamometer errs by one factor rather than point by point.
fn scaled(t: &TableReader<'_>, curve: Option<TorqueCurve>) -> Option<TorqueCurve> {
    let scale = t.number::<Positive>("torque_scale").within(SCALES, "");
    let scale = if scale.is_absent() {
        t.default_value("torque_scale", None, 1.0)
    } else {
        scale.given()?.value.get()
    };
    curve?.scaled(scale).ok()
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
