//! `--json`: one document, its schema, its keys.

use crate::workshop::{DRAWS, Workshop, did};
use serde_json::Value;

fn document(text: &str, schema: &str) -> Value {
    let value: Value = serde_json::from_str(text).expect("one JSON document and nothing else");
    assert_eq!(value["schema"], schema);
    value
}

fn has_keys(value: &Value, keys: &[&str]) {
    let object = value.as_object().expect("an object");
    for key in keys {
        assert!(object.contains_key(*key), "no {key} in {value:#}");
    }
}

const LAUNCH_KEYS: [&str; 24] = [
    "flywheel",
    "launch_rpm",
    "outcome",
    "sixty_foot_s",
    "marks",
    "minimum_rpm",
    "minimum_rpm_at_s",
    "droop_rpm",
    "lock_at_s",
    "clutch_heat_j",
    "plate_rise_k",
    "clutch_heat_to_sixty_foot_j",
    "plate_rise_to_sixty_foot_k",
    "lifts",
    "lifted_time_s",
    "spin_time_s",
    "spin_distance_m",
    "peak_acceleration_m_s2",
    "peak_input_torque_nm",
    "front_wheels_lifted",
    "bogged",
    "touched_limiter",
    "crank_side_inertia_kg_m2",
    "energy_j",
];

#[test]
fn cli_launch_is_one_document() {
    let shop = Workshop::new();
    let out = shop.run("launch car.toml --at 3300 --json").done();
    let launch = document(&out, "flyheft/launch/1");
    has_keys(&launch, &["title", "defaults", "doubts"]);
    has_keys(&launch, &LAUNCH_KEYS);
    has_keys(
        &launch["energy_j"],
        &[
            "engine",
            "crank_side_given_up",
            "car",
            "wheels_and_driveline",
            "clutch",
            "tyre",
            "driveline_loss",
            "drag",
            "rolling",
        ],
    );
    let marks = launch["marks"].as_array().expect("marks");
    assert_eq!(marks.len(), 5);
    has_keys(&marks[0], &["distance_m", "time_s", "speed_m_s"]);
    assert_eq!(launch["outcome"], "finished");
    assert_eq!(launch["flywheel"], "as supplied");
    // 60 ft are 18.288 m exactly; the marks' first is the sixty-foot time.
    assert_eq!(marks[0]["distance_m"], 18.288);
    assert_eq!(marks[0]["time_s"], launch["sixty_foot_s"]);
}

#[test]
fn cli_a_stalled_launch_is_a_result_with_null_for_what_was_not_reached() {
    let shop = Workshop::with("release_time = \"0.25 s\"", "release_time = \"0.01 s\"");
    let out = shop
        .run("launch car.toml --at 700 --to 60 --wheel aluminium --json")
        .done();
    let launch = document(&out, "flyheft/launch/1");
    assert_eq!(launch["outcome"], "stalled");
    assert!(launch["sixty_foot_s"].is_null());
    assert!(launch["marks"][0]["time_s"].is_null());
}

#[test]
fn cli_compare_is_one_document() {
    let shop = Workshop::new();
    let out = shop
        .run_each(&["compare", "car.toml", "--json", "--draws", DRAWS])
        .done();
    let compare = document(&out, "flyheft/compare/1");
    let wheels = compare["flywheels"].as_array().expect("flywheels");
    assert_eq!(wheels.len(), 2);
    for wheel in wheels {
        has_keys(
            wheel,
            &[
                "name",
                "mass_kg",
                "inertia_kg_m2",
                "crank_side_inertia_kg_m2",
                "quickest",
                "window_rpm",
                "launch",
                "aim",
            ],
        );
        has_keys(
            &wheel["quickest"],
            &["launch_rpm", "release_time_s", "sixty_foot_s"],
        );
        has_keys(&wheel["launch"], &LAUNCH_KEYS);
        has_keys(
            &wheel["aim"],
            &[
                "launch_rpm",
                "mean_s",
                "sd_s",
                "p10_s",
                "p90_s",
                "share_within_tolerance",
                "share_stalled",
                "launch_sd_rpm",
            ],
        );
        assert_eq!(wheel["window_rpm"].as_array().map(Vec::len), Some(2));
        // The one is timed on the way to a quarter mile, the other at the end of a run to 60 ft:
        // the same to the accuracy of a located event, far below a microsecond.
        let time_s = |value: &Value| value["sixty_foot_s"].as_f64().expect("a time");
        assert!((time_s(&wheel["launch"]) - time_s(&wheel["quickest"])).abs() < 1e-9);
    }
    let pair = &compare["pairs"][0];
    has_keys(
        pair,
        &[
            "lighter",
            "heavier",
            "lighter_wins_share",
            "mean_difference_s",
            "mean_difference_ci95_s",
            "break_even_sd_rpm",
        ],
    );
    assert_eq!(pair["lighter"], "aluminium");
    assert_eq!(pair["heavier"], "as supplied");
}

