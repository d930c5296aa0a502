//! Each bad value is refused for itself, at its place, with what would be right.

use crate::refused;

#[test]
fn law_a_bare_number_names_the_units_it_lacks() {
    refused(
        "limiter = \"7200 rpm\"",
        "limiter = 7200",
        "limiter = |7200",
        &["limiter = 7200 has no unit", "in quotes", "rpm or rad/s"],
    );
    refused(
        "\"5.9 kg\"",
        "\"5.9\"",
        "mass = |\"5.9\"",
        &["\"5.9\" has no unit", "kg, g, lb or oz"],
    );
}

#[test]
fn law_a_unit_of_the_wrong_kind_names_the_right_ones() {
    refused(
        "wheelbase = \"2.46 m\"",
        "wheelbase = \"7 kg\"",
        "wheelbase = |\"7 kg\"",
        &[
            "\"7 kg\" is a mass, and a distance is wanted",
            "m, mm, cm, in, ft or thou",
        ],
    );
    refused(
        "\"330 N·m\"",
        "\"330 N\"",
        "capacity = |\"330 N\"",
        &["is a force, and a torque is wanted", "N·m, kgf·m or lbf·ft"],
    );
}

#[test]
fn law_a_lift_that_is_none_is_refused() {
    refused(
        "hold = \"foot\"",
        "hold = \"foot\"\nlift = { to = 1.0 }",
        "to = |1.0",
        &["to = 1.0 is out of range"],
    );
    refused(
        "hold = \"foot\"",
        "hold = \"foot\"\nlift = { reaction = \"-1 s\" }",
        "reaction = |\"-1 s\"",
        &["from 0 s to 10 s"],
    );
}

#[test]
fn law_numbers_that_are_none_are_refused() {
    refused(
        "mass = \"1120 kg\"",
        "mass = \"1,120 kg\"",
        "mass = |\"1,120 kg\"",
        &["comma", "\"1.120 kg\" or \"1120 kg\""],
    );
    refused(
        "\"1120 kg\"",
        "\"nan kg\"",
        "mass = |\"nan kg\"",
        &["not a finite number"],
    );
    refused(
        "\"1120 kg\"",
        "\"inf kg\"",
        "mass = |\"inf kg\"",
        &["not a finite number"],
    );
    refused(
        "\"1120 kg\"",
        "\"heavy\"",
        "mass = |\"heavy\"",
        &["does not begin with a number", "kg, g, lb or oz"],
    );
    refused(
        "\"1120 kg\"",
        "\"1120 kgs\"",
        "mass = |\"1120 kgs\"",
        &["\"kgs\" is no unit", "did you mean kg?"],
    );
    refused(
        "grip = 1.30",
        "grip = nan",
        "grip = |nan",
        &["finite number"],
    );
    refused(
        "grip = 1.30",
        "grip = \"1.30 kg\"",
        "grip = |\"1.30 kg\"",
        &["a bare number is wanted", "\"80 %\""],
    );
    refused(
        "count = 6, diameter = \"24 mm\"",
        "count = 6.5, diameter = \"24 mm\"",
        "count = |6.5",
        &["a whole number"],
    );
    refused(
        "count = 6, diameter = \"24 mm\"",
        "count = 0, diameter = \"24 mm\"",
        "count = |0",
        &["from 1 to 1000"],
    );
}

/// What is written, what it becomes, where the mark is, and the range told.
const OUT_OF_RANGE: &[(&str, &str, &str, &str)] = &[
    (
        "\"1120 kg\"",
        "\"-5 kg\"",
        "mass = |\"-5 kg\"",
        "from 10 kg to 50000 kg",
    ),
    ("\"1120 kg\"", "\"0 kg\"", "mass = |\"0 kg\"", "from 10 kg"),
    (
        "\"1120 kg\"",
        "\"1e9 kg\"",
        "mass = |\"1e9 kg\"",
        "from 10 kg to 50000 kg",
    ),
    (
        "front_share = 0.52",
        "front_share = 52",
        "front_share = |52",
        "from 0.02 to 0.98",
    ),
    (
        "front_share = 0.52",
        "front_share = 1",
        "front_share = |1",
        "from 0.02 to 0.98",
    ),
    (
        "cg_height = \"0.50 m\"",
        "cg_height = \"50 m\"",
        "cg_height = |\"50 m\"",
        "from 0.01 m to 3 m",
    ),
    (
        "drag_area = \"0.66 m²\"",
        "drag_area = \"-1 m²\"",
        "drag_area = |\"-1 m²\"",
        "from 0 m² to 50 m²",
    ),
    (
        "final = 3.9",
        "final = 3.9\nefficiency = 1.2",
        "efficiency = |1.2",
        "from 0.3 to 1",
    ),
    ("final = 3.9", "final = 0", "final = |0", "from 0.1 to 50"),
    (
        "humidity = 0.50\n",
        "humidity = 50\n",
        "humidity = |50",
        "from 0 to 1",
    ),
    (
        "\"21 °C\"",
        "\"21 K\"",
        "temperature = |\"21 K\"",
        "from -45 °C to 60 °C",
    ),
    (
        "\"100.6 kPa\"",
        "\"1006 kPa\"",
        "pressure = |\"1006 kPa\"",
        "from 40 kPa to 110 kPa",
    ),
    (
        "plate_mass =",
        "static_ratio = 0.9\nplate_mass =",
        "static_ratio = |0.9",
        "from 1 to 3",
    ),
    (
        "plate_mass =",
        "fade = 1.5\nplate_mass =",
        "fade = |1.5",
        "from 0 to 1",
    ),
    (
        "hold = \"foot\"",
        "hold = \"foot\"\nhold_exponent = 3",
        "hold_exponent = |3",
        "from 0 to 2",
    ),
    (
        "hold = \"foot\"",
        "hold = \"foot\"\nrelease_sd = 1.5",
        "release_sd = |1.5",
        "from 0 to 1",
    ),
    (
        "humidity = 0.50\n",
        "humidity = 0.50\ngrip_sd = -0.1\n",
        "grip_sd = |-0.1",
        "from 0 to 0.3",
    ),
    (
        "humidity = 0.50\n",
        "humidity = 0.50\nstage_depth = \"0.30 m\"\n",
        "stage_depth = |\"0.30 m\"",
        "below the roll-out",
    ),
    (
        "sliding_share = 0.80",
        "sliding_share = 0.1",
        "sliding_share = |0.1",
        "at least 0.237 and below 1 with peak_slip = 0.12",
    ),
    (
        "sliding_share = 0.80",
        "sliding_share = 1.0",
        "sliding_share = |1.0",
        "below 1",
    ),
];

