//! What a builder runs into in the first hour.

use crate::workshop::Workshop;

#[test]
fn cli_every_starter_runs_as_it_is() {
    for like in ["light-rear", "heavy-rear", "front"] {
        let shop = Workshop::new();
        std::fs::remove_file(shop.path("torque.csv")).expect("it was there");
        let made = shop.run(&format!("new mine.toml --like {like}"));
        assert_eq!(made.code, Some(0), "{}", made.err);
        let sheet = shop.read("mine.toml");
        assert!(sheet.contains("invented"), "{like}");
        assert!(sheet.starts_with("#:schema flyheft-sheet.schema.json\n"));
        let schema = shop.read("flyheft-sheet.schema.json");
        assert_eq!(schema, include_str!("../../docs/flyheft-sheet.schema.json"));
        let launch = shop.run("launch mine.toml --at 4000 --to 60").done();
        assert!(launch.contains("Sixty-foot time"), "{launch}");
        // The schema is the same for every sheet: it is in nobody's way.
        std::fs::remove_file(shop.path("torque.csv")).expect("it was written");
        assert_eq!(shop.run("new other.toml").code, Some(0));
    }
    let shop = Workshop::new();
    let made = shop.run("new mine.toml --like hovercraft");
    assert_eq!(made.code, Some(2));
}

#[test]
fn cli_options_keep_the_ranges_of_the_sheet() {
    let shop = Workshop::new();
    for line in [
        "gearing car.toml --final 1e308",
        "gearing car.toml --first 0.001",
        "launch car.toml --at 1e9",
        "cut car.toml --rim 900m",
        "cut car.toml --target-mass 1e9kg --rim ?",
    ] {
        let did = shop.run(line);
        assert_eq!(did.code, Some(2), "{line}: {}", did.err);
        assert!(did.err.contains("must be from"), "{line}: {}", did.err);
    }
}

#[test]
fn cli_gearing_lists_what_the_car_has_once() {
    let shop = Workshop::new();
    let sheet = shop.read("car.toml");
    let line = sheet
        .lines()
        .find(|line| line.starts_with("final"))
        .expect("a final drive");
    let built = line
        .split('=')
        .nth(1)
        .expect("a value")
        .split('#')
        .next()
        .expect("it")
        .trim();
    let out = shop
        .run(&format!("gearing car.toml --final {built},5.1,5.1"))
        .done();
    let head = out
        .lines()
        .find(|line| line.contains("as built"))
        .expect("a head");
    assert_eq!(head.matches("final drive").count(), 1, "{head}");
}

#[test]
fn cli_a_chart_that_cannot_be_drawn_takes_nothing_else_along() {
    let shop = Workshop::with(", yield = \"430 MPa\", tensile = \"680 MPa\"", "");
    let did = shop.run("inertia car.toml --plot stress.svg");
    assert_eq!(did.code, Some(0), "{}", did.err);
    assert!(did.err.contains("not drawn"), "{}", did.err);
    assert!(did.err.contains("it depends on the grade"), "{}", did.err);
    assert!(did.out.contains("kg·m²"), "{}", did.out);
}

#[test]
fn cli_practice_says_that_it_mixes_flywheels() {
    let shop = Workshop::new();
    let launches = "speed_rpm,flywheel\n5200,heavy\n5100,heavy\n5300,light\n5000,light\n5250,\n";
    shop.write("practice.csv", launches);
    let out = shop.run("practice practice.csv").done();
    assert!(out.contains("several flywheels taken together"), "{out}");
    assert!(out.contains("\"heavy\", \"light\""), "{out}");
    let out = shop.run("practice practice.csv --wheel heavy").done();
    assert!(!out.contains("several flywheels"), "{out}");
}

#[test]
fn cli_imperial_results_are_imperial_and_not_over_precise() {
    let shop = Workshop::new();
    let check = shop.run("check car.toml --units imperial").done();
    let density = check
        .lines()
        .find(|line| line.starts_with("Air density"))
        .expect("a line");
    assert!(
        density.contains("0.07") && density.contains("lb/ft³"),
        "{density}"
    );
    assert!(!check.contains("9.84252"), "{check}");
    let cut = shop.run("cut car.toml --rim 250mm --units imperial");
    assert!(
        !cut.out.contains("gram") && !cut.out.contains(" g "),
        "{}",
        cut.out
    );
}

#[test]
fn cli_assumed_values_stand_in_full_in_check_alone() {
    let shop = Workshop::with("efficiency = 0.94\n", "");
    let check = shop.run("check car.toml").done();
    assert!(check.contains("- gearbox.efficiency = 0.94"), "{check}");
    let launch = shop.run("launch car.toml --at 4000 --to 60").done();
    assert!(!launch.contains("- gearbox.efficiency"), "{launch}");
    assert!(launch.contains("Assumed: 2 values"), "{launch}");
}
