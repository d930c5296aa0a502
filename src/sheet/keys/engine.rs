//! `[engine]`.

use super::key::{Form, UsualDoubt, keys, number, of, quantity};
use crate::car::constants::RAD_S_PER_RPM;
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

/// Stall speed where the sheet is silent, rpm (common practice, no source).
const DEFAULT_STALL_RPM: f64 = 500.0;

keys! {
    // The range is of the curve's highest torque.
    TORQUE_CURVE = of("torque_curve", Form::File(Some(Kind::Torque)))
        .hard(0.5, 20_000.0)
        .usual(20.0, 3000.0)
        .words("file with the torque curve; its peak torque")
        .how("see \"The torque file\" below")
        .such_as("\"torque.csv\"")
        .also_called(&["curve", "torque", "torque_file", "dyno", "power_curve"]);
    STATED_FOR = of(
        "stated_for",
        Form::Choice(&["SAE J1349", "ISO 1585", "DIN 70020", "as measured"]),
    )
        .words("weather that the torque curve is corrected to")
        .how("it stands on the dynamometer's printout; if the operator switched correction off, \"as measured\"")
        .such_as("\"SAE J1349\"")
        .also_called(&["correction", "corrected_to", "standard"]);
    DYNO_WEATHER = of("dyno_weather", Form::Table)
        .or_none("needed with \"as measured\"")
        .words("weather in the dynamometer's room")
        .such_as("{ pressure = \"98.2 kPa\", temperature = \"24 °C\", humidity = 0.45 }");
    SWEEP = of("sweep", Form::Table)
        .or_none("none")
        .words("sweep test whose figures leave out the torque that spun up engine and rollers")
        .how("give it only if the dynamometer did not put that torque back itself")
        .such_as("{ rate = \"300 rpm/s\", inertia = \"0.15 kg·m²\" }");
    LIMITER = quantity("limiter", Kind::AngularSpeed)
        .hard(500.0 * RAD_S_PER_RPM, 30_000.0 * RAD_S_PER_RPM)
        .usual(3000.0 * RAD_S_PER_RPM, 14_000.0 * RAD_S_PER_RPM)
        .words("speed at which the limiter has taken all torque away")
        .how("rev meter against the wall of the limiter; not above the curve's last point")
        .such_as("\"7000 rpm\"")
        .also_called(&["redline", "rev_limit", "rev_limiter", "max_rpm", "maximum"]);
    STALL = quantity("stall", Kind::AngularSpeed)
        .hard(20.0 * RAD_S_PER_RPM, 6000.0 * RAD_S_PER_RPM)
        .usual(200.0 * RAD_S_PER_RPM, 2000.0 * RAD_S_PER_RPM)
        .or(DEFAULT_STALL_RPM * RAD_S_PER_RPM, COMMON_PRACTICE)
        .words("engine speed below which it stalls")
        .how("let the clutch in slowly against the brake and watch the last speed it turns at; below the curve's first point")
        .such_as("\"500 rpm\"")
        .also_called(&["stall_speed", "idle", "minimum"]);
    // Beyond a factor of five either way it is another engine's curve.
    TORQUE_SCALE = number("torque_scale")
        .hard(0.2, 5.0)
        .usual(0.8, 1.25)
        .or_none("1")
        .words("factor on every torque of the curve")
        .how("leave it out; what a fit to time slips found, or how this dynamometer reads against another")
        .such_as("\"1.00 ± 0.02\"")
        .also_called(&["scale", "torque_factor"])
        .doubted(UsualDoubt::Within(0.03));
    MOTORING_TORQUE = quantity("motoring_torque", Kind::Torque)
        .hard(0.0, 2000.0)
        .usual(1.0, 300.0)
        .or_worked_out(
            "12 % of the curve's highest point",
            "12 % of the curve's highest point; common practice, no source",
        )
        .words("torque it takes to turn the engine over, throttle shut")
        .how("motored dynamometer; else leave it out. Never above the curve's highest point")
        .such_as("\"24 N·m\"")
        .also_called(&["friction", "friction_torque", "drag_torque"]);
}

/// `sweep`.
pub(crate) mod sweep {
    use super::{Kind, RAD_S_PER_RPM, keys, quantity};

    keys! {
        RATE = quantity("rate", Kind::SweepRate)
            .hard(RAD_S_PER_RPM, 20_000.0 * RAD_S_PER_RPM)
            .usual(30.0 * RAD_S_PER_RPM, 2000.0 * RAD_S_PER_RPM)
            .words("how fast engine speed rose in the sweep")
            .how("the operator sets it")
            .such_as("\"300 rpm/s\"");
        INERTIA = quantity("inertia", Kind::Inertia)
            .hard(1e-4, 1000.0)
            .usual(0.02, 20.0)
            .words("all that was spun up: engine, flywheel, and the dynamometer brought to engine speed")
            .how("the maker's data of the dynamometer, and your own ledger")
            .such_as("\"0.15 kg·m²\"");
    }
}
