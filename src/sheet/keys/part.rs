//! `[[crank_side]]` and `[[flywheel]]`: rotating parts.

use super::key::{Form, count, keys, number, of, quantity};
use crate::units::Kind;

/// Diameters on a part at most, m.
const WIDEST_M: f64 = 3.0;
/// Thickness and depth of metal at most, m.
const THICKEST_M: f64 = 1.0;

keys! {
    NAME = of("name", Form::Text)
        .words("what the part is called in the results")
        .how("each flywheel its own")
        .such_as("\"what it is\"");
    INERTIA = quantity("inertia", Kind::Inertia)
        .hard(1e-8, 1000.0)
        .usual(1e-6, 5.0)
        .this_or("one form is needed")
        .words("moment of inertia about the crank's axis")
        .how("a maker's data")
        .such_as("\"0.031 kg·m²\"")
        .also_called(&["moi", "moment_of_inertia"]);
    MASS = quantity("mass", Kind::Mass)
        .hard(1e-6, 1000.0)
        .usual(1e-3, 60.0)
        .or_none("needed with `radius_of_gyration`")
        .words("mass of the part")
        .how("scales")
        .such_as("\"7.4 kg\"")
        .also_called(&["weight"]);
    RADIUS_OF_GYRATION = quantity("radius_of_gyration", Kind::Length)
        .hard(1e-4, WIDEST_M)
        .usual(0.005, 0.4)
        .or_none("needed with `mass`")
        .words("radius at which all of the mass could sit in one thin ring")
        .how("for a clutch cover, about 0.8 of its outer radius is a fair first guess (common practice, no source)")
        .such_as("\"92 mm\"")
        .also_called(&["gyration", "radius"]);
    SECTIONS = of("sections", Form::Tables)
        .or_none("one form is needed")
        .words("the metal, ring by ring")
        .how("vernier and depth gauge")
        .such_as("[ { inner = \"36 mm\", outer = \"260 mm\", thickness = \"14 mm\" } ]")
        .also_called(&["rings"]);
    HOLES = of("holes", Form::Tables)
        .or_none("none")
        .words("rings of equal holes in it")
        .such_as("[ { count = 6, diameter = \"10 mm\", circle = \"64 mm\", depth = \"14 mm\" } ]");
    EXTRAS = of("extras", Form::Tables)
        .or_none("none")
        .words("what is fastened on")
        .such_as("[ { name = \"ring gear\", mass = \"0.85 kg\", radius_of_gyration = \"131 mm\" } ]");
    WEIGHED = quantity("weighed", Kind::Mass)
        .hard(1e-3, 1000.0)
        .usual(0.05, 60.0)
        .or_none("not weighed")
        .words("what the whole part weighs: metal, holes, extras")
        .how("scales. Mass and inertia are brought to it; more than 3 % off the drawing is told as a warning")
        .such_as("\"8.3 kg\"");
    // Beyond a factor of two either way it is the drawing of another part. Half as much where the
    // part was weighed.
    INERTIA_SCALE = number("inertia_scale")
        .hard(0.5, 2.0)
        .usual(0.9, 1.1)
        .or_none("1, or that of the wheel it is cut from")
        .words("factor on the inertia that the drawing gives")
        .how("leave it out; what a swing test or a fit to time slips found. Needs `sections`")
        // A drawing's own doubt stands in `usual_doubt`: it goes by whether the part was weighed.
        .such_as("\"1.00 ± 0.01\"");
    MATERIAL = of("material", Form::Metal(&["steel", "grey iron", "aluminium"]))
        .or_none("needed with `sections`")
        .words("what it is made of")
        .how("a magnet and a file tell steel from aluminium; spark test or the part's papers tell iron from steel")
        .such_as("\"steel\"")
        .also_called(&["metal"]);
    SWING = of("swing", Form::Table)
        .or_none("one form is needed")
        .words("a test on hanging cords")
        .such_as("{ cords = 3, radius = \"120 mm\", length = \"1.50 m\", mass = \"6.9 kg\", period = \"1.234 s\" }");
    RECIPROCATING = of("reciprocating", Form::Table)
        .or_none("one form is needed")
        .words("pistons and rods")
        .how("as a part of the crank side of its own, beside the bare crankshaft")
        .such_as("{ stroke = \"86 mm\", cylinders = 5, rod_small_end = \"170 g\", piston = \"430 g\", rod_big_end = \"400 g\" }")
        .also_called(&["pistons", "rods"]);
}

/// `reciprocating`: pistons and rods; masses of one cylinder.
pub(crate) mod reciprocating {
    use super::{Kind, count, keys, quantity};