#[test]
fn law_values_out_of_range_state_the_range() {
    for (from, to, marked, range) in OUT_OF_RANGE {
        refused(from, to, marked, &["out of range", range]);
    }
}

#[test]
fn law_a_fade_needs_the_plate() {
    refused(
        "plate_mass = \"4.6 kg\"",
        "fade = 0.1",
        "fade = |0.1",
        &["fade = 0.1 needs plate_mass"],
    );
}

#[test]
fn law_words_and_lists_of_the_wrong_sort_are_refused() {
    refused(
        "drive = \"rear\"",
        "drive = \"all\"",
        "drive = |\"all\"",
        &["not known", "\"rear\" or \"front\""],
    );
    refused(
        "drive = \"rear\"",
        "drive = \"reer\"",
        "drive = |\"reer\"",
        &["did you mean \"rear\"?"],
    );
    refused(
        "drive = \"rear\"",
        "drive = 4",
        "drive = |4",
        &["takes one of \"rear\" or \"front\"", "a bare number"],
    );
    refused(
        "fitted = true",
        "fitted = \"yes\"",
        "fitted = |\"yes\"",
        &["true or false, without quotes"],
    );
    refused(
        "stated_for = \"SAE J1349\"",
        "stated_for = \"SAE J1394\"",
        "stated_for = |\"SAE J1394\"",
        &["did you mean \"SAE J1349\"?"],
    );
    refused(
        "name = \"machined\"",
        "name = \"  \"",
        "name = |\"  \"",
        &["name is empty"],
    );
    refused(
        "name = \"machined\"",
        "name = 5",
        "name = |5",
        &["takes a text in quotes"],
    );
}

#[test]
fn law_lists_of_the_wrong_sort_are_refused() {
    refused(
        "[3.32, 2.05, 1.46, 1.13, 0.92]",
        "\"3.32\"",
        "ratios = |\"3.32\"",
        &["list of bare numbers"],
    );
    refused(
        "[3.32, 2.05, 1.46, 1.13, 0.92]",
        "[]",
        "ratios = |[]",
        &["at least first gear"],
    );
    refused(
        "[3.32, 2.05, 1.46, 1.13, 0.92]",
        "[3.32, \"two\"]",
        "3.32, |\"two\"",
        &["does not begin with a number", "write a bare number"],
    );
    refused(
        "2.05, 1.46",
        "2.05, 2.46",
        "2.05, |2.46",
        &[
            "ratios do not fall: 2.46 after 2.05",
            "below the gear before",
        ],
    );
    refused(
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"1800 rpm\"]",
        "launch_range = |[",
        &["1 value,", "two are needed"],
    );
    refused(
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"6800 rpm\", \"1800 rpm\"]",
        "launch_range = |[",
        &["first speed must be below"],
    );
    refused(
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"400 rpm\", \"6800 rpm\"]",
        "launch_range = [|",
        &["above the stall speed, 500 rpm"],
    );
    refused(
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"1800 rpm\", \"8000 rpm\"]",
        "\"1800 rpm\", |\"8000",
        &["not be above the limiter, 7200 rpm"],
    );
    refused(
        "weighed = \"7.25 kg\"",
        "weighed = true",
        "weighed = |true",
        &["weighed takes a number with its unit"],
    );
    refused(
        "title = \"Starter sheet: rear-drive coupe, 2.5-litre straight five (invented)\"",
        "title = 3",
        "title = |3",
        &["a text in quotes"],
    );
}
