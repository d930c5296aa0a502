//! `fit`: from time slips to what they say, and to a sheet that says it.

use crate::workshop::Workshop;
use serde_json::Value;
use std::fmt::Write as _;

/// A folder with two slips of the sheet's own car, from launches of the program itself.
fn after_a_meeting() -> Workshop {
    let shop = Workshop::new();
    let mut slips = String::from("launch_rpm,sixty_foot_s\n");
    for rpm in ["3300", "3700"] {
        let said = shop.run(&format!(
            "launch car.toml --at {rpm} --to 60 --json --quiet"
        ));
        let launch: Value = serde_json::from_str(&said.done()).expect("a document");
        let sixty_s = launch["sixty_foot_s"].as_f64().expect("a time");
        let _ = writeln!(slips, "{rpm},{sixty_s:.3}");
    }
    shop.write("slips.csv", slips);
    shop
}

/// The slips are the model's own: grip stays where the sheet has it, known better than before;
/// the new sheet reads, the old one is as it was, and nothing is written over it.
#[test]
fn cli_fit_says_what_slips_say_and_writes_a_sheet_beside_the_old_one() {
    let shop = after_a_meeting();
    let before = shop.read("car.toml");
    let line =
        "fit car.toml slips.csv --unknown tyre.grip --json -o after.toml --page fit.html --quiet";
    let fit: Value = serde_json::from_str(&shop.run(line).done()).expect("a document");
    assert_eq!(fit["schema"], "flyheft/fit/1");
    for key in [
        "unknowns",
        "correlations",
        "effective_draws",
        "draws",
        "runs",
        "not_told_apart",
        "next_run",
    ] {
        assert!(fit.get(key).is_some(), "{key}");
    }
    let grip = &fit["unknowns"][0];
    assert_eq!(grip["key"], "tyre.grip");
    let number = |key: &str| grip[key].as_f64().expect("a number");
    let moved = (number("posterior") - number("prior")).abs();
    assert!(moved < 2.0 * number("posterior_sd"), "{grip}");
    assert!(number("posterior_sd") < number("prior_sd"), "{grip}");
    assert_eq!(fit["runs"].as_array().map(Vec::len), Some(2));
    assert_eq!(shop.read("car.toml"), before);
    assert!(
        shop.read("after.toml")
            .contains("draws = \"after-fitted.csv\"")
    );
    assert!(
        shop.read("after-fitted.csv")
            .starts_with("weight,tyre.grip\n")
    );
    let page = shop.read("fit.html");
    for told in ["Slips against the model", "Before and after", "Caution"] {
        assert!(page.contains(told), "{told}");
    }
    let checked = shop.run("check after.toml").done();
    assert!(checked.contains("what the fit left open"), "{checked}");
    shop.run("fit car.toml slips.csv -o after.toml")
        .refused(&["after.toml exists already"]);
}

#[test]
fn cli_slips_that_cannot_be_are_refused_with_the_reason() {
    let shop = Workshop::new();
    shop.write("slips.csv", "launch_rpm,sixty_foot_s\n3300,0.6\n");
    shop.run("fit car.toml slips.csv --quiet")
        .refused(&["row 1", "quicker than"]);
    shop.write("slips.csv", "launch_rpm,sixty_foot\n3300,2.1\n");
    shop.run("fit car.toml slips.csv --quiet")
        .refused(&["sixty_foot", "did you mean"]);
    shop.write("slips.csv", "launch_rpm,sixty_foot_s\n3300,2.1\n");
    shop.run("fit car.toml slips.csv --quiet --unknown tyre.gripp")
        .refused(&["tyre.gripp", "in doubt"]);
}

/// A row with two faults is told of both, in one run.
#[test]
fn cli_all_faults_of_a_row_are_told_at_once() {
    let shop = Workshop::new();
    let slips = "flywheel,launch_rpm,sixty_foot_s\nno such wheel,early,late\n";
    shop.write("slips.csv", slips);
    shop.run("fit car.toml slips.csv --quiet").refused(&[
        "no such wheel",
        "slips.csv:2:15",
        "slips.csv:2:21",
    ]);
}

/// A slip is of a meeting that the sheet knows, where it knows any.
#[test]
fn cli_a_slip_of_a_meeting_that_the_sheet_does_not_know_is_told() {
    let shop = after_a_meeting();
    let slips = "meeting,launch_rpm,sixty_foot_s\n12 Mai,3300,2.21\n";
    shop.write("slips.csv", slips);
    let meeting = "\n[[meeting]]\nname = \"12 May\"\naltitude = \"300 m\"\n";
    let sheet = shop.read("car.toml") + meeting;
    shop.write("car.toml", sheet);
    shop.run("fit car.toml slips.csv --quiet").refused(&[
        "no meeting of the sheet is called \"12 Mai\"",
        "did you mean 12 May?",
        "slips.csv:2:1",
    ]);
}
