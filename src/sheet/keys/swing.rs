//! `swing` and `swing_check`: a test on hanging cords.

use super::key::{count, keys, number, quantity};
use crate::units::Kind;

const NOT_TOLD: &str = "not told: a warning";
const NO_PLATFORM: &str = "no platform";

keys! {
    CORDS = count("cords")
        .hard(2.0, 1000.0)
        .usual(2.0, 4.0)
        .words("how many cords")
        .how("two or three")
        .such_as("3")
        .also_called(&["wires", "strings", "ropes"]);
    RADIUS = quantity("radius", Kind::Length)
        .hard(1e-3, 5.0)
        .usual(0.02, 0.5)
        .words("radius of the circle the cords hang on")
        .how("half the distance of two cords opposite each other; for three, measure from the middle")
        .such_as("\"120 mm\"")
        .also_called(&["circle"]);
    LENGTH = quantity("length", Kind::Length)
        .hard(0.01, 100.0)
        .usual(0.2, 5.0)
        .words("length of the cords")
        .how("upright, from knot to knot; long cords and small swings")
        .such_as("\"1.50 m\"");
    MASS = quantity("mass", Kind::Mass)
        .hard(1e-3, 1000.0)
        .usual(0.2, 60.0)
        .words("mass of the part alone")
        .how("scales")
        .such_as("\"6.9 kg\"")
        .also_called(&["weight"]);
    PERIOD = quantity("period", Kind::Time)
        .hard(0.01, 1000.0)
        .usual(0.3, 10.0)
        .words("time of one full swing, with platform and part")
        .how("stopwatch over twenty swings, three times")
        .such_as("\"1.234 s\"")
        .also_called(&["time"]);
    PLATFORM_MASS = quantity("platform_mass", Kind::Mass)
        .hard(1e-4, 1000.0)
        .usual(0.01, 30.0)
        .or_none(NO_PLATFORM)
        .words("mass of the platform the part lies on")
        .how("scales")
        .such_as("\"1.1 kg\"");
    PLATFORM_PERIOD = quantity("platform_period", Kind::Time)
        .hard(0.01, 1000.0)
        .usual(0.3, 10.0)
        .or_none(NO_PLATFORM)
        .words("time of one full swing of the empty platform")
        .how("the same, before the part is put on")
        .such_as("\"1.61 s\"");
    RADIUS_WITHIN = quantity("radius_within", Kind::Length)
        .hard(1e-7, 0.5)
        .usual(1e-5, 0.005)
        .or_none("0.5 mm (common practice, no source)")
        .words("the radius is known within ± this; like the next five, for `flyheft swing` alone")
        .how("caliper 0.1 mm, steel rule 0.5 mm, tape 1 mm")
        .such_as("\"0.5 mm\"");
    LENGTH_WITHIN = quantity("length_within", Kind::Length)
        .hard(1e-7, 5.0)
        .usual(1e-4, 0.02)
        .or_none("2 mm (common practice, no source)")
        .words("the length is known within ± this")
        .such_as("\"2 mm\"");
    MASS_WITHIN = quantity("mass_within", Kind::Mass)
        .hard(1e-7, 100.0)
        .usual(1e-4, 0.5)
        .or_none("20 g (common practice, no source)")
        .words("each mass is known within ± this")
        .how("the last digit of the scales, or their papers")
        .such_as("\"20 g\"");
    SWINGS = count("swings")
        .usual(3.0, 200.0)
        .or_none("20 (common practice, no source)")
        .words("swings counted between two presses of the stopwatch")
        .such_as("20");
    REACTION = quantity("reaction", Kind::Time)
        .hard(1e-5, 10.0)
        .usual(1e-3, 0.5)
        .or_none("0.1 s (common practice, no source)")
        .words("how much one press of the stopwatch scatters")
        .how("time one swing many times")
        .such_as("\"0.1 s\"");
    // Largest twist to either side that the swing test allows for, degrees.
    AMPLITUDE = number("amplitude")
        .hard(0.0, 45.0)
        .usual(0.0, 20.0)
        .or_none(NOT_TOLD)
        .words("how far it swung to either side, degrees")
        .how("a bare number of degrees")
        .such_as("8");
}