#[test]
fn cli_the_other_commands_are_one_document_each() {
    let shop = Workshop::new();
    for (line, schema) in [
        ("check car.toml --json", "flyheft/check/1"),
        ("inertia car.toml --json", "flyheft/inertia/1"),
        ("cut car.toml --json", "flyheft/cut/1"),
        ("swing car.toml --json", "flyheft/swing/1"),
        ("window car.toml --json", "flyheft/window/1"),
        ("gearing car.toml --final 4.1 --json", "flyheft/gearing/1"),
    ] {
        let did = shop.run(line);
        assert_eq!(did.err, "", "{line}");
        document(&did.done(), schema);
    }
}

#[test]
fn cli_warnings_do_not_get_into_a_document() {
    let shop = Workshop::with("final = 4.4", "final = 41");
    let did = shop.run("launch car.toml --at 3300 --to 60 --json");
    assert!(did.err.starts_with("warning"), "{}", did.err);
    let launch = document(&did.done(), "flyheft/launch/1");
    assert_eq!(launch["doubts"].as_array().map(Vec::len), Some(1));
}

#[test]
fn law_the_number_of_threads_does_not_change_a_byte() {
    let shop = Workshop::new();
    let with_threads = |count: &str| {
        did(shop
            .command()
            .env("RAYON_NUM_THREADS", count)
            .args(["compare", "car.toml", "--json", "--draws", DRAWS]))
        .done()
    };
    assert_eq!(with_threads("1"), with_threads("2"));
}

#[test]
fn law_a_seed_gives_the_same_answer_and_another_seed_another() {
    let shop = Workshop::new();
    let with_seed = |seed: &str| {
        shop.run_each(&[
            "compare", "car.toml", "--json", "--draws", DRAWS, "--seed", seed,
        ])
        .done()
    };
    assert_eq!(with_seed("5"), with_seed("5"));
    assert_ne!(with_seed("5"), with_seed("6"));
}

#[test]
fn cli_decide_is_one_document() {
    let shop = Workshop::new();
    let out = shop.run("decide car.toml --sheets 32 --json").done();
    let decision = document(&out, "flyheft/decide/1");
    has_keys(
        &decision,
        &[
            "sheets_drawn",
            "counts",
            "start_with",
            "sure",
            "flywheels",
            "find_out_first",
            "metal_left",
            "flat_range_kg_m2",
            "defaults",
        ],
    );
    assert_eq!(decision["sheets_drawn"], 32);
    assert_eq!(decision["counts"], "quick to 60 ft");
    let wheels = decision["flywheels"].as_array().expect("flywheels");
    let mut chances = 0.0;
    for wheel in wheels {
        has_keys(
            wheel,
            &[
                "name",
                "cut_from",
                "reachable",
                "chance_quickest",
                "chance_quickest_ci95",
                "loss_mean_s",
                "loss_p95_s",
                "mean_s",
                "mean_p10_s",
                "mean_p90_s",
                "aim_rpm",
                "aim_p10_rpm",
                "aim_p90_rpm",
                "season_loss_s",
                "season_loss_ci95_s",
            ],
        );
        chances += wheel["chance_quickest"].as_f64().expect("a chance");
    }
    assert!((chances - 1.0).abs() < 1e-9);
    let found = decision["find_out_first"].as_array().expect("inputs");
    has_keys(&found[0], &["key", "worth_s", "worth_ci95_s"]);
    let metal = decision["metal_left"].as_array().expect("a curve");
    has_keys(
        &metal[0],
        &[
            "crank_side_inertia_kg_m2",
            "mean_s",
            "mean_p10_s",
            "mean_p90_s",
            "sd_s",
            "share_stalled",
        ],
    );
}

/// The same seed gives the same bytes, whatever the threads.
#[test]
fn cli_decide_repeats_itself() {
    let shop = Workshop::new();
    let once = shop.run("decide car.toml --sheets 32 --seed 7").done();
    assert_eq!(
        once,
        shop.run("decide car.toml --sheets 32 --seed 7").done()
    );
    assert!(once.contains("Start with") || once.contains("Leave the metal on"));
}
