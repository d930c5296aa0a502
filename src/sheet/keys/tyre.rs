//! `[tyre]`: the driven pair.

use super::key::{Form, UsualDoubt, keys, number, of, quantity};
use crate::car::tyre::{
    DEFAULT_DAMPING_TIME_S, DEFAULT_LOAD_SENSITIVITY, DEFAULT_PEAK_SLIP, DEFAULT_RELAXATION_M,
    DEFAULT_SLIDING_SHARE,
};
use crate::sheet::tyre_size::USUAL_DEFLECTION;
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

keys! {
    RADIUS = quantity("radius", Kind::Length)
        .hard(0.02, 2.0)
        .usual(0.2, 0.45)
        .this_or("this, `circumference` or `size`")
        .words("rolling radius of the driven tyres")
        .how("roll the car by ten turns of the wheel, divide the distance by 62.83")
        .such_as("\"286 mm\"")
        .also_called(&["rolling_radius", "tyre_radius"]);
    CIRCUMFERENCE = quantity("circumference", Kind::Length)
        .hard(0.125, 12.0)
        .usual(1.25, 2.83)
        .or_none("by `radius`")
        .words("way that the car rolls in one turn of the driven wheels")
        .how("roll the car by ten turns of the wheel, divide the distance by ten")
        .such_as("\"1.81 m\"")
        .also_called(&["rolling_circumference", "rollout"]);
    SIZE = of("size", Form::Text)
        .or_none("by `radius`")
        .words("size of the driven tyres")
        .how("from the sidewall; a way rolled and measured is better")
        .such_as("\"185/60 R14\"")
        .also_called(&["dimension", "tyre_size", "designation"]);
    DEFLECTION = number("deflection")
        .hard(0.0, 0.5)
        .usual(0.03, 0.30)
        .or(USUAL_DEFLECTION, COMMON_PRACTICE)
        .words("share of the height of the tyre's section that the load presses in, with `size`")
        .how("height of the wheel's centre above the ground, against half of the tyre's diameter unloaded; a rolling tyre acts as if by 0.08, a standing one is by 0.22")
        .such_as("0.15")
        .doubted(UsualDoubt::Between {
            low: 0.08,
            high: 0.22,
            least: 0.0,
            most: 0.5,
        });
    GRIP = number("grip")
        .hard(0.02, 20.0)
        .usual(0.5, 3.5)
        .words("peak coefficient of friction of the driven tyres")
        .how("`flyheft fit` from time slips; 1.0 to 1.2 for road tyres, 1.2 to 1.8 for soft ones on a prepared strip (common practice, no source)")
        .such_as("1.45")
        .also_called(&["mu", "friction", "traction"])
        .doubted(UsualDoubt::Share(0.08));
    PEAK_SLIP = number("peak_slip")
        .hard(0.005, 2.0)
        .usual(0.03, 0.35)
        .or(DEFAULT_PEAK_SLIP, COMMON_PRACTICE)
        .words("tyre slip at which grip is best")
        .how("leave it out")
        .such_as("0.12")
        .also_called(&["slip"])
        .doubted(UsualDoubt::Within(0.03));
    // How low it may be depends on `peak_slip`: at least sin(2·atan(1/peak_slip)), below 1.
    SLIDING_SHARE = number("sliding_share")
        .hard(0.01, 1.0)
        .usual(0.6, 0.95)
        .or(
            DEFAULT_SLIDING_SHARE,
            "common practice, no source; the input known worst",
        )
        .words("share of grip left when the tyres spin freely")
        .how("the input known worst: try 0.7 and 0.9 and see what changes. At least sin(2·atan(1/`peak_slip`)) (0.24 for 0.12), below 1")
        .such_as("0.80")
        .also_called(&["sliding", "sliding_friction"])
        .doubted(UsualDoubt::Between {
            low: 0.70,
            high: 0.90,
            least: 0.40,
            most: 0.99,
        })
        .or_unknown();
    RELAXATION = quantity("relaxation", Kind::Length)
        .hard(0.01, 10.0)
        .usual(0.05, 1.0)
        .or(DEFAULT_RELAXATION_M, "typical 0.1 to 0.5 m, from memory")
        .words("distance a tyre rolls before it grips fully")
        .how("leave it out")
        .such_as("\"0.25 m\"")
        .also_called(&["relaxation_length"])
        .doubted(UsualDoubt::Share(0.30));
    DAMPING_TIME = quantity("damping_time", Kind::Time)
        .hard(0.0, 1.0)
        .usual(0.0, 0.03)
        .or(DEFAULT_DAMPING_TIME_S, COMMON_PRACTICE)
        .words("damping of the tyre's carcass")
        .how("leave it out")
        .such_as("\"4 ms\"")
        .also_called(&["damping"]);
    LOAD_SENSITIVITY = number("load_sensitivity")
        .hard(0.0, 2.0)
        .usual(0.0, 0.4)
        .or(DEFAULT_LOAD_SENSITIVITY, COMMON_PRACTICE)
        .words("share of grip lost when the load doubles")
        .how("leave it out")
        .such_as("0.10");
}
