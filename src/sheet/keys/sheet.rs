//! The sheet's top: title and sections.

use super::key::{Form, keys, of};

keys! {
    TITLE = of("title", Form::Text)
        .or_worked_out("the file's name", "the sheet's file name")
        .words("name of the car")
        .how("a line that heads the results")
        .such_as("\"my car\"");
    ENGINE = of("engine", Form::Section)
        .words("the engine")
        .also_called(&["motor", "power"]);
    CRANK_SIDE = of("crank_side", Form::Sections)
        .words("what turns with the crank, bar the flywheel")
        .also_called(&["crank", "crankshaft", "crankside"]);
    FLYWHEEL = of("flywheel", Form::Sections)
        .words("a flywheel to compare")
        .also_called(&["flywheels", "wheel"]);
    CLUTCH = of("clutch", Form::Section).words("the clutch");
    GEARBOX = of("gearbox", Form::Section)
        .words("gears, final drive, shifts")
        .also_called(&["transmission", "gears", "driveline", "box"]);
    CAR = of("car", Form::Section)
        .words("mass, axles, drag")
        .also_called(&["body", "vehicle", "chassis"]);
    TYRE = of("tyre", Form::Section)
        .words("the driven tyres")
        .also_called(&["tire", "tyres", "tires"]);
    DRIVER = of("driver", Form::Section)
        .words("how the launch is made, and how unsteadily")
        .also_called(&["launch"]);
    TRACK = of("track", Form::Section)
        .or_none("all of it has defaults")
        .words("weather, grip, clock")
        .also_called(&["strip", "weather"]);
    MEETING = of("meeting", Form::Sections)
        .or_none("slips are taken at the track as it stands")
        .words("a meeting whose slips there are: its weather, its grip")
        .also_called(&["meetings", "event"]);
    SEASON = of("season", Form::Section)
        .or_none("all of it has defaults")
        .words("what the builder decides for")
        .also_called(&["year", "racing"]);
    FITTED = of("fitted", Form::Section)
        .or_none("nothing was fitted")
        .words("what a fit to time slips has learnt");
}