    keys! {
        STROKE = quantity("stroke", Kind::Length)
            .hard(5e-3, 1.0)
            .usual(0.04, 0.13)
            .words("stroke of the engine")
            .how("the maker's data")
            .such_as("\"86 mm\"");
        CYLINDERS = count("cylinders")
            .usual(1.0, 16.0)
            .words("how many cylinders")
            .such_as("5");
        ROD_SMALL_END = quantity("rod_small_end", Kind::Mass)
            .hard(0.0, 50.0)
            .usual(0.05, 1.0)
            .words("mass of a rod's small end")
            .how("scales under that end alone, the rod level on a rest under the other")
            .such_as("\"170 g\"");
        PISTON = quantity("piston", Kind::Mass)
            .hard(1e-3, 50.0)
            .usual(0.1, 1.5)
            .words("mass of a piston with rings and pin")
            .how("scales")
            .such_as("\"430 g\"");
        ROD_BIG_END = quantity("rod_big_end", Kind::Mass)
            .hard(1e-3, 50.0)
            .usual(0.1, 2.0)
            .words("mass of a rod's big end with its bearing")
            .how("scales under that end alone")
            .such_as("\"400 g\"");
    }
}

/// `[[flywheel]]` alone.
pub(crate) mod flywheel {
    use super::{Form, keys, of};

    keys! {
        FITTED = of("fitted", Form::Flag)
            .or_none("false")
            .words("this wheel is in the car now")
            .how("true for exactly one: the driver's unsteadiness is measured with this wheel")
            .such_as("true");
        CUT_FROM = of("cut_from", Form::Text)
            .or_none("none: a wheel that is bought")
            .words("name of the flywheel that this one is machined out of")
            .how("metal comes off, never on: from a wheel only those cut from it can be reached")
            .such_as("\"as supplied\"")
            .also_called(&["from", "machined_from", "made_from"]);
        SWING_CHECK = of("swing_check", Form::Table)
            .or_none("none")
            .words("a swing test to hold the drawing against")
            .such_as("{ cords = 3, radius = \"120 mm\", length = \"1.50 m\", mass = \"6.9 kg\", period = \"1.234 s\" }");
        CUT = of("cut", Form::Tables)
            .or_none("none")
            .words("machining passes to try on it, in order")
            .how("`flyheft cut` makes them, every other command takes the wheel as it is; needs `sections`")
            .such_as("[ { kind = \"face\", inner = \"180 mm\", outer = \"230 mm\", depth = \"2 mm\" } ]");
        SHOP = of("shop", Form::Table)
            .or_none("the values below")
            .words("what the shop leaves standing")
            .how("ask the shop")
            .such_as("{ least_web = \"6 mm\", clutch_face = { inner = \"150 mm\", outer = \"228 mm\" } }");
    }
}

/// `sections`: rings from the bore outwards.
pub(crate) mod section {
    use super::{Kind, THICKEST_M, WIDEST_M, keys, quantity};

    keys! {
        INNER = quantity("inner", Kind::Length)
            .hard(0.0, WIDEST_M)
            .usual(0.0, 0.5)
            .words("inner diameter")
            .how("vernier")
            .such_as("\"36 mm\"")
            .also_called(&["inside", "bore", "id", "inner_diameter", "from"]);
        OUTER = quantity("outer", Kind::Length)
            .hard(1e-4, WIDEST_M)
            .usual(0.005, 0.6)
            .words("outer diameter, above `inner`")
            .how("vernier")
            .such_as("\"260 mm\"")
            .also_called(&["outside", "od", "diameter", "outer_diameter", "to"]);
        THICKNESS = quantity("thickness", Kind::Length)
            .hard(1e-5, THICKEST_M)
            .usual(5e-4, 0.15)
            .this_or("this or `thickness_inner` and `thickness_outer`")
            .words("thickness of a flat section")
            .how("depth gauge from a straight edge")
            .such_as("\"14 mm\"")
            .also_called(&["width", "height", "depth"]);
        THICKNESS_INNER = quantity("thickness_inner", Kind::Length)
            .hard(0.0, THICKEST_M)
            .usual(0.0, 0.15)
            .or_none("with `thickness_outer`")
            .words("thickness of a tapered section at its inner diameter")
            .how("the same")
            .such_as("\"12 mm\"");
        THICKNESS_OUTER = quantity("thickness_outer", Kind::Length)
            .hard(0.0, THICKEST_M)
            .usual(0.0, 0.15)
            .or_none("with `thickness_inner`")
            .words("thickness of a tapered section at its outer diameter")
            .how("the same")
            .such_as("\"20 mm\"");
    }
}

/// `holes`.
pub(crate) mod hole {
    use super::{Kind, THICKEST_M, WIDEST_M, count, keys, quantity};

