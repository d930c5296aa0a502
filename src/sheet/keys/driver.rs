//! `[driver]`.

use super::key::{Form, UsualDoubt, keys, number, of, quantity};
use crate::car::constants::RAD_S_PER_RPM;
use crate::car::driver::{DEFAULT_HOLD_EXPONENT, DEFAULT_LAUNCH_SD_RPM, DEFAULT_RELEASE_SD};
use crate::sheet::value::{COMMON_PRACTICE, NEVER_LIFTS};
use crate::units::Kind;

keys! {
    HOLD = of("hold", Form::Choice(&["foot", "limiter"]))
        .words("how the launch speed is held")
        .how("\"limiter\" for a launch limiter that holds the engine by itself")
        .such_as("\"foot\"")
        .also_called(&["held_by"]);
    THROTTLE_TIME = quantity("throttle_time", Kind::Time)
        .hard(0.0, 30.0)
        .usual(0.0, 2.0)
        .or_worked_out("0.15 s by foot, 0.02 s on a limiter", COMMON_PRACTICE)
        .words("time from first bite to full throttle")
        .how("logger")
        .such_as("\"0.15 s\"")
        .doubted(UsualDoubt::Share(0.40));
    // The usual range is of the last point's time.
    THROTTLE = of("throttle", Form::Points)
        .hard(0.0, 60.0)
        .usual(0.0, 5.0)
        .or_none("by `throttle_time`")
        .words("opening of the throttle as a table of points, times and shares")
        .how("throttle position from a logger; times rise, shares 0 to 1")
        .such_as("[[\"0 s\", 0.0], [\"0.2 s\", 0.6], [\"1.2 s\", 1.0]]");
    LIFT = of("lift", Form::Table)
        .or_word(NEVER_LIFTS, COMMON_PRACTICE)
        .words("how the driver lifts when the tyres spin")
        .how("ask the driver, or throttle position from a logger; left out, the foot stays down")
        .such_as("{ to = 0.5, at = \"3 m/s\", reaction = \"0.25 s\", over = \"0.10 s\" }")
        .also_called(&["lifts", "feather", "pedal"]);
    LAUNCH_RANGE = of("launch_range", Form::Between(Kind::AngularSpeed))
        .hard(20.0 * RAD_S_PER_RPM, 30_000.0 * RAD_S_PER_RPM)
        .usual(600.0 * RAD_S_PER_RPM, 14_000.0 * RAD_S_PER_RPM)
        .or_worked_out(
            "from the larger of 1,500 rpm and twice the stall speed, to the limiter",
            "from the larger of 1,500 rpm and twice the stall speed up to the limiter",
        )
        .words("launch speeds looked at")
        .how("between stall and limiter")
        .such_as("[\"2500 rpm\", \"7000 rpm\"]")
        .also_called(&["launch_rpm", "launch_speed", "range"]);
    LAUNCH_SD = quantity("launch_sd", Kind::AngularSpeed)
        .hard(0.0, 10_000.0 * RAD_S_PER_RPM)
        .usual(0.0, 1000.0 * RAD_S_PER_RPM)
        .or(
            DEFAULT_LAUNCH_SD_RPM * RAD_S_PER_RPM,
            "nobody measured it; common practice, no source",
        )
        .words("spread of the launch speed from run to run, one standard deviation, with the fitted flywheel")
        .how("`flyheft practice`")
        .such_as("\"200 rpm\"")
        .also_called(&["spread", "scatter", "launch_spread"])
        .doubted(UsualDoubt::Share(0.30));
    PRACTICE = of("practice", Form::File(None))
        .or_none("by `launch_sd`")
        .words("file of practice launches to take the spread from")
        .how("see \"The practice file\" below")
        .such_as("\"practice.csv\"");
    // 2 would be steadier than any theory has it.
    HOLD_EXPONENT = number("hold_exponent")
        .hard(0.0, 2.0)
        .usual(0.0, 1.5)
        .or(
            DEFAULT_HOLD_EXPONENT,
            "the spread goes as 1/J, by foot and on a limiter alike",
        )
        .words("how much steadier a heavier flywheel is held")
        .how("leave it out, or from practice with two flywheels: the spread goes with the inverse of the crank side's inertia to this power")
        .such_as("1.0")
        // 1 is the theory's own end: a driver is no steadier against inertia than that.
        .doubted(UsualDoubt::Between {
            low: 0.3,
            high: 1.0,
            least: 0.0,
            most: 1.0,
        });
    // 1 is a factor of 2.7 either way.
    RELEASE_SD = number("release_sd")
        .hard(0.0, 1.0)
        .usual(0.0, 0.6)
        .or(DEFAULT_RELEASE_SD, COMMON_PRACTICE)
        .words("spread of the clutch's release time from run to run, as a share of it")
        .how("video or logger over ten launches; it is the spread of the time's logarithm")
        .such_as("0.15");
    RELEASE_RANGE = of("release_range", Form::Between(Kind::Time))
        .hard(0.005, 10.0)
        .usual(0.05, 3.0)
        .or_none("every flywheel is driven with the one release of `[clutch]`")
        .words("release times that the driver may practise, each flywheel its own")
        .how("how quickly and how slowly the driver can let the clutch out on purpose")
        .such_as("[\"0.15 s\", \"0.80 s\"]");
}

/// `lift`.
pub(crate) mod lift {
    use super::{COMMON_PRACTICE, Kind, keys, number, quantity};
    use crate::car::lift::{
        DEFAULT_LIFT_AT_M_S, DEFAULT_LIFT_OVER_S, DEFAULT_LIFT_REACTION_S, DEFAULT_LIFT_TO,
    };

    keys! {
        // 1 would be no lift.
        TO = number("to")
            .hard(0.0, 0.999)
            .usual(0.0, 0.95)
            .or(DEFAULT_LIFT_TO, COMMON_PRACTICE)
            .words("share of full throttle that the foot goes to")
            .how("throttle position from a logger; 0 is a foot right off")
            .such_as("0.5");
        // Below the least, a foot without reaction would tremble.
        AT = quantity("at", Kind::Speed)
            .hard(0.1, 100.0)
            .usual(0.5, 20.0)
            .or(DEFAULT_LIFT_AT_M_S, COMMON_PRACTICE)
            .words("how much faster than the car the tread runs when the driver notices")
            .how("wheel speed less car speed from a logger; below half of it the foot goes down again")
            .such_as("\"3 m/s\"");
        REACTION = quantity("reaction", Kind::Time)
            .hard(0.0, 10.0)
            .usual(0.0, 1.0)
            .or(DEFAULT_LIFT_REACTION_S, COMMON_PRACTICE)
            .words("time from noticing to moving the foot")
            .how("leave it out")
            .such_as("\"0.25 s\"");
        OVER = quantity("over", Kind::Time)
            .hard(0.0, 10.0)
            .usual(0.0, 1.0)
            .or(DEFAULT_LIFT_OVER_S, COMMON_PRACTICE)
            .words("time the foot takes to move")
            .how("throttle position from a logger; 0 is a jump")
            .such_as("\"0.10 s\"");
    }
}
