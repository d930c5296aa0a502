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
    TORQUE_COLUMNS = of("torque_columns", Form::Table)
        .or_none("by their names")
        .words("columns of the torque file to read, where its names leave it open")
        .how("the names as the file has them")
        .such_as("{ speed = \"RPM\", torque = \"Tq (Nm)\" }");
    MEASURED_AT = of("measured_at", Form::Choice(&["crank", "wheels"]))
        .or_none("\"crank\"")
        .words("where the torque curve was measured")
        .how("a rolling road measures at the wheels; many print what they reckon for the crank")
        .such_as("\"wheels\"")
        .also_called(&["measured", "dyno_type"]);
    DYNO_EFFICIENCY = number("dyno_efficiency")
        .hard(0.3, 1.0)
        .usual(0.7, 0.98)
        .or_none("the gearbox's `efficiency`")
        .words("share of the engine's torque that reached the rollers")
        .how("with \"wheels\": from engine and wheel figures of one day; tyres on rollers lose more than on the road")
        .such_as("0.86");
    ROLLERS = of("rollers", Form::Table)
        .or_none("none: the dynamometer counts its own rollers")
        .words("rollers whose own inertia the wheel figures leave out")
        .how("with \"wheels\" and `sweep`")
        .such_as("{ inertia = \"30 kg·m²\", radius = \"160 mm\" }");
    DYNO_RATIO = number("dyno_ratio")
        .hard(0.2, 100.0)
        .usual(2.5, 15.0)
        .or_none("needed with `rollers`")
        .words("engine turns for one of the wheels in the gear of the pull")
        .how("gear ratio times final drive")
        .such_as("5.3");
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

/// `torque_columns`.
pub(crate) mod torque_columns {
    use super::{Form, keys, of};

    keys! {
        SPEED = of("speed", Form::Text)
            .or_none("the column with a unit of speed of rotation")
            .words("column of engine speed")
            .such_as("\"RPM\"");
        TORQUE = of("torque", Form::Text)
            .or_none("the column with a unit of torque")
            .words("column of torque")
            .such_as("\"Tq (Nm)\"");
        POWER = of("power", Form::Text)
            .or_none("the column with a unit of power")
            .words("column of power")
            .such_as("\"P (kW)\"");
    }
}

/// `rollers`.
pub(crate) mod rollers {
    use super::{Kind, keys, quantity};

    keys! {
        INERTIA = quantity("inertia", Kind::Inertia)
            .hard(1e-3, 10_000.0)
            .usual(1.0, 300.0)
            .words("inertia of all rollers about their own axes")
            .how("the maker's data")
            .such_as("\"30 kg·m²\"");
        RADIUS = quantity("radius", Kind::Length)
            .hard(0.02, 3.0)
            .usual(0.1, 0.8)
            .words("radius of a roller")
            .how("half of its diameter")
            .such_as("\"160 mm\"");
    }
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
