//! Files that the program writes, and those it must not touch.

use crate::workshop::{DRAWS, Workshop};

/// Every option of every command that names a file to write.
const WRITERS: [&str; 13] = [
    "check car.toml -o made.txt",
    "launch car.toml --at 3300 --to 60 --out made.txt",
    "launch car.toml --at 3300 --to 60 --csv made.txt",
    "launch car.toml --at 3300 --to 60 --plot made.txt",
    "compare car.toml --draws 32 -o made.txt",
    "compare car.toml --draws 32 --plot made.txt",
    "compare car.toml --draws 32 --csv made.txt",
    "window car.toml --plot made.txt",
    "gearing car.toml --final 4.1 --csv made.txt",
    "compare car.toml --draws 32 --page made.txt",
    "window car.toml --page made.txt",
    "gearing car.toml --final 4.1 --page made.txt",
    "cut car.toml --face 110mm:174mm:2mm --page made.txt",
];

#[test]
fn cli_a_file_that_exists_is_refused_and_left_alone() {
    let shop = Workshop::new();
    shop.write("made.txt", "mine");
    let before = shop.names();
    for line in WRITERS {
        shop.run(line)
            .refused(&["made.txt exists already", "--force"]);
        assert_eq!(shop.read("made.txt"), "mine", "{line}");
    }
    assert_eq!(shop.names(), before);
}

/// Refused before the work, and even before the sheet is read.
#[test]
fn cli_a_file_in_the_way_is_told_before_the_sheet_is_read() {
    let shop = Workshop::new();
    shop.write("made.txt", "mine");
    shop.run("compare nowhere.toml -o made.txt")
        .refused(&["made.txt exists already"]);
}

#[test]
fn cli_force_replaces_a_file() {
    let shop = Workshop::new();
    for line in WRITERS {
        shop.write("made.txt", "mine");
        let did = shop.run(&format!("{line} --force"));
        assert_eq!(did.code, Some(0), "{line}: {}", did.err);
        assert!(did.err.contains("replaced made.txt"), "{line}: {}", did.err);
        assert_ne!(shop.read("made.txt"), "mine", "{line}");
    }
}

#[test]
fn cli_a_result_in_a_file_is_the_result_that_would_have_been_printed() {
    let shop = Workshop::new();
    let printed = shop.run("check car.toml").done();
    assert_eq!(shop.run("check car.toml -o made.txt").done(), "");
    assert_eq!(shop.read("made.txt"), printed);
}

#[test]
fn cli_charts_and_tables_are_written_beside_the_result() {
    let shop = Workshop::new();
    let did = shop.run_each(&[
        "compare",
        "car.toml",
        "--draws",
        DRAWS,
        "--plot",
        "a.svg",
        "--plot-engine",
        "b.svg",
        "--csv",
        "c.csv",
        "--quiet",
    ]);
    assert_eq!(did.err, "");
    assert!(did.done().contains("Launch window"));
    for chart in ["a.svg", "b.svg"] {
        let chart = shop.read(chart);
        let parsed = roxmltree::Document::parse(&chart).expect("well-formed");
        assert_eq!(parsed.root_element().tag_name().name(), "svg");
    }
    let table = shop.read("c.csv");
    let first = table.lines().next().expect("a first line");
    assert!(first.contains("as supplied"), "{first}");
    assert!(table.lines().count() > 20);
}

#[test]
fn cli_a_missing_folder_a_folder_and_a_name_given_twice_are_refused() {
    let shop = Workshop::new();
    let before = shop.names();
    shop.run("check car.toml -o nowhere/made.txt")
        .refused(&["there is no folder nowhere"]);
    shop.run("check car.toml -o .").refused(&["is a folder"]);
    shop.run("window car.toml --plot a.svg --csv a.svg")
        .refused(&["a.svg is asked for twice"]);
    assert_eq!(shop.names(), before);
}

