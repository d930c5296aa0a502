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
        assert!(did.err.contains("wrote made.txt"), "{line}: {}", did.err);
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
