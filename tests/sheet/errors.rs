//! Keys unknown, missing, in the wrong place or said twice over.

use crate::{edited, read, refused, refused_text, words};

#[test]
fn law_unknown_keys_get_the_nearest_known_one_or_their_home() {
    refused(
        "stall = \"500 rpm\"",
        "stal = \"500 rpm\"",
        "|stal =",
        &["[engine] has no key \"stal\"", "did you mean stall?"],
    );
    refused(
        "stall = \"500 rpm\"",
        "stall = \"500 rpm\"\nshift_time = \"0.2 s\"",
        "|shift_time",
        &["shift_time belongs under [gearbox]"],
    );
    refused(
        "[engine]",
        "wheelbase = 3\n[engine]",
        "|wheelbase = 3",
        &["the sheet has no key", "belongs under [car]"],
    );
    refused(
        "[engine]",
        "[motor]\nx = 1\n[engine]",
        "[|motor]",
        &["the sheet has no key \"motor\"", "did you mean engine?"],
    );
    refused(
        "count = 6, diameter = \"24 mm\"",
        "count = 6, dia = \"3 mm\", diameter = \"24 mm\"",
        "|dia =",
        &["this ring of holes has no key \"dia\""],
    );
}

/// What the trade calls a thing leads to the key, not to one that is spelt alike.
#[test]
fn regression_other_names_lead_to_the_right_key() {
    refused(
        "mass = \"1120 kg\"",
        "weight = \"1120 kg\"",
        "|weight = \"1120 kg\"",
        &["did you mean mass?", "mass on the line, driver in"],
    );
    let faces =
        "clamp = \"6200 N\"\nfaces = 2\nfriction = 0.30\ndiameter = \"228 mm\"\ninner = \"150 mm\"";
    refused(
        "capacity = \"330 N·m\"",
        faces,
        "|diameter = \"228 mm\"",
        &["did you mean outer?", "outer diameter of the lining"],
    );
}

/// A section under another name is read all the same, so that what is wrong in it is told too.
#[test]
fn regression_all_is_told_in_one_run() {
    let text = edited(&[
        ("[gearbox]", "[transmission]"),
        ("final = 3.9\n", ""),
        ("[tyre] ", "[tyres] "),
        ("grip = 1.30", "grip = -1"),
        ("mass = \"1120 kg\"", "mass = 1120 kg"),
        ("wheelbase = \"2.46 m\"\n", ""),
    ]);
    let refusal = read(&text).unwrap_err();
    let said: String = refusal.problems().iter().map(words).collect();
    for piece in [
        "no key \"transmission\"",
        "did you mean gearbox?",
        "lacks final",
        "did you mean tyre?",
        "grip = -1 is out of range",
        "mass = 1120 kg stands without quotes",
        "[car] lacks wheelbase",
    ] {
        assert!(said.contains(piece), "{piece:?} not in {refusal}");
    }
    assert_eq!(refusal.problems().len(), 6, "{refusal}");
}

