//! `cut` and `shop`: what is to be done to a flywheel, and what the shop keeps.

use super::key::{Form, count, keys, of, quantity};
use crate::units::Kind;

/// Diameters on a flywheel at most, m.
const WIDEST_M: f64 = 3.0;
/// Thickness and depth of metal at most, m.
const THICKEST_M: f64 = 1.0;

keys! {
    KIND = of("kind", Form::Choice(&["face", "rim", "holes", "taper"]))
        .words("what is done")
        .how("a face to a depth, the rim to a diameter, a ring of holes, or a taper to a thickness that runs straight")
        .such_as("\"face\"");
    INNER = quantity("inner", Kind::Length)
        .hard(0.0, WIDEST_M)
        .usual(0.0, 0.5)
        .words("face, taper: inner diameter of the band")
        .such_as("\"180 mm\"")
        .also_called(&["inside", "from"]);
    OUTER = quantity("outer", Kind::Length)
        .hard(1e-4, WIDEST_M)
        .usual(0.005, 0.6)
        .words("face, taper: outer diameter of the band, above `inner`")
        .such_as("\"230 mm\"")
        .also_called(&["outside", "to"]);
    DEPTH = quantity("depth", Kind::Length)
        .hard(1e-5, THICKEST_M)
        .usual(1e-4, 0.05)
        .or_word("through", "drilled right through")
        .words("face: how deep; holes: how deep, from the engine side")
        .how("needed for a face; holes go right through without it")
        .such_as("\"2 mm\"");
    DIAMETER = quantity("diameter", Kind::Length)
        .hard(1e-4, WIDEST_M)
        .usual(1e-3, 0.6)
        .words("rim: what the rim is turned down to; holes: diameter of one hole")
        .such_as("\"252 mm\"");
    COUNT = count("count")
        .usual(1.0, 100.0)
        .words("holes: how many")
        .such_as("6");
    CIRCLE = quantity("circle", Kind::Length)
        .hard(1e-4, WIDEST_M)
        .usual(0.01, 0.5)
        .words("holes: diameter of the circle through their centres")
        .such_as("\"165 mm\"");
    THICKNESS_INNER = quantity("thickness_inner", Kind::Length)
        .hard(1e-5, THICKEST_M)
        .usual(0.001, 0.1)
        .words("taper: thickness left at `inner`")
        .such_as("\"10 mm\"");
    THICKNESS_OUTER = quantity("thickness_outer", Kind::Length)
        .hard(1e-5, THICKEST_M)
        .usual(0.001, 0.1)
        .words("taper: thickness left at `outer`")
        .such_as("\"8 mm\"");
    FACE = of("face", Form::Choice(&["engine", "clutch"]))
        .or_word("engine", "cut from the engine side")
        .words("side of the flywheel that is cut")
        .how("face, taper: which side the tool works on; for \"clutch\" `clutch_face` must be known")
        .such_as("\"engine\"")
        .also_called(&["side"]);
}

/// `shop`.
pub(crate) mod shop {
    use super::{Form, Kind, THICKEST_M, keys, of, quantity};
    use crate::car::machining::{LEAST_LAND_M, LEAST_UNDER_CLUTCH_FACE_M, LEAST_WEB_M};
    use crate::sheet::value::COMMON_PRACTICE;

    keys! {
        LEAST_WEB = quantity("least_web", Kind::Length)
            .hard(1e-5, THICKEST_M)
            .usual(0.002, 0.05)
            .or(LEAST_WEB_M, COMMON_PRACTICE)
            .words("metal left in the web at least")
            .how("thickness left in a web or rim")
            .such_as("\"6 mm\"");
        LEAST_UNDER_CLUTCH_FACE = quantity("least_under_clutch_face", Kind::Length)
            .hard(1e-5, THICKEST_M)
            .usual(0.004, 0.05)
            .or(LEAST_UNDER_CLUTCH_FACE_M, COMMON_PRACTICE)
            .words("metal left under the clutch face at least")
            .how("thickness left under the clutch face")
            .such_as("\"10 mm\"");
        LEAST_LAND = quantity("least_land", Kind::Length)
            .hard(0.0, THICKEST_M)
            .usual(0.001, 0.05)
            .or(LEAST_LAND_M, COMMON_PRACTICE)
            .words("metal left round a hole at least")
            .how("between a hole and the next hole, an edge or a bolt circle")
            .such_as("\"5 mm\"");
        BOLT_CIRCLES = of("bolt_circles", Form::Choice(&["keep off", "may be faced"]))
            .or_word("keep off", "the safe side")
            .words("whether bolt circles may be faced")
            .how("whether a band may cross holes and bolts the wheel has")
            .such_as("\"keep off\"");
        CLUTCH_FACE = of("clutch_face", Form::Table)
            .or_none("the clutch's `inner` and `outer`, if given; else not known, and the clutch side is not cut")
            .words("where the clutch rubs")
            .such_as("{ inner = \"150 mm\", outer = \"228 mm\" }");
    }
}

/// `shop.clutch_face`.
pub(crate) mod clutch_face {
    use super::{Kind, WIDEST_M, keys, quantity};

    keys! {
        INNER = quantity("inner", Kind::Length)
            .hard(0.0, WIDEST_M)
            .usual(0.02, 0.4)
            .words("inner diameter of the clutch face")
            .such_as("\"150 mm\"");
        OUTER = quantity("outer", Kind::Length)
            .hard(1e-4, WIDEST_M)
            .usual(0.05, 0.5)
            .words("outer diameter of the clutch face, above `inner`")
            .such_as("\"228 mm\"");
    }
}