    keys! {
        COUNT = count("count")
            .usual(1.0, 100.0)
            .words("how many holes on the circle")
            .how("count")
            .such_as("6")
            .also_called(&["number", "quantity", "holes"]);
        DIAMETER = quantity("diameter", Kind::Length)
            .hard(1e-4, WIDEST_M)
            .usual(1e-3, 0.1)
            .words("diameter of one hole")
            .how("vernier")
            .such_as("\"10 mm\"")
            .also_called(&["size"]);
        CIRCLE = quantity("circle", Kind::Length)
            .hard(0.0, WIDEST_M)
            .usual(0.0, 0.5)
            .words("diameter of the circle through the holes' centres")
            .how("from the outer edge of one hole to the inner edge of the one opposite")
            .such_as("\"64 mm\"")
            .also_called(&["pcd", "pitch_circle", "radius"]);
        DEPTH = quantity("depth", Kind::Length)
            .hard(1e-5, THICKEST_M)
            .usual(5e-4, 0.15)
            .words("depth of metal that each hole takes out")
            .how("thickness of the metal there, or the drill's depth")
            .such_as("\"14 mm\"")
            .also_called(&["thickness"]);
    }
}

/// `extras`: what is fastened on.
pub(crate) mod extra {
    use super::{Form, Kind, WIDEST_M, count, keys, of, quantity};

    keys! {
        NAME = of("name", Form::Text)
            .words("what it is")
            .such_as("\"ring gear\"");
        MASS = quantity("mass", Kind::Mass)
            .hard(1e-6, 1000.0)
            .usual(1e-4, 20.0)
            .words("mass of the whole, or of each one where `count` is given")
            .how("scales")
            .such_as("\"0.85 kg\"")
            .also_called(&["weight"]);
        RADIUS_OF_GYRATION = quantity("radius_of_gyration", Kind::Length)
            .hard(1e-4, WIDEST_M)
            .usual(0.005, 0.4)
            .this_or("this, or `count` and `circle`")
            .words("radius at which its mass could sit in one ring")
            .how("for a ring gear, halfway between its inner and outer radius")
            .such_as("\"131 mm\"")
            .also_called(&["radius", "gyration"]);
        COUNT = count("count")
            .usual(1.0, 100.0)
            .or_none("with `circle`")
            .words("how many, all alike")
            .how("count")
            .such_as("6")
            .also_called(&["number", "quantity"]);
        CIRCLE = quantity("circle", Kind::Length)
            .hard(0.0, WIDEST_M)
            .usual(0.0, 0.5)
            .or_none("with `count`")
            .words("diameter of the circle they sit on")
            .how("as for holes")
            .such_as("\"228 mm\"")
            .also_called(&["pcd", "pitch_circle"]);
    }
}

/// `material` as a table.
pub(crate) mod material {
    use super::{Form, Kind, keys, of, quantity};
    use crate::sheet::keys::key::number;

    const NONE_KNOWN: &str = "none: the check says it cannot tell";

    keys! {
        NAME = of("name", Form::Text)
            .or_none("\"metal as given\"")
            .words("what the metal is called in the results")
            .such_as("\"chrome steel\"");
        DENSITY = quantity("density", Kind::Density)
            .hard(100.0, 25_000.0)
            .usual(1600.0, 9000.0)
            .words("density of the metal")
            .how("mill certificate; steel 7850, grey iron 7200, aluminium 2700 kg/m³ are handbook round values")
            .such_as("\"7850 kg/m³\"");
        YIELD = quantity("yield", Kind::Stress)
            .hard(1e5, 1e10)
            .usual(3e7, 2.5e9)
            .or_none(NONE_KNOWN)
            .words("yield strength, for the disc check")
            .how("mill certificate, never a guess; not above `tensile`")
            .such_as("\"350 MPa\"")
            .also_called(&["yield_strength"]);
        TENSILE = quantity("tensile", Kind::Stress)
            .hard(1e5, 1e10)
            .usual(5e7, 3e9)
            .or_none(NONE_KNOWN)
            .words("tensile strength, for the disc check")
            .how("mill certificate, never a guess")
            .such_as("\"550 MPa\"")
            .also_called(&["ultimate", "strength", "tensile_strength"]);
        // Poisson's ratio of any solid metal lies in this range (theory of elasticity).
        POISSON = number("poisson")
            .hard(0.0, 0.5)
            .usual(0.2, 0.4)
            .or_none("none")
            .words("Poisson's ratio")
            .how("handbook; about 0.3 for steel")
            .such_as("0.3");
        MODULUS = quantity("modulus", Kind::Stress)
            .hard(1e8, 1e12)
            .usual(3e10, 4e11)
            .or_none("none")
            .words("Young's modulus")
            .how("handbook")
            .such_as("\"207000 MPa\"")
            .also_called(&["young", "youngs_modulus", "stiffness"]);
        FAILURE = of("failure", Form::Choice(&["ductile", "brittle"]))
            .or_word(
                "ductile",
                "a metal that yields before it breaks; say \"brittle\" of cast iron",
            )
            .words("whether the metal gives before it breaks")
            .how("cast iron is brittle")
            .such_as("\"ductile\"");
    }
}
