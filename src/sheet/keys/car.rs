//! `[car]`.

use super::key::{Form, UsualDoubt, keys, number, of, quantity};
use crate::car::body::{DEFAULT_PITCH_TIME_S, DEFAULT_ROLLING};
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

keys! {
    MASS = quantity("mass", Kind::Mass)
        .hard(10.0, 50_000.0)
        .usual(300.0, 3000.0)
        .words("mass on the line, driver in")
        .how("scales under all four wheels")
        .such_as("\"870 kg\"")
        .also_called(&["weight", "kerb_weight", "curb_weight", "car_mass", "car_weight"])
        .doubted(UsualDoubt::Share(0.01));
    DRIVE = of("drive", Form::Choice(&["rear", "front"]))
        .words("which wheels are driven")
        .such_as("\"rear\"")
        .also_called(&["driven", "driven_wheels"]);
    WHEELBASE = quantity("wheelbase", Kind::Distance)
        .hard(0.2, 30.0)
        .usual(1.5, 4.5)
        .words("wheelbase")
        .how("tape, hub to hub")
        .such_as("\"2.40 m\"");
    // Beyond 3 m no car's centre of gravity lies.
    CG_HEIGHT = quantity("cg_height", Kind::Distance)
        .hard(0.01, 3.0)
        .usual(0.15, 1.0)
        .words("height of the centre of gravity above the ground, driver in")
        .how("weigh one axle with the other lifted; else the height of the crankshaft is a fair first guess (common practice, no source)")
        .such_as("\"0.48 m\"")
        .also_called(&["cog", "cog_height", "centre_of_gravity", "center_of_gravity", "cg"])
        .doubted(UsualDoubt::Share(0.05))
        .or_unknown();
    FRONT_SHARE = number("front_share")
        .hard(0.02, 0.98)
        .usual(0.3, 0.7)
        .words("share of the weight on the front axle, standing still")
        .how("front scales over all scales")
        .such_as("0.53")
        .also_called(&["front_weight", "weight_distribution", "front_percent"])
        .doubted(UsualDoubt::Within(0.01));
    DRAG_AREA = quantity("drag_area", Kind::Area)
        .hard(0.0, 50.0)
        .usual(0.2, 2.0)
        .words("drag area: drag coefficient times frontal area")
        .how("matters little to 60 ft; published figures will do")
        .such_as("\"0.62 m²\"")
        .also_called(&["cda", "cd", "drag", "frontal_area"])
        .doubted(UsualDoubt::Share(0.10))
        .or_unknown();
    ROLLING = number("rolling")
        .hard(0.0, 0.5)
        .usual(0.005, 0.05)
        .or(DEFAULT_ROLLING, COMMON_PRACTICE)
        .words("rolling resistance over weight")
        .how("leave it out")
        .such_as("0.015")
        .also_called(&["crr", "rolling_resistance"]);
    DRIVEN_WHEELS_INERTIA = quantity("driven_wheels_inertia", Kind::Inertia)
        .hard(1e-4, 1000.0)
        .usual(0.2, 8.0)
        .words("inertia of both driven wheels with tyres, half-shafts and brakes")
        .how("swing test of one wheel and tyre, twice, and a little for the rest")
        .such_as("\"1.7 kg·m²\"")
        .also_called(&["wheel_inertia", "wheels_inertia", "driven_wheel_inertia"])
        .or_unknown();
    UNDRIVEN_WHEELS_INERTIA = quantity("undriven_wheels_inertia", Kind::Inertia)
        .hard(0.0, 1000.0)
        .usual(0.2, 8.0)
        .words("inertia of both other wheels")
        .how("the same")
        .such_as("\"1.3 kg·m²\"")
        .also_called(&["undriven_wheel_inertia"])
        .or_unknown();
    PITCH_TIME = quantity("pitch_time", Kind::Time)
        .hard(0.005, 5.0)
        .usual(0.03, 0.6)
        .or(DEFAULT_PITCH_TIME_S, COMMON_PRACTICE)
        .words("time the weight takes to go to the back")
        .how("video of the launch")
        .such_as("\"0.12 s\"")
        .doubted(UsualDoubt::Share(0.40));
    AXLE = of("axle", Form::Choice(&["independent", "live"]))
        .or_word("independent", "both driven tyres loaded alike")
        .words("how the driven wheels hang")
        .how("live needs rear drive")
        .such_as("\"independent\"")
        .also_called(&["suspension", "rear_axle"]);
    DIFFERENTIAL = of("differential", Form::Choice(&["locked", "open"]))
        .or_word("locked", "a drag car's usual one; common practice, no source")
        .words("how the driven wheels share the torque")
        .how("it matters with a live axle alone")
        .such_as("\"locked\"")
        .also_called(&["diff"]);
    TRACK_WIDTH = quantity("track_width", Kind::Distance)
        .hard(0.1, 10.0)
        .usual(0.9, 2.2)
        .or_none("needed with a live axle and an open differential")
        .words("distance of the driven tyres' centres")
        .how("tape")
        .such_as("\"1.32 m\"")
        .also_called(&["track", "gauge"]);
    FRONT_ROLL_SHARE = number("front_roll_share")
        .hard(0.0, 1.0)
        .usual(0.2, 0.95)
        .or_none("needed with a live axle and an open differential")
        .words("front axle's share of the roll stiffness")
        .how("from spring and bar rates")
        .such_as("0.7")
        .also_called(&["roll_share", "roll_stiffness"])
        .or_unknown();
}
