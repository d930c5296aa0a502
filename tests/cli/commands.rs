//! Every command: how it ends, and what goes where.

use crate::workshop::{DRAWS, Workshop, demo, did};
use std::io::Read;
use std::process::Stdio;

#[test]
fn cli_every_command_ends_with_0_and_answers_on_standard_output() {
    let shop = Workshop::new();
    shop.write(
        "practice.csv",
        "speed_rpm\n3400\n3510\n3290\n3600\n3350\n3420\n3480\n3390\n",
    );
    for (line, word) in [
        ("check car.toml", "No warnings"),
        ("launch car.toml --to 60 --at 3300", "60 ft"),
        ("launch car.toml --to 60", "from 3321 rpm"),
        ("compare car.toml --draws 32", "Launch window"),
        ("window car.toml", "indow"),
        ("gearing car.toml --final 4.1,4.9", "4.9"),
        ("gearing car.toml --first 3.1", "3.1"),
        ("practice practice.csv", "rpm"),
        ("inertia car.toml", "Rotating parts"),
        ("cut car.toml", "Where to cut"),
        ("cut car.toml --face 110mm:174mm:2mm", "after pass 1"),
        ("swing car.toml", "Swing test"),
    ] {
        let did = shop.run(line);
        assert_eq!(did.code, Some(0), "{line}: {}", did.err);
        assert!(did.out.contains(word), "{line}: {}", did.out);
        assert_eq!(did.err, "", "{line}: nothing to say besides");
    }
}

/// What shows a flywheel at speed, or a cut, warns and leaves the last word to others.
#[test]
fn cli_outputs_that_touch_a_bursting_wheel_carry_the_cautions() {
    let shop = Workshop::new();
    for line in ["inertia car.toml", "cut car.toml"] {
        let out = shop.run(line).done();
        for word in ["burst flywheel kills", "scattershield", "licensed engineer"] {
            assert!(out.contains(word), "{line}: no {word:?}");
        }
    }
}

#[test]
fn cli_new_writes_a_sheet_that_check_accepts() {
    let shop = Workshop::new();
    let made = shop.run_each(&["new", "mine.toml"]);
    assert_eq!(made.code, Some(1), "torque.csv lies there already");
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("mine.toml");
    let sheet = sheet.to_str().expect("a path");
    let made = shop.run_each(&["new", sheet]);
    assert_eq!((made.code, made.out.as_str()), (Some(0), ""));
    assert!(
        made.err.contains("wrote") && made.err.contains("invented"),
        "{}",
        made.err
    );
    let out = shop.run_each(&["check", sheet]).done();
    assert!(out.contains("Taken because the sheet is silent"), "{out}");
}

#[test]
fn cli_wrong_usage_ends_with_2() {
    let shop = Workshop::new();
    for line in [
        "",
        "weigh car.toml",
        "compare",
        "compare car.toml --polish",
        "compare car.toml --units furlongs",
        "compare car.toml --draws 3",
        "compare car.toml --draws many",
        "launch car.toml --to 100",
        "launch car.toml --at fast",
        "launch car.toml --at NaN",
        "launch car.toml --at=-3000",
        "gearing car.toml",
        "gearing car.toml --final 0",
        "gearing car.toml --final=-4",
        "gearing car.toml --final 4.1,x",
    ] {
        let did = shop.run(line);
        assert_eq!(did.code, Some(2), "{line}: {}", did.err);
        assert_eq!(did.out, "", "{line}");
        assert!(
            did.err.contains("--help") || line.is_empty(),
            "{line}: {}",
            did.err
        );
    }
}

#[test]
fn cli_help_and_version_are_answers() {
    let shop = Workshop::new();
    assert!(shop.run("--version").done().starts_with("flyheft "));
    let help = shop.run("--help").done();
    for command in [
        "new", "check", "inertia", "launch", "compare", "window", "gearing", "cut", "swing",
        "practice", "card",
    ] {
        assert!(help.contains(&format!("  {command} ")), "{help}");
        assert!(shop.run(&format!("{command} --help")).done().len() > 100);
    }
}

#[test]
fn cli_warnings_go_to_standard_error_and_quiet_silences_them() {
    let shop = Workshop::with("final = 4.4", "final = 41");
    let loud = shop.run("launch car.toml --at 3300 --to 60");
    let quiet = shop.run("launch car.toml --at 3300 --to 60 --quiet");
    assert!(loud.err.starts_with("warning: line "), "{}", loud.err);
    assert_eq!(quiet.err, "");
    assert_eq!(loud.out, quiet.out);
}

#[test]
fn cli_no_escape_codes_off_a_terminal_whatever_no_color_says() {
    let shop = Workshop::with("mass = \"880 kg\"", "mass = \"880\"");
    for no_color in [None, Some("1")] {
        let mut command = shop.command();
        match no_color {
            Some(value) => command.env("NO_COLOR", value),
            None => command.env_remove("NO_COLOR"),
        };
        let did = did(command.args(["check", "car.toml"]));
        did.refused(&["880"]);
        assert!(!did.err.contains('\u{1b}'), "{}", did.err);
    }
}

/// 1 kg·m² is 23.7304 lb·ft², 240 N·m are 177 lbf·ft, 880 kg are 1940.07 lb: unit definitions.
#[test]
fn cli_imperial_units_are_shown_where_asked_for() {
    let shop = Workshop::new();
    let metric = shop.run("check car.toml").done();
    let imperial = shop.run("check car.toml --units imperial").done();
    assert!(
        metric.contains("240 N·m") && metric.contains("880"),
        "{metric}"
    );
    assert!(
        imperial.contains("177 lbf·ft") && imperial.contains("1940"),
        "{imperial}"
    );
    assert!(!imperial.contains("N·m") && !imperial.contains("kg"));
}

#[test]
fn cli_the_demo_cars_compare() {
    let shop = Workshop::new();
    for name in ["bogger.toml", "spinner.toml", "slipper.toml"] {
        let sheet = demo(name);
        let did = did(shop
            .command()
            .args(["compare", "--draws", DRAWS])
            .arg(&sheet));
        assert_eq!((did.code, did.err.as_str()), (Some(0), ""), "{name}");
        assert!(did.out.contains("licensed engineer"), "{name}: the caution");
    }
}

/// Somebody who stops reading (`flyheft … | head -1`) makes no error.
#[test]
fn cli_a_broken_pipe_is_no_error() {
    let shop = Workshop::new();
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin!("flyheft"))
        .current_dir(shop.path("."))
        .args(["check", "car.toml", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let mut err = String::new();
    let mut pipe = child.stderr.take().expect("standard error");
    pipe.read_to_string(&mut err).expect("UTF-8");
    let status = child.wait().expect("it ends");
    assert_eq!((status.code(), err.as_str()), (Some(0), ""));
}
