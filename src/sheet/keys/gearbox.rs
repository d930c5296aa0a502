//! `[gearbox]`.

use super::key::{Form, UsualDoubt, keys, number, of, quantity};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driveline::{
    DEFAULT_EFFICIENCY, DEFAULT_SHIFT_ENGAGE_S, DEFAULT_SHIFT_THROTTLE_S, DEFAULT_SHIFT_TIME_S,
};
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

keys! {
    // The usual range is first gear's.
    RATIOS = of("ratios", Form::Numbers)
        .hard(0.05, 50.0)
        .usual(1.0, 6.0)
        .words("gear ratios, first gear first, each below the one before")
        .how("turn the input, count at the output, or the maker's data")
        .such_as("[3.20, 1.95, 1.38, 1.00]")
        .also_called(&["gears", "gear_ratios"]);
    FINAL = number("final")
        .hard(0.1, 50.0)
        .usual(2.5, 6.5)
        .words("final-drive ratio")
        .how("teeth of the crown wheel over teeth of the pinion")
        .such_as("4.1")
        .also_called(&["final_drive", "axle_ratio", "diff_ratio", "crown_wheel"]);
    EFFICIENCY = number("efficiency")
        .hard(0.3, 1.0)
        .usual(0.8, 1.0)
        .or(DEFAULT_EFFICIENCY, COMMON_PRACTICE)
        .words("share of the torque that reaches the wheels")
        .how("leave it out unless you have engine and wheel figures of one day")
        .such_as("0.94")
        .also_called(&["losses", "loss"])
        .doubted(UsualDoubt::Within(0.03));
    INPUT_INERTIA = quantity("input_inertia", Kind::Inertia)
        .hard(0.0, 50.0)
        .usual(0.0, 0.05)
        .words("inertia of the input shaft and the gears that turn with it, at its speed")
        .how("a small thing: 0.001 to 0.003 kg·m² for a car's gearbox (common practice, no source)")
        .such_as("\"0.0010 kg·m²\"")
        .also_called(&["inertia"])
        .or_unknown();
    PROPSHAFT_INERTIA = quantity("propshaft_inertia", Kind::Inertia)
        .hard(0.0, 50.0)
        .usual(0.0, 0.2)
        .or(0.0, "no propeller shaft counted")
        .words("inertia of the propeller shaft")
        .how("tube: mass times the square of its radius")
        .such_as("\"0.0032 kg·m²\"");
    SHIFT_AT = quantity("shift_at", Kind::AngularSpeed)
        .hard(200.0 * RAD_S_PER_RPM, 30_000.0 * RAD_S_PER_RPM)
        .usual(2000.0 * RAD_S_PER_RPM, 14_000.0 * RAD_S_PER_RPM)
        .words("speed of the input shaft at which the driver shifts")
        .how("logger or rev meter; more than 100 rpm under the limiter")
        .such_as("\"6800 rpm\"")
        .also_called(&["shift_speed", "shift_rpm", "shift_point"]);
    SHIFT_TIME = quantity("shift_time", Kind::Time)
        .hard(1e-3, 5.0)
        .usual(0.02, 1.5)
        .or(DEFAULT_SHIFT_TIME_S, COMMON_PRACTICE)
        .words("time with the clutch open in a gear change")
        .how("logger")
        .such_as("\"0.25 s\"");
    SHIFT_ENGAGE = quantity("shift_engage", Kind::Time)
        .hard(1e-3, 5.0)
        .usual(0.01, 1.0)
        .or(DEFAULT_SHIFT_ENGAGE_S, COMMON_PRACTICE)
        .words("time the clutch takes to come home after a gear change")
        .how("logger")
        .such_as("\"0.08 s\"");
    SHIFT_THROTTLE = quantity("shift_throttle", Kind::Time)
        .hard(1e-4, 5.0)
        .usual(0.001, 1.0)
        .or(DEFAULT_SHIFT_THROTTLE_S, COMMON_PRACTICE)
        .words("time the throttle takes to open after a gear change")
        .how("logger")
        .such_as("\"0.05 s\"");
    FLAT_SHIFT = of("flat_shift", Form::Flag)
        .or_word("false", "foot off for a shift")
        .words("throttle kept open in a gear change")
        .such_as("false");
}
