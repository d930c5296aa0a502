//! The commands between the lathe and the scales, as a user types them. All figures invented.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A metal with everything a disc check needs, in place of the starter sheet's bare name.
const STEEL: &str = "material = { name = \"test steel\", density = \"7850 kg/m³\", yield = \"350 MPa\", tensile = \"600 MPa\", poisson = 0.29 }\n#";

/// A bench with the starter sheet on it, its fitted flywheel given more keys.
struct Bench {
    folder: TempDir,
}

impl Bench {
    fn new(more: &str) -> Self {
        Self::with_metal(more, STEEL)
    }

    fn with_metal(more: &str, metal: &str) -> Self {
        let bench = Self {
            folder: tempfile::tempdir().unwrap(),
        };
        bench.flyheft(&["new", "car.toml", "-q"]).success();
        let sheet = std::fs::read_to_string(bench.path("car.toml")).unwrap();
        let sheet = sheet.replacen("material = \"steel\" ", metal, 1).replacen(
            "fitted = true ",
            &format!("{more}\nfitted = true "),
            1,
        );
        std::fs::write(bench.path("car.toml"), sheet).unwrap();
        bench
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn flyheft(&self, arguments: &[&str]) -> assert_cmd::assert::Assert {
        Command::cargo_bin("flyheft")
            .unwrap()
            .current_dir(self.folder.path())
            .args(arguments)
            .assert()
    }

    fn said(&self, arguments: &[&str]) -> String {
        let output = self.flyheft(arguments).success().get_output().clone();
        String::from_utf8(output.stdout).unwrap()
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let mut all = arguments.to_vec();
        all.extend(["--json", "-q"]);
        serde_json::from_str(&self.said(&all)).expect("one JSON document and nothing else")
    }

    /// What a refused command says on standard error.
    fn refused(&self, arguments: &[&str]) -> String {
        let output = self.flyheft(arguments).failure().get_output().clone();
        assert!(output.stdout.is_empty(), "nothing on standard output");
        String::from_utf8(output.stderr).unwrap()
    }
}

fn assert_says(text: &str, pieces: &[&str]) {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for piece in pieces {
        assert!(text.contains(piece), "{piece:?} not in {text}");
    }
}

fn is_picture(path: &Path) -> String {
    let text = std::fs::read_to_string(path).unwrap();
    let picture = roxmltree::Document::parse(&text).unwrap();
    assert_eq!(picture.root_element().attribute("role"), Some("img"));
    text
}

const CAUTIONS: [&str; 3] = [
    "a burst flywheel kills",
    "crack-test before and after machining",
    "licensed engineer's word stands over",
];

#[test]
fn cli_inertia_adds_up_and_carries_the_cautions() {
    let bench = Bench::new("");
    let ledger = bench.json(&["inertia", "car.toml"]);
    assert_eq!(ledger["schema"], "flyheft/inertia/1");
    for wheel in ledger["flywheels"].as_array().unwrap() {
        let parts: f64 = ledger["parts"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|part| part["turns_with"] == "crank")
            .map(|part| part["inertia_kg_m2"].as_f64().unwrap())
            .sum();
        let total = wheel["crank_side_inertia_kg_m2"].as_f64().unwrap();
        let sum = parts + wheel["inertia_kg_m2"].as_f64().unwrap();
        // Sums of a handful of numbers: round-off only.
        assert!((total - sum).abs() < 1e-12);
        let pieces = wheel["pieces"].as_array().unwrap();
        let made_up: f64 = pieces
            .iter()
            .map(|piece| piece["inertia_kg_m2"].as_f64().unwrap())
            .sum();
        assert!(
            pieces.is_empty() || (made_up - wheel["inertia_kg_m2"].as_f64().unwrap()).abs() < 1e-12
        );
    }
    assert_eq!(ledger["flywheels"][0]["disc_check"]["verdict"], "below");
    assert_says(&bench.said(&["inertia", "car.toml", "-q"]), &CAUTIONS);
}

#[test]
fn cli_inertia_says_which_properties_a_bare_metal_lacks() {
    let bench = Bench::with_metal("", "material = \"steel\" #");
    let text = bench.said(&["inertia", "car.toml", "-q", "--wheel", "as supplied"]);
    assert_says(
        &text,
        &[
            "No disc check of \"as supplied\"",
            "no yield, no tensile and no poisson",
            "none is guessed",
        ],
    );
    assert_says(&text, &CAUTIONS);
    let json = bench.json(&["inertia", "car.toml", "--wheel", "as supplied"]);
    let check = &json["flywheels"][0]["disc_check"];
    assert_eq!(check["verdict"], Value::Null);
    assert_eq!(
        check["material_lacks"],
        serde_json::json!(["yield", "tensile", "poisson"])
    );
    let text = bench.said(&["inertia", "car.toml", "-q", "--plot", "s.svg"]);
    assert_says(&text, &["No disc check of \"as supplied\""]);
    assert!(!bench.path("s.svg").exists());
}

#[test]
fn cli_a_target_and_the_pass_it_finds_are_one() {
    let bench = Bench::new("");
    let band = ["--band", "236 mm:264 mm"];
    let aimed = bench.json(&[
        "cut",
        "car.toml",
        band[0],
        band[1],
        "--target-inertia",
        "0.0700 kg·m²",
    ]);
    let pass = &aimed["passes"][0];
    // The sheet's inertia is held to the last digit of the depth.
    assert!((pass["inertia_kg_m2"].as_f64().unwrap() - 0.07).abs() < 1e-9);
    let depth_m = pass["pass"]["depth_m"].as_f64().unwrap();
    let face = format!("236 mm:264 mm:{depth_m} m");
    let cut = bench.json(&["cut", "car.toml", "--face", &face]);
    let again = cut["passes"][0]["inertia_kg_m2"].as_f64().unwrap();
    // The depth goes through its text and back: sixteen digits.
    assert!((again - 0.07).abs() < 1e-9);
    assert_eq!(pass["disc_check"]["verdict"], "below");
}

#[test]
fn cli_a_target_finds_a_diameter_of_holes_by_mass() {
    let bench = Bench::new("");
    let aimed = bench.json(&[
        "cut",
        "car.toml",
        "--holes",
        "6:?:165 mm",
        "--target-mass",
        "7.1 kg",
    ]);
    let pass = &aimed["passes"][0];
    assert!((pass["mass_kg"].as_f64().unwrap() - 7.1).abs() < 1e-9);
    assert_eq!(pass["pass"]["kind"], "holes");
}

#[test]
fn cli_what_the_shop_would_not_cut_is_refused_with_its_place() {
    let bench = Bench::new("shop = { clutch_face = { inner = \"150 mm\", outer = \"220 mm\" } }");
    let cut = |flags: &[&str]| {
        let mut all = vec!["cut", "car.toml", "-q"];
        all.extend(flags);
        bench.refused(&all)
    };
    assert_says(
        &cut(&["--face", "236 mm:264 mm:14 mm"]),
        &[
            "pass 1 is refused",
            "in the web",
            "Ø 236.00 mm",
            "5.00 mm would be left",
            "6.00 mm must be",
        ],
    );
    assert_says(
        &cut(&["--face", "240 mm:250 mm:1 mm", "--rim", "215 mm"]),
        &[
            "pass 2 is refused",
            "the clutch face, Ø 150.00 mm to 220.00 mm",
        ],
    );
    assert_says(
        &cut(&["--rim", "260 mm"]),
        &["seat of the ring gear would be cut away", "Ø 272.00 mm"],
    );
    assert_says(
        &cut(&["--face", "212 mm:240 mm:1 mm"]),
        &["circle of the cover bolts", "Ø 230.00 mm"],
    );
    assert_says(
        &cut(&["--holes", "6:20 mm:118 mm"]),
        &["across a step in thickness at Ø 120.00 mm"],
    );
    assert_says(
        &cut(&["--target-inertia", "0.03 kg m2", "--band", "236 mm:264 mm"]),
        &[
            "cannot be reached this way",
            "down to the least of 6.00 mm",
            "furthest",
            "13.00 mm deep",
        ],
    );
    assert_says(
        &cut(&["--target-inertia", "0.2 kg m2", "--band", "236 mm:264 mm"]),
        &["already", "can only take off"],
    );
    assert_says(
        &cut(&["--target-mass", "5 kg"]),
        &["needs to be told where to cut", "--band"],
    );
    assert_says(
        &cut(&["--wheel", "aluminium, from a swing test", "--rim", "200 mm"]),
        &["not described by its sections", "vernier"],
    );
}

/// At a tenth of the strength the same cut is forbidden by the disc check.
#[test]
fn cli_the_disc_check_forbids_a_target() {
    let weak = STEEL
        .replace("350 MPa", "35 MPa")
        .replace("600 MPa", "60 MPa");
    let bench = Bench::with_metal("", &weak);
    let said = bench.refused(&[
        "cut",
        "car.toml",
        "-q",
        "--band",
        "236 mm:264 mm",
        "--target-inertia",
        "0.07 kg m2",
    ]);
    assert_says(&said, &["the disc check forbids", "a burst flywheel kills"]);
}

#[test]
fn cli_passes_come_from_the_sheet_in_its_order() {
    let bench = Bench::new(
        "cut = [ { kind = \"face\", inner = \"236 mm\", outer = \"264 mm\", depth = \"2 mm\" }, { kind = \"holes\", count = 8, diameter = \"12 mm\", circle = \"137 mm\" } ]",
    );
    let cut = bench.json(&["cut", "car.toml"]);
    let kinds: Vec<&str> = cut["passes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pass| pass["pass"]["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, ["face", "holes"]);
    let typed = bench.json(&[
        "cut",
        "car.toml",
        "--holes",
        "8:12 mm:137 mm",
        "--face",
        "236 mm:264 mm:2 mm",
    ]);
    assert_eq!(typed["passes"][0]["pass"]["kind"], "holes");
    // In either order the same metal is gone.
    let left = |cut: &Value| cut["passes"][1]["inertia_kg_m2"].as_f64().unwrap();
    assert!((left(&cut) - left(&typed)).abs() < 1e-12);
    assert_says(&bench.said(&["cut", "car.toml", "-q"]), &CAUTIONS);
}

#[test]
fn cli_a_pass_wrong_in_the_sheet_is_told_with_its_line() {
    for (cut, said) in [
        (
            "{ kind = \"rim\", diameter = \"267 mm\", depth = \"1 mm\" }",
            "takes no depth",
        ),
        (
            "{ kind = \"bore\" }",
            "kind takes \"face\", \"rim\", \"holes\" or \"taper\"",
        ),
        (
            "{ kind = \"face\", inner = \"264 mm\", outer = \"236 mm\", depth = \"1 mm\" }",
            "outer = \"236 mm\" is not above inner",
        ),
        (
            "{ kind = \"face\", inner = \"236 mm\", outer = \"264 mm\" }",
            "this pass lacks depth",
        ),
    ] {
        let bench = Bench::new(&format!("cut = [ {cut} ]"));
        let text = bench.refused(&["cut", "car.toml", "-q"]);
        assert_says(&text, &[said, "car.toml:38:"]);
    }
}

#[test]
fn cli_drawings_are_whole_pictures_and_the_same_every_time() {
    let bench = Bench::new("");
    for units in ["metric", "imperial"] {
        let draw = |name: &str| {
            bench
                .flyheft(&[
                    "cut",
                    "car.toml",
                    "-q",
                    "-o",
                    "o.txt",
                    "--force",
                    "--units",
                    units,
                    "--face",
                    "236 mm:264 mm:2 mm",
                    "--draw",
                    name,
                ])
                .success();
            is_picture(&bench.path(name))
        };
        let one = draw("one.svg");
        assert_eq!(one, draw("two.svg"));
        assert!(one.contains("burst flywheel kills") || one.contains("a burst"));
    }
    bench
        .flyheft(&[
            "inertia", "car.toml", "-q", "-o", "i.txt", "--draw", "i.svg", "--plot", "p.svg",
        ])
        .success();
    is_picture(&bench.path("i.svg"));
    is_picture(&bench.path("p.svg"));
    let refused = bench.refused(&[
        "inertia",
        "car.toml",
        "-q",
        "--wheel",
        "aluminium, from a swing test",
        "--draw",
        "n.svg",
    ]);
    assert_says(&refused, &["no shape to draw"]);
}

#[test]
fn cli_a_swing_test_has_a_range_and_checks_the_drawing() {
    // 2π √(J L/(m g R²)) of the sheet's own wheel, 0.0817 kg·m² and 7.25 kg.
    let bench = Bench::new(
        "swing_check = { cords = 3, radius = \"150 mm\", length = \"1.50 m\", mass = \"7.25 kg\", period = \"1.739 s\", swings = 50, amplitude = 8 }",
    );
    let swing = bench.json(&["swing", "car.toml", "--part", "as supplied"]);
    let part = &swing["parts"][0];
    let (value, range) = (
        part["inertia_kg_m2"].as_f64().unwrap(),
        part["inertia_expanded_kg_m2"].as_f64().unwrap(),
    );
    assert!((value - 0.0817).abs() < range);
    assert_eq!(part["three_way"]["agree"], true);
    let shares: Vec<f64> = part["budget"]
        .as_array()
        .unwrap()
        .iter()
        .map(|input| input["share_of_variance"].as_f64().unwrap())
        .collect();
    assert!(shares.windows(2).all(|pair| pair[0] >= pair[1]));
    // A sum of nine shares: round-off only.
    assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
}

#[test]
fn cli_splits_beat_a_count_and_are_refused_with_their_place() {
    let bench = Bench::new(
        "swing_check = { cords = 3, radius = \"150 mm\", length = \"1.50 m\", mass = \"7.25 kg\", period = \"1.739 s\", amplitude = 8 }",
    );
    let mut rows = String::from("swings,time_s\n");
    for number in (0..=50).step_by(5) {
        // Presses early and late by a few hundredths.
        let late = [0.03, -0.04, 0.02][number / 5 % 3];
        let number = f64::from(u32::try_from(number).unwrap());
        let time_s = 2.0 + 1.739 * number + late;
        rows.extend([format!("{number},{time_s:.2}\n")]);
    }
    std::fs::write(bench.path("splits.csv"), &rows).unwrap();
    let range = |flags: &[&str]| {
        let mut all = vec!["swing", "car.toml", "--part", "as supplied"];
        all.extend(flags);
        bench.json(&all)["parts"][0]["inertia_expanded_kg_m2"]
            .as_f64()
            .unwrap()
    };
    assert!(range(&["--splits", "splits.csv"]) < range(&[]));
    let several = bench.refused(&["swing", "car.toml", "-q", "--splits", "splits.csv"]);
    assert_says(&several, &["--part"]);
    std::fs::write(bench.path("bad.csv"), rows.replace("\n10,", "\nten,")).unwrap();
    let bad = bench.refused(&[
        "swing",
        "car.toml",
        "--part",
        "as supplied",
        "--splits",
        "bad.csv",
    ]);
    assert_says(&bad, &["\"ten\" is no whole number", "bad.csv:4:1"]);
    bench
        .flyheft(&["swing", "car.toml", "--amplitude", "80"])
        .code(2);
}

#[test]
fn cli_a_part_alone_can_be_swung() {
    let bench = Bench::new("");
    let part = "name = \"on the bench\"\nswing = { cords = 3, radius = \"150 mm\", length = \"1.50 m\", mass = \"7.25 kg\", period = \"1.739 s\" }\n";
    std::fs::write(bench.path("part.toml"), part).unwrap();
    let swing = bench.json(&["swing", "part.toml"]);
    assert_eq!(swing["title"], "on the bench");
    // m g R² T²/(4π² L) by hand; told no size of swing, nothing is allowed for it.
    let by_hand = 7.25 * 9.806_65 * 0.15_f64.powi(2) * 1.739_f64.powi(2)
        / (4.0 * std::f64::consts::PI.powi(2) * 1.5);
    let found = swing["parts"][0]["inertia_kg_m2"].as_f64().unwrap();
    assert!((found / by_hand - 1.0).abs() < 1e-12);
    std::fs::write(bench.path("part.toml"), part.replace("cords", "chords")).unwrap();
    let refused = bench.refused(&["swing", "part.toml", "-q"]);
    assert_says(&refused, &["did you mean cords?", "part.toml:2:11"]);
}

/// Few draws: the claim is about the document, not its figures.
#[test]
fn cli_a_plan_tells_every_stage() {
    let bench = Bench::new("");
    let sheet = std::fs::read_to_string(bench.path("car.toml")).unwrap();
    // A narrow range of launch speeds: the mean curves are most of the work.
    let narrow = sheet.replace(r#"["1800 rpm", "6800 rpm"]"#, r#"["1900 rpm", "2600 rpm"]"#);
    assert_ne!(narrow, sheet);
    std::fs::write(bench.path("car.toml"), narrow).unwrap();
    let plan = bench.json(&[
        "cut",
        "car.toml",
        "--plan",
        "--draws",
        "64",
        "--face",
        "236 mm:264 mm:5 mm",
    ]);
    assert_eq!(plan["plan"]["order"], "most_inertia_first");
    let stages = plan["plan"]["stages"].as_array().unwrap();
    assert_eq!(stages.len(), 1);
    assert_eq!(plan["launches"]["wheels"].as_array().unwrap().len(), 2);
    let stage = &stages[0];
    let [low, high] = [0, 1].map(|end| stage["mean_change_ci95_s"][end].as_f64().unwrap());
    let change = stage["mean_change_s"].as_f64().unwrap();
    assert!((low..=high).contains(&change));
    assert!(stage["can_be_seen"].is_string());
    // One pass alone is all passes together, and what it loses less what it gains is the change.
    assert_eq!(&plan["launches"]["against_as_it_is"], stage);
    let doubt = |key: &str| stage["over_the_doubt"][key].as_f64().unwrap();
    assert!(doubt("sheets_drawn") > 1.0);
    let lost_less_gained = doubt("lost_mean_s") - doubt("gained_mean_s");
    assert!((lost_less_gained - doubt("mean_change_s")).abs() < 1e-12);
    assert!(doubt("lost_p95_s") >= 0.0 && (0.0..=1.0).contains(&doubt("share_lost")));
}