#[test]
fn cli_new_leaves_what_lies_there_alone_without_force() {
    let shop = Workshop::new();
    let (sheet, torque) = (shop.read("car.toml"), shop.read("torque.csv"));
    shop.run("new car.toml")
        .refused(&["exists already", "--force"]);
    assert_eq!(shop.read("car.toml"), sheet);
    assert_eq!(shop.read("torque.csv"), torque);
    assert_eq!(shop.run("new car.toml --force").done(), "");
    assert_ne!(shop.read("car.toml"), sheet);
    shop.run("new torque.csv").refused(&["torque.csv"]);
    shop.run("new nowhere/car.toml").refused(&["no folder"]);
}

/// A result must never cost the user what it was made from, whatever was typed.
#[test]
fn cli_a_file_that_was_read_is_never_written_over_even_when_forced() {
    let shop = Workshop::new();
    let (sheet, torque) = (shop.read("car.toml"), shop.read("torque.csv"));
    for line in [
        "check car.toml -o car.toml --force",
        "check car.toml -o ./car.toml --force",
        "check car.toml -o torque.csv --force",
        "window car.toml --csv torque.csv --force",
    ] {
        shop.run(line).refused(&["is read for this result"]);
    }
    assert_eq!(shop.read("car.toml"), sheet);
    assert_eq!(shop.read("torque.csv"), torque);
}