/// A name that turns the direction of writing, or moves the cursor, is refused where it stands.
#[test]
fn regression_names_that_upset_a_screen_are_refused() {
    for (odd, code) in [
        ("\\u202e", "U+202E"),
        ("\\u0007", "U+0007"),
        ("\\u2066", "U+2066"),
    ] {
        refused(
            "name = \"machined\"",
            &format!("name = \"turned{odd} off\""),
            "name = |\"turned",
            &["name holds", code, "without it"],
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("p.csv");
    std::fs::write(&path, "speed_rpm,flywheel\n4200,\"turned\u{202e} off\"\n").unwrap();
    let refusal = flyheft::sheet::practice::read(&path).unwrap_err();
    only_words(&refusal, "U+202E");
    let place = refusal.location(&refusal.problems()[0]);
    assert_eq!((place.line, place.column), (Some(2), Some(6)));
}

/// A sheet that lacks sections is told what each of them needs.
#[test]
fn regression_missing_sections_name_their_keys() {
    let at = edited(&[]).find("[track]").unwrap();
    let text = edited(&[]);
    let start = text.find("[tyre]").unwrap();
    let end = text.find("[driver]").unwrap();
    let without = format!("{}{}", &text[..start], &text[end..at]);
    let refusal = read(&without).unwrap_err();
    only_words(&refusal, "[tyre] needs radius = \"286 mm\", grip = 1.45");
}

fn only_words(refusal: &flyheft::sheet::Refusal, piece: &str) {
    let said: Vec<String> = refusal.problems().iter().map(words).collect();
    assert_eq!(said.len(), 1, "{refusal}");
    assert!(said[0].contains(piece), "{refusal}");
}

/// A misspelt key that is needed is told once, not as unknown and as missing.
#[test]
fn law_a_misspelt_key_is_not_missing_too() {
    refused(
        "limiter =",
        "limitter =",
        "|limitter",
        &["did you mean limiter?"],
    );
}

#[test]
fn law_missing_keys_and_sections_are_told_at_the_header() {
    refused(
        "limiter = \"7200 rpm\"\n",
        "",
        "|[engine]",
        &["[engine] lacks limiter", "for example limiter ="],
    );
    refused(
        "wheelbase = \"2.46 m\"\ncg_height = \"0.50 m\"\n",
        "",
        "|[car]",
        &["[car] lacks wheelbase and cg_height"],
    );
    refused(
        "final = 3.9\n",
        "",
        "|[gearbox]",
        &["[gearbox] lacks final"],
    );
    refused(
        "outer = \"210 mm\", thickness = \"11 mm\"",
        "outer = \"210 mm\"",
        "|{ inner = \"120 mm\", outer = \"210 mm\" }",
        &["this section lacks thickness"],
    );
    let refusal = read("title = \"nothing\"\n").unwrap_err();
    let [problem] = refusal.problems() else {
        panic!("{refusal}")
    };
    assert!(words(problem).contains("the sheet lacks [engine], [[crank_side]], [[flywheel]], [clutch], [gearbox], [car], [tyre] and [driver]"));
    assert_eq!(refusal.location(problem).line, None);
}

#[test]
fn law_release_and_throttle_tables_are_held_to_their_form() {
    let release = |table: &str, marked: &str, said: &[&str]| {
        refused(
            "release_time = \"0.28 s\"",
            &format!("release = {table}"),
            marked,
            said,
        );
    };
    release("[]", "release = |[]", &["has no points"]);
    release(
        "[[\"0 s\", 0.0], [\"0.1 s\"]]",
        ", |[\"0.1 s\"]",
        &["a time and a share"],
    );
    release("[[\"0 s\", 0.0], 0.5]", "0.0], |0.5", &["0.5 is no point"]);
    release(
        "[[\"0 s\", 0.0], [\"0.1 s\", 1.5]]",
        "\"0.1 s\", |1.5",
        &["share from 0 to 1"],
    );
    release(
        "[[\"0 s\", 0.0], [0.1, 0.5]]",
        "[|0.1, 0.5",
        &["no unit", "s, ms or min"],
    );
    release(
        "[[\"0.2 s\", 0.0], [\"0.2 s\", 1.0]]",
        "0.0], |[",
        &["time 2 is not later", "times must rise"],
    );
    refused(
        "release_time = \"0.28 s\"",
        "release_time = \"0.28 s\"\nrelease = [[\"0 s\", 1.0]]",
        "|release = [[",
        &["given twice over"],
    );
    refused(
        "hold = \"foot\"",
        "hold = \"foot\"\nthrottle_time = \"0.1 s\"\nthrottle = [[\"0 s\", 1.0]]",
        "|throttle = [[",
        &["given twice over"],
    );
}

#[test]
fn law_things_said_twice_over_are_refused() {
    refused(
        "capacity = \"330 N·m\"",
        "capacity = \"330 N·m\"\nclamp = \"6 kN\"",
        "|clamp = \"6 kN\"",
        &["given twice over: by capacity and by clamp"],
    );
    refused(
        "launch_sd = \"220 rpm\"",
        "launch_sd = \"220 rpm\"\npractice = \"p.csv\"",
        "\n|practice = \"p.csv\"",
        &["launch_sd and practice are both given"],
    );
    refused(
        "humidity = 0.50\n",
        "humidity = 0.50\naltitude = \"120 m\"\n",
        "\n|altitude",
        &["pressure and altitude are both given"],
    );
}

#[test]
fn law_a_clutch_by_its_faces_is_held_to_its_form() {
    let faces =
        "clamp = \"6200 N\"\nfaces = 2\nfriction = 0.30\nouter = \"228 mm\"\ninner = \"150 mm\"";
    let with =
        |from: &str, to: &str| edited(&[("capacity = \"330 N·m\"", &faces.replace(from, to))]);
    assert!(read(&with("", "")).is_ok());
    refused_text(
        &with("outer = \"228 mm\"", "outer = \"100 mm\""),
        "\nouter = |\"100 mm\"",
        &["not above inner = \"150 mm\""],
    );
    refused_text(
        &with("friction = 0.30", "friction = 3"),
        "friction = |3\n",
        &["out of range"],
    );
    refused(
        "capacity = \"330 N·m\"",
        "",
        "|[clutch]",
        &["lacks capacity", "or clamp, friction"],
    );
}

#[test]
fn law_an_as_measured_curve_needs_its_weather() {
    refused(
        "stated_for = \"SAE J1349\"",
        "stated_for = \"as measured\"",
        "|[engine]",
        &["lacks dyno_weather"],
    );
    refused(
        "stated_for = \"SAE J1349\"",
        "stated_for = \"as measured\"\ndyno_weather = { pressure = \"98 kPa\", altitude = \"200 m\" }",
        "dyno_weather = { pressure = \"98 kPa\", |altitude",
        &["pressure and altitude are both given"],
    );
}

#[test]
fn law_a_live_axle_needs_rear_drive_and_its_track_width() {
    refused(
        "axle = \"independent\"",
        "axle = \"live\"\ndifferential = \"open\"",
        "|[car]",
        &["lacks track_width and front_roll_share"],
    );
    let front = edited(&[
        ("drive = \"rear\"", "drive = \"front\""),
        ("axle = \"independent\"", "axle = \"live\""),
    ]);
    refused_text(
        &front,
        "|axle = \"live\" ",
        &["live axle cannot be driven at the front"],
    );
}

#[test]
fn law_every_problem_is_told_in_one_go_in_order() {
    let text = edited(&[
        ("limiter = \"7200 rpm\"", "limiter = 7200"),
        ("grip = 1.30", "grip = \"x\""),
        ("release_time = \"0.28 s\"", "release_tim = \"0.28 s\""),
        ("mass = \"1120 kg\"", "mass = 1120 kg"),
    ]);
    let refusal = read(&text).unwrap_err();
    let lines: Vec<_> = refusal
        .problems()
        .iter()
        .map(|p| refusal.location(p).line.unwrap())
        .collect();
    assert_eq!(lines.len(), 4, "{refusal}");
    assert!(lines.is_sorted());
}
