//! `[clutch]`.

use super::key::{Form, UsualDoubt, count, keys, number, of, quantity};
use crate::car::clutch::{DEFAULT_SPECIFIC_HEAT, DEFAULT_STATIC_RATIO};
use crate::sheet::value::COMMON_PRACTICE;
use crate::units::Kind;

keys! {
    CAPACITY = quantity("capacity", Kind::Torque)
        .hard(0.5, 50_000.0)
        .usual(30.0, 5000.0)
        .this_or("this or clamp, friction, outer and inner")
        .words("torque the clutch carries while slipping, fully let in")
        .how("the maker's rating, if it is for slipping; else from clamp and faces")
        .such_as("\"310 N·m\"")
        .also_called(&["torque", "torque_capacity", "rating"])
        .doubted(UsualDoubt::Share(0.10));
    CLAMP = quantity("clamp", Kind::Force)
        .hard(1.0, 1e6)
        .usual(500.0, 50_000.0)
        .or_none("")
        .words("clamp load of the cover")
        .how("the maker's data, or a press with a gauge")
        .such_as("\"6200 N\"")
        .also_called(&["clamp_load", "pressure", "load"]);
    FACES = count("faces")
        .usual(1.0, 20.0)
        .or(2.0, "one plate has two")
        .words("friction faces")
        .how("two for each disc")
        .such_as("2")
        .also_called(&["discs", "plates", "disks"]);
    // Above 1.5 a slip of the point is likelier than a lining.
    FRICTION = number("friction")
        .hard(0.001, 1.5)
        .usual(0.15, 0.7)
        .or_none("")
        .words("coefficient of friction while slipping")
        .how("the lining maker's data")
        .such_as("0.30")
        .also_called(&["mu"])
        // The lining's friction is the least known of what makes a clutch's capacity.
        .doubted(UsualDoubt::Share(0.10));
    OUTER = quantity("outer", Kind::Length)
        .hard(1e-3, 3.0)
        .usual(0.08, 0.5)
        .or_none("")
        .words("outer diameter of the lining, above `inner`")
        .how("vernier")
        .such_as("\"200 mm\"")
        .also_called(&["diameter", "outer_diameter", "od", "size"]);
    INNER = quantity("inner", Kind::Length)
        .hard(0.0, 3.0)
        .usual(0.02, 0.4)
        .or_none("")
        .words("inner diameter of the lining")
        .how("vernier")
        .such_as("\"135 mm\"")
        .also_called(&["inner_diameter", "id"]);
    WEAR = of("wear", Form::Choice(&["uniform wear", "uniform pressure"]))
        .or_word("uniform wear", "a clutch that has bedded in")
        .words("how the clutch faces wear")
        .how("how the pressure spreads: \"uniform wear\" when bedded in, \"uniform pressure\" when new")
        .such_as("\"uniform wear\"");
    DISC_INERTIA = quantity("disc_inertia", Kind::Inertia)
        .hard(1e-7, 100.0)
        .usual(3e-4, 0.05)
        .words("inertia of the clutch disc, all discs together")
        .how("swing test, or mass times the square of 0.7 of its outer radius for a first guess (common practice, no source)")
        .such_as("\"0.0055 kg·m²\"")
        .also_called(&["inertia", "plate_inertia"])
        .or_unknown();
    RELEASE_TIME = quantity("release_time", Kind::Time)
        .hard(1e-3, 30.0)
        .usual(0.02, 2.0)
        .this_or("this or `release`, a table of points")
        .words("time the clutch takes from first bite to fully home")
        .how("video of the pedal, frame by frame")
        .such_as("\"0.25 s\"")
        .also_called(&["engagement_time", "slip_time"])
        .doubted(UsualDoubt::Share(0.20));
    // The usual range is of the last point's time.
    RELEASE = of("release", Form::Points)
        .hard(0.0, 30.0)
        .usual(0.02, 2.0)
        .or_none("this or `release_time`")
        .words("the clutch's release as a table of points, times and shares")
        .how("pedal travel from a logger; times rise, shares 0 to 1")
        .such_as("[[\"0 s\", 0.0], [\"0.08 s\", 0.6], [\"0.5 s\", 1.0]]");
    STATIC_RATIO = number("static_ratio")
        .hard(1.0, 3.0)
        .usual(1.0, 1.5)
        .or(DEFAULT_STATIC_RATIO, COMMON_PRACTICE)
        .words("grip of the clutch holding, over slipping")
        .how("leave it out unless the lining's maker gives it")
        .such_as("1.10");
    FADE = number("fade")
        .hard(0.0, 1.0)
        .usual(0.0, 0.7)
        .or(0.0, "no fade")
        .words("share of capacity the clutch loses for each 100 K of plate temperature")
        .how("leave it out unless it was measured; needs `plate_mass`")
        .such_as("0.10");
    PLATE_MASS = quantity("plate_mass", Kind::Mass)
        .hard(1e-3, 1000.0)
        .usual(0.3, 40.0)
        .or_none("no temperature is told")
        .words("metal that soaks up the clutch's heat: pressure plate and the flywheel's face")
        .how("scales")
        .such_as("\"4.0 kg\"")
        .also_called(&["mass", "weight"]);
    PLATE_SPECIFIC_HEAT = quantity("plate_specific_heat", Kind::SpecificHeat)
        .hard(50.0, 10_000.0)
        .usual(300.0, 1500.0)
        .or(
            DEFAULT_SPECIFIC_HEAT,
            "iron and steel; handbook round value",
        )
        .words("heat the clutch metal takes up")
        .how("specific heat of that metal: iron and steel; leave it out")
        .such_as("\"490 J/(kg·K)\"")
        .also_called(&["specific_heat"]);
}
