//! The sheet's keys in words for somebody who has never seen a sheet.

/// What a key of the sheet stands for; the key itself where nobody has put it in words yet.
pub(super) fn plain(key: &str) -> &str {
    let found = WORDS.iter().find(|(known, _)| *known == key);
    found.map_or(key, |(_, words)| words)
}

const WORDS: [(&str, &str); 44] = [
    ("title", "name of the car"),
    ("engine.stall", "engine speed below which it stalls"),
    (
        "engine.motoring_torque",
        "torque it takes to turn the engine over",
    ),
    ("flywheel.cut.face", "side of the flywheel that is cut"),
    ("flywheel.shop.least_web", "metal left in the web at least"),
    (
        "flywheel.shop.least_under_clutch_face",
        "metal left under the clutch face at least",
    ),
    (
        "flywheel.shop.least_land",
        "metal left round a hole at least",
    ),
    (
        "flywheel.shop.bolt_circles",
        "whether bolt circles may be faced",
    ),
    (
        "clutch.static_ratio",
        "grip of the clutch holding, over slipping",
    ),
    ("clutch.fade", "grip the clutch loses when hot"),
    (
        "clutch.plate_specific_heat",
        "heat the clutch metal takes up",
    ),
    ("clutch.wear", "how the clutch faces wear"),
    (
        "gearbox.efficiency",
        "share of torque that reaches the wheels",
    ),
    ("gearbox.input_inertia", "inertia of the gearbox input"),
    (
        "gearbox.propshaft_inertia",
        "inertia of the propeller shaft",
    ),
    (
        "gearbox.shift_at",
        "engine speed at which gears are changed",
    ),
    ("gearbox.shift_time", "time a gear change takes"),
    (
        "gearbox.shift_engage",
        "time the clutch takes after a gear change",
    ),
    (
        "gearbox.shift_throttle",
        "time the throttle takes after a gear change",
    ),
    ("gearbox.flat_shift", "throttle kept open in a gear change"),
    ("car.rolling", "rolling resistance"),
    ("car.pitch_time", "time the car takes to squat"),
    ("car.axle", "kind of axle"),
    ("car.differential", "kind of differential"),
    ("car.drag_area", "drag area"),
    ("tyre.peak_slip", "tyre slip at which grip is best"),
    (
        "tyre.sliding_share",
        "share of grip left when the tyres spin freely",
    ),
    (
        "tyre.relaxation",
        "distance a tyre rolls before it grips fully",
    ),
    ("tyre.damping_time", "damping of the tyre's carcass"),
    ("tyre.load_sensitivity", "grip lost as load goes up"),
    ("driver.throttle_time", "time to open the throttle"),
    ("driver.launch_range", "launch speeds looked at"),
    ("driver.launch_sd", "how far the launch speed wanders"),
    (
        "driver.hold_exponent",
        "how much steadier a heavier flywheel is held",
    ),
    ("driver.release_sd", "how far the clutch release wanders"),
    ("track.pressure", "air pressure"),
    ("track.temperature", "air temperature"),
    ("track.humidity", "humidity of the air"),
    ("track.grip", "grip of the track over the tyre's own"),
    ("track.grip_sd", "how far the grip wanders"),
    ("track.rollout", "distance rolled before the clock starts"),
    ("track.stage_depth", "how much deeper the car is staged"),
    (
        "track.tolerance",
        "time a launch may lose and count as fine",
    ),
    ("track.stall_cost", "time a stalled launch is counted as"),
];
