//! Bad input: a clear word, exit 1, nothing on standard output, nothing left behind.

use crate::workshop::Workshop;
use std::fmt::Write as _;

/// Runs a command that would also write a file; it must be refused and leave nothing.
fn refused(shop: &Workshop, sheet: &str, words: &[&str]) {
    let before = shop.names();
    shop.run_each(&[
        "compare", sheet, "--draws", "32", "--json", "-o", "out.json", "--plot", "out.svg",
    ])
    .refused(words);
    assert_eq!(shop.names(), before, "nothing is left behind");
}

/// A line of the sheet, what is put in its place, and words of the answer.
type Change<'a> = (&'a str, &'a str, &'a [&'a str]);

const MASS: &str = "mass = \"880 kg\"";
const RATIOS: &str = "ratios = [3.40, 2.04, 1.43, 1.09, 0.88]";

const CHANGES: [Change<'static>; 13] = [
    (
        MASS,
        "mass = \"880 kg\"\nmass = \"881 kg\"",
        &["mass", "twice", "car.toml:"],
    ),
    (MASS, "mass = \"880 mm\"", &["880 mm", "a mass is wanted"]),
    (MASS, "mass = 880", &["880", "kg, g, lb or oz"]),
    (MASS, "mass = nan", &["nan", "kg, g, lb or oz"]),
    (MASS, "mass = \"NaN kg\"", &["NaN", "kg, g, lb or oz"]),
    (
        MASS,
        "mass = \"-880 kg\"",
        &["-880 kg", "must be from 10 kg"],
    ),
    (MASS, "maas = \"880 kg\"", &["maas", "did you mean mass?"]),
    (
        "name = \"aluminium\"",
        "name = \"aluminium\"\nfitted = true",
        &["two flywheels are marked", "marked again"],
    ),
    (
        "fitted = true ",
        "fitted = false ",
        &["no flywheel is marked", "put fitted = true"],
    ),
    (
        "name = \"aluminium\"",
        "name = \"as supplied\"",
        &["two flywheels are called", "as supplied"],
    ),
    (
        RATIOS,
        "ratios = [3.40, 2.04, 2.43, 1.09]",
        &["2.43 after 2.04", "below the gear before it"],
    ),
    (RATIOS, "ratios = []", &["ratios is empty"]),
    (
        "torque_curve = \"torque.csv\"",
        "torque_curve = \"lost.csv\"",
        &["there is no file lost.csv", "beside the sheet"],
    ),
];

#[test]
fn cli_a_bad_line_in_the_sheet_is_refused() {
    for (from, to, words) in CHANGES {
        refused(&Workshop::with(from, to), "car.toml", words);
    }
}

#[test]
fn cli_a_sheet_that_is_no_sheet_is_refused() {
    let shop = Workshop::new();
    std::fs::create_dir(shop.path("folder.toml")).expect("a folder");
    shop.write("empty.toml", "");
    shop.write("latin.toml", b"title = \"caf\xe9\"\n");
    shop.write("picture.toml", [0_u8, 159, 146, 150, 0, 0, 255]);
    refused(&shop, "missing.toml", &["there is no file missing.toml"]);
    refused(&shop, "folder.toml", &["is a folder, not a file"]);
    refused(&shop, "empty.toml", &["empty.toml is empty"]);
    refused(&shop, "latin.toml", &["UTF-8"]);
    refused(&shop, "picture.toml", &["UTF-8"]);
}

#[test]
fn cli_a_bad_torque_file_is_refused() {
    let mut long = String::from("speed_rpm,torque_nm\n");
    for speed in 1000..1_001_000 {
        let _ = writeln!(long, "{speed},100");
    }
    assert!(long.len() > 9_000_000);
    for (text, words) in [
        ("", &["torque.csv"][..]),
        (
            "speed_rpm,torque_nm\n1000,85\n3000,120\n2000,110\n7400,100\n",
            &["2000 after 3000", "torque.csv:4"],
        ),
        (
            "speed_rpm,torque_nm\n1000,85\n3000,120\n7400,100\n",
            &["has 3 points", "at least 4"],
        ),
        (
            "speed_rpm,torque_nm\n1000,85\n3000,NaN\n5000,110\n7400,100\n",
            &["NaN"],
        ),
        (
            "speed_rpm torque_nm\n1000 85\n3000 120\n5000 110\n7400 100\n",
            &["blanks", "a comma is needed"],
        ),
        (&long, &["torque.csv is larger than 2 MB"]),
    ] {
        refused(&Workshop::with_torque(text), "car.toml", words);
    }
}

#[test]
fn cli_an_unknown_flywheel_is_refused_with_the_names_there_are() {
    let shop = Workshop::new();
    for command in ["launch", "window", "gearing"] {
        let mut line = vec![command, "car.toml", "--wheel", "carbon"];
        if command == "gearing" {
            line.extend(["--final", "4.1"]);
        }
        shop.run_each(&line)
            .refused(&["carbon", "\"as supplied\"", "\"aluminium\""]);
    }
}

#[test]
fn cli_a_launch_speed_outside_the_engines_range_is_refused() {
    let shop = Workshop::new();
    for speed in ["300", "7301", "500rpm"] {
        shop.run_each(&["launch", "car.toml", "--at", speed])
            .refused(&["650 rpm", "7300 rpm"]);
    }
}

#[test]
fn cli_a_first_gear_below_second_is_refused() {
    let shop = Workshop::new();
    shop.run("gearing car.toml --first 1.5").refused(&["first"]);
}

#[test]
fn cli_every_command_refuses_a_bad_sheet_alike() {
    let shop = Workshop::with(MASS, "mass = \"880 mm\"");
    for line in [
        "check car.toml",
        "launch car.toml",
        "compare car.toml",
        "window car.toml",
        "gearing car.toml --final 4.1",
        "practice car.toml",
    ] {
        shop.run(line).refused(&["880 mm", "kg"]);
    }
}

/// A name with a sign that moves the cursor or turns the direction of writing is refused before
/// anything is read or written, and the sign does not reach the screen.
#[test]
fn cli_a_name_that_a_screen_would_show_as_another_is_refused_at_once() {
    let shop = Workshop::new();
    let before = shop.names();
    for (sign, told) in [
        ("\u{1b}[2J", "a control character, U+001B"),
        ("\n", "a control character, U+000A"),
        (
            "\u{202e}",
            "turns the direction of writing or breaks the line, U+202E",
        ),
        (
            "\u{2066}",
            "turns the direction of writing or breaks the line, U+2066",
        ),
    ] {
        let (sheet, file) = (format!("car{sign}.toml"), format!("out{sign}"));
        for (place, line) in [
            ("word 2", vec!["check", &sheet]),
            ("word 2", vec!["new", &sheet]),
            ("word 2", vec!["practice", &sheet]),
            ("word 3", vec!["fit", "car.toml", &sheet]),
            ("word 4", vec!["check", "car.toml", "--out", &file]),
            ("word 4", vec!["compare", "car.toml", "--track", &sheet]),
            ("word 4", vec!["launch", "car.toml", "--plot", &file]),
        ] {
            let did = shop.run_each(&line);
            assert_eq!(did.code, Some(2), "{line:?}: {}", did.err);
            assert_eq!(did.out, "", "{line:?}");
            assert!(
                did.err.contains(told) && did.err.contains(place),
                "{line:?}: {}",
                did.err
            );
            let first = did.err.lines().next().unwrap_or_default();
            assert!(!first.contains(sign), "{line:?}: {}", did.err);
        }
    }
    assert_eq!(shop.names(), before, "nothing is written");
}