#[test]
fn cli_one_file_under_two_spellings_is_asked_for_twice() {
    let shop = Workshop::new();
    let before = shop.names();
    shop.run("window car.toml --plot a.svg --csv ./a.svg")
        .refused(&["a.svg is asked for twice"]);
    assert_eq!(shop.names(), before);
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::process::Stdio;

    fn mode(shop: &Workshop, name: &str) -> u32 {
        let metadata = std::fs::metadata(shop.path(name)).expect("a file");
        metadata.permissions().mode() & 0o777
    }

    fn make_pipe(shop: &Workshop, name: &str) {
        let made = std::process::Command::new("mkfifo")
            .arg(shop.path(name))
            .status();
        assert!(made.is_ok_and(|status| status.success()), "mkfifo");
    }

    #[test]
    fn cli_force_keeps_the_rights_of_a_file_and_says_that_it_was_replaced() {
        let shop = Workshop::new();
        shop.write("made.txt", "mine");
        let private = std::fs::Permissions::from_mode(0o640);
        std::fs::set_permissions(shop.path("made.txt"), private).expect("rights");
        let did = shop.run("check car.toml -o made.txt --force");
        assert!(did.err.contains("replaced made.txt"), "{}", did.err);
        assert_eq!(mode(&shop, "made.txt"), 0o640);
    }

    #[test]
    fn cli_a_link_is_followed_and_stays_a_link() {
        let shop = Workshop::new();
        shop.write("real.txt", "mine");
        symlink("real.txt", shop.path("link.txt")).expect("a link");
        symlink("nothing.txt", shop.path("lost.txt")).expect("a link");
        shop.run("check car.toml -o link.txt").refused(&["exists"]);
        assert_eq!(shop.run("check car.toml -o link.txt --force").done(), "");
        assert_ne!(shop.read("real.txt"), "mine");
        let link = shop.path("link.txt").symlink_metadata().expect("a link");
        assert!(link.is_symlink());
        shop.run("check car.toml -o lost.txt --force")
            .refused(&["leads nowhere"]);
        // A link to the sheet is the sheet.
        symlink("car.toml", shop.path("other.txt")).expect("a link");
        shop.run("check car.toml -o other.txt --force")
            .refused(&["is read for this result"]);
    }

    /// Reading from a pipe that nobody writes to would wait for ever.
    #[test]
    fn cli_pipes_and_devices_are_neither_read_nor_written() {
        let shop = Workshop::new();
        make_pipe(&shop, "pipe");
        shop.run("check pipe").refused(&["not a regular file"]);
        shop.run("check /dev/null").refused(&["not a regular file"]);
        shop.run("check car.toml -o pipe --force")
            .refused(&["not a regular file"]);
        shop.run("check car.toml -o /dev/null --force")
            .refused(&["not a regular file"]);
        let piped = Workshop::with("\"torque.csv\"", "\"pipe\"");
        make_pipe(&piped, "pipe");
        piped.run("check car.toml").refused(&["not a regular file"]);
    }

    /// A sheet sent by somebody else shall not show what lies elsewhere.
    #[test]
    fn cli_a_sheet_names_no_file_outside_its_folder_and_quotes_none() {
        let elsewhere = tempfile::tempdir().expect("a folder");
        let secret = elsewhere.path().join("secret.csv");
        std::fs::write(&secret, "speed_rpm,torque_nm\nhunter2,1\n").expect("a file");
        let absolute = format!("\"{}\"", secret.display());
        let linked = Workshop::with("\"torque.csv\"", "\"linked.csv\"");
        symlink(&secret, linked.path("linked.csv")).expect("a link");
        for shop in [Workshop::with("\"torque.csv\"", &absolute), linked] {
            let did = shop.run("check car.toml");
            assert!(!did.err.contains("hunter2"), "{}", did.err);
            did.refused(&["outside the sheet's folder"]);
        }
    }

    /// Either all files of a run are there or none: here the second place is taken away by a
    /// folder that cannot be written in.
    #[test]
    fn cli_a_folder_that_cannot_be_written_is_told_before_the_work() {
        let shop = Workshop::new();
        std::fs::create_dir(shop.path("shut")).expect("a folder");
        let shut = std::fs::Permissions::from_mode(0o555);
        std::fs::set_permissions(shop.path("shut"), shut).expect("rights");
        let writable = tempfile::NamedTempFile::new_in(shop.path("shut")).is_ok();
        let did = shop.run("window nowhere.toml --plot a.svg --csv shut/b.csv");
        if writable {
            // The superuser writes everywhere; what is left is the missing sheet.
            did.refused(&["there is no file nowhere.toml"]);
        } else {
            did.refused(&["nothing can be written in"]);
        }
    }

    /// Standard output on a full disk: the result is lost, so no file of the run is left either.
    #[test]
    fn cli_a_full_standard_output_leaves_no_file_of_the_run() {
        let shop = Workshop::new();
        let before = shop.names();
        let full = std::fs::File::options()
            .write(true)
            .open("/dev/full")
            .expect("a device that is always full");
        let status = shop
            .plain(&["window", "car.toml", "--plot", "a.svg", "--quiet"])
            .stdout(Stdio::from(full))
            .status()
            .expect("a run");
        assert_eq!(status.code(), Some(1));
        assert_eq!(shop.names(), before);
    }

    /// Standard error that is full, or closed, loses no result.
    #[test]
    fn cli_a_full_standard_error_loses_no_result() {
        let shop = Workshop::with("wheelbase = \"2.25 m\"", "wheelbase = \"9 m\"");
        let full = std::fs::File::options()
            .write(true)
            .open("/dev/full")
            .expect("a device that is always full");
        let output = shop
            .plain(&["check", "car.toml", "-o", "made.txt"])
            .stderr(Stdio::from(full))
            .output()
            .expect("a run");
        assert_eq!(output.status.code(), Some(0));
        assert!(shop.read("made.txt").contains("9 m"));
    }
}

/// The chart over the release time has every flywheel; without release_range there is none, and
/// why is said.
#[test]
fn cli_the_best_aim_over_the_release_is_drawn_where_releases_are_given() {
    let shop = Workshop::new();
    let draw = "compare car.toml --draws 32 --plot-release release.svg";
    let did = shop.run(draw);
    assert_eq!(did.code, Some(0), "{}", did.err);
    assert!(did.err.contains("release_range"), "{}", did.err);
    assert!(!shop.names().contains(&String::from("release.svg")));
    let sheet = shop.read("car.toml");
    let with = sheet.replace(
        "launch_range =",
        "release_range = [\"0.15 s\", \"0.60 s\"]\nlaunch_range =",
    );
    assert_ne!(with, sheet);
    shop.write("car.toml", &with);
    shop.run(draw).done();
    let chart = shop.read("release.svg");
    assert!(chart.contains("Clutch release time"));
}
