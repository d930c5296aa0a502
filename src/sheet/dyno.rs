//! How the torque curve was measured: which columns, at the crank or at the wheels, and what a
//! sweep left out.

use super::dyno_columns::Named;
use super::keys::Key;
use super::keys::engine::{
    self as key, rollers as rollers_key, sweep as sweep_key, torque_columns,
};
use super::table_reader::TableReader;
use super::warnings::Warning;
use crate::car::checked::{Efficiency, Positive};
use crate::car::driveline::DEFAULT_EFFICIENCY;
use crate::car::engine::TorqueCurve;

/// The columns that the sheet names.
pub(super) fn columns(t: &TableReader<'_>) -> Named {
    let table = t.inner(key::TORQUE_COLUMNS);
    let Some(table) = table.given() else {
        return Named::default();
    };
    let columns = table.value;
    let named = Named {
        speed: columns.words(torque_columns::SPEED).given(),
        torque: columns.words(torque_columns::TORQUE).given(),
        power: columns.words(torque_columns::POWER).given(),
    };
    columns.finish();
    named
}

/// Where the dynamometer held the car.
#[derive(Clone, Copy, PartialEq)]
enum MeasuredAt {
    Crank,
    Wheels,
}

/// Keys that a curve measured at the wheels alone has a use for.
const WHEEL_KEYS: [&Key; 3] = [key::DYNO_EFFICIENCY, key::ROLLERS, key::DYNO_RATIO];

/// The curve at the crank, with what a sweep spun up put back.
///
/// At the wheels, at engine speed: `T = (Tw + Jr α)/η + Jd α`, `Jr = J (R/r)²/G²` the rollers'
/// inertia as the engine feels it, `α` the sweep rate at the engine (plain mechanics).
pub(super) fn at_crank(t: &TableReader<'_>, curve: Option<TorqueCurve>) -> Option<TorqueCurve> {
    let places = [MeasuredAt::Crank, MeasuredAt::Wheels];
    let at = t.choice(key::MEASURED_AT, &places, |at| match at {
        MeasuredAt::Crank => "crank",
        MeasuredAt::Wheels => "wheels",
    });
    let at = if at.is_absent() {
        MeasuredAt::Crank
    } else {
        at.given()?.value
    };
    let sweep = sweep(t);
    let (rate, inertia) = match &sweep {
        Ok(Some((rate, inertia))) => (*rate, *inertia),
        Ok(None) => (0.0, 0.0),
        Err(Refused) => return None,
    };
    if at == MeasuredAt::Crank {
        for key in WHEEL_KEYS.into_iter().filter(|key| t.has(key)) {
            let warning = Warning::NotUsed {
                key: t.full_key(key),
                why: "the curve was measured at the crank; say measured_at = \"wheels\" if it was not",
            };
            t.diagnostics.warning(warning, Some(&t.key_place(key)));
        }
        // What does nothing must still be right.
        let good = t.measure::<Efficiency>(key::DYNO_EFFICIENCY).is_good();
        if !good || rollers(t, true).is_err() {
            return None;
        }
        return put_back(curve?, rate * inertia);
    }
    let efficiency = efficiency(t)?;
    let rollers = rollers(t, matches!(sweep, Ok(Some(_)))).ok()?;
    let wheels = put_back(curve?, rate * rollers)?;
    put_back(wheels.scaled(1.0 / efficiency).ok()?, rate * inertia)
}

fn put_back(curve: TorqueCurve, torque_nm: f64) -> Option<TorqueCurve> {
    if torque_nm > 0.0 {
        curve.with_sweep(torque_nm, 1.0).ok()
    } else {
        Some(curve)
    }
}

/// Something is wrong, and noted.
struct Refused;

/// Sweep rate at the engine, rad/s², and the inertia that it spun up, kg·m².
fn sweep(t: &TableReader<'_>) -> Result<Option<(f64, f64)>, Refused> {
    let sweep = t.inner(key::SWEEP);
    if sweep.is_absent() {
        return Ok(None);
    }
    let sweep = sweep.given().ok_or(Refused)?.value;
    let rate = sweep.measure::<Positive>(sweep_key::RATE).needed();
    let inertia = sweep.measure::<Positive>(sweep_key::INERTIA).needed();
    sweep.finish();
    let (rate, inertia) = rate.zip(inertia).ok_or(Refused)?;
    Ok(Some((rate.value.get(), inertia.value.get())))
}

/// What arrived at the wheels: stated, or the gearbox's, drawn with it.
fn efficiency(t: &TableReader<'_>) -> Option<f64> {
    let stated = t.measure::<Efficiency>(key::DYNO_EFFICIENCY);
    if !stated.is_absent() {
        return Some(stated.given()?.value.get());
    }
    let gearbox = t.diagnostics.known_ahead().gearbox_efficiency();
    if gearbox.is_none() {
        let warning = Warning::WheelCurveWithoutLosses {
            efficiency: DEFAULT_EFFICIENCY,
        };
        let place = t.key_place(key::MEASURED_AT);
        t.diagnostics.warning(warning, Some(&place));
    }
    let drawn = t.diagnostics.drawn_value("gearbox.efficiency");
    let efficiency = drawn.or(gearbox).unwrap_or(DEFAULT_EFFICIENCY);
    // One out of range is told where the gearbox is read.
    Efficiency::new(efficiency).map(Efficiency::get)
}

/// The rollers' inertia as the engine feels it, kg·m²; none where the sheet tells of none.
fn rollers(t: &TableReader<'_>, swept: bool) -> Result<f64, Refused> {
    let rollers = t.inner(key::ROLLERS);
    let ratio = t.measure::<Positive>(key::DYNO_RATIO);
    if rollers.is_absent() {
        return Ok(0.0);
    }
    let rollers = rollers.given().ok_or(Refused)?.value;
    let inertia = rollers.measure::<Positive>(rollers_key::INERTIA).needed();
    let radius = rollers.measure::<Positive>(rollers_key::RADIUS).needed();
    rollers.finish();
    let ratio = ratio.needed();
    if !swept {
        t.lacks(key::SWEEP);
        return Err(Refused);
    }
    let tyre_m = t.diagnostics.drawn_value("tyre.radius");
    let tyre_m = tyre_m.or(t.diagnostics.known_ahead().tyre_radius_m());
    let parts = inertia.zip(radius).zip(ratio).zip(tyre_m);
    let (((inertia, radius), ratio), tyre_m) = parts.ok_or(Refused)?;
    let gearing = tyre_m / (radius.value.get() * ratio.value.get());
    Ok(inertia.value.get() * gearing.powi(2))
}
