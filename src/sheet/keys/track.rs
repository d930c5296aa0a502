//! `[track]`, besides its weather.

use super::key::{keys, number, quantity};
use crate::car::track::{
    DEFAULT_GRIP_SD, DEFAULT_ROLLOUT_M, DEFAULT_STALL_COST_S, DEFAULT_TOLERANCE_S,
};
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

keys! {
    GRIP = number("grip")
        .hard(0.02, 20.0)
        .usual(0.3, 1.7)
        .or(1.0, "grip is the tyre's own")
        .words("grip of the track over the tyre's own")
        .such_as("1.0");
    GRIP_SD = number("grip_sd")
        .hard(0.0, 0.3)
        .usual(0.0, 0.1)
        .or(DEFAULT_GRIP_SD, COMMON_PRACTICE)
        .words("spread of grip from run to run, as a share of it")
        .how("leave it out")
        .such_as("0.03");
    // Beams and a tyre: the roll-out is a good part of a tyre's diameter.
    ROLLOUT = quantity("rollout", Kind::Distance)
        .hard(0.005, 2.0)
        .usual(0.1, 0.6)
        .or(DEFAULT_ROLLOUT_M, COMMON_PRACTICE)
        .words("distance rolled before the clock starts, staged shallow")
        .how("roll the car through the beams by hand")
        .such_as("\"0.30 m\"")
        .also_called(&["roll_out"]);
    STAGE_DEPTH = quantity("stage_depth", Kind::Distance)
        .hard(0.0, 2.0)
        .usual(0.0, 0.5)
        .or(0.0, "staged shallow")
        .words("how much deeper the car is staged")
        .how("how much further in the car stands than at first staging; below `rollout`")
        .such_as("\"0.10 m\"")
        .also_called(&["depth", "staging"]);
    TOLERANCE = quantity("tolerance", Kind::Time)
        .hard(1e-4, 5.0)
        .usual(0.002, 0.3)
        .or(DEFAULT_TOLERANCE_S, COMMON_PRACTICE)
        .words("sixty-foot time that a launch may lose and still count as fine")
        .such_as("\"0.02 s\"");
    STALL_COST = quantity("stall_cost", Kind::Time)
        .hard(0.5, 1000.0)
        .usual(2.0, 60.0)
        .or(DEFAULT_STALL_COST_S, COMMON_PRACTICE)
        .words("time a stalled launch is counted as")
        .how("above the quickest sixty-foot time")
        .such_as("\"5 s\"");
}
