//! Everything that the reader says of what is wrong, side by side, to be read as a whole.

use crate::{edited, read};
use flyheft::sheet::{self, Refusal};
use std::fmt::Write as _;
use std::path::Path;

const SAID: &str = include_str!("said.txt");

/// What the starter sheet says, and what stands there instead.
pub(crate) const SHEET_FAULTS: &[(&str, &str)] = &[
    // Grammar.
    ("mass = \"1120 kg\"", "mass = 1120 kg"),
    ("final = 3.9", "final = 3,9"),
    ("final = 3.9", "final = .9"),
    ("final = 3.9", "final ="),
    ("final = 3.9", "final 3.9"),
    ("final = 3.9", "final = 3.9\nfinal = 4.1"),
    ("final = 3.9", "final = 3.9\nflat_shift = True"),
    ("drive = \"rear\"", "drive = rear"),
    ("drive = \"rear\"", "drive = “rear”"),
    ("drive = \"rear\"", "drive = \"rear"),
    ("[gearbox]", "[gearbox"),
    ("[driver]", "[clutch]\n[driver]"),
    ("1.13, 0.92]", "1.13, 0.92"),
    // Keys.
    ("stall = \"500 rpm\"", "stal = \"500 rpm\""),
    ("stall = \"500 rpm\"", "shift_time = \"0.2 s\""),
    ("mass = \"1120 kg\"", "weight = \"1120 kg\""),
    ("capacity = \"330 N·m\"", "diameter = \"228 mm\""),
    ("[engine]", "wheelbase = 3\n[engine]"),
    ("[gearbox]", "[transmission]"),
    ("[tyre]", "[tire]"),
    (
        "count = 6, diameter = \"24 mm\"",
        "count = 6, dia = \"24 mm\"",
    ),
    ("limiter = \"7200 rpm\"\n", ""),
    ("wheelbase = \"2.46 m\"\ncg_height = \"0.50 m\"\n", ""),
    ("capacity = \"330 N·m\"", "# nothing"),
    ("release_time = \"0.28 s\"", "# nothing"),
    ("[clutch]", "[[clutch]]"),
    ("[tyre]", "tyre = 3\n[other]"),
    // Units and numbers.
    ("mass = \"1120 kg\"", "mass = 1120"),
    ("\"1120 kg\"", "\"1120\""),
    ("\"1120 kg\"", "\"1120 kgs\""),
    ("\"1120 kg\"", "\"1120 rpm\""),
    ("\"1120 kg\"", "\"heavy\""),
    ("\"1120 kg\"", "\"1,120 kg\""),
    ("\"1120 kg\"", "\"nan kg\""),
    ("\"1120 kg\"", "\"\""),
    ("\"1120 kg\"", "\"1120 kg or so\""),
    ("\"1120 kg\"", "true"),
    (
        "inner = \"40 mm\", outer = \"120 mm\", thickness = \"13 mm\" },\n  { inner = \"120 mm\", outer = \"210 mm\", thickness = \"11 mm\"",
        "inner = \"1 1 mm\", outer = \"120 mm\", thickness = \"13 mm\" },\n  { inner = \"120 mm\", outer = \"210 mm\", thickness = \"11 mm\"",
    ),
    ("grip = 1.30", "grip = nan"),
    ("grip = 1.30", "grip = \"sticky\""),
    ("grip = 1.30", "grip = true"),
    (
        "count = 6, diameter = \"24 mm\"",
        "count = 6.5, diameter = \"24 mm\"",
    ),
    (
        "count = 6, diameter = \"24 mm\"",
        "count = 0, diameter = \"24 mm\"",
    ),
    (
        "count = 6, diameter = \"24 mm\"",
        "count = 4000, diameter = \"24 mm\"",
    ),
    // Ranges.
    ("\"1120 kg\"", "\"1.12 kg\""),
    ("front_share = 0.52", "front_share = 52"),
    ("\"21 °C\"", "\"21 K\""),
    ("sliding_share = 0.80", "sliding_share = 0.1"),
    (
        "humidity = 0.50\n",
        "humidity = 0.50\nstage_depth = \"0.30 m\"\n",
    ),
    (
        "motoring_torque = \"29 N·m\"",
        "motoring_torque = \"290 N·m\"",
    ),
    ("stall = \"500 rpm\"", "stall = \"1200 rpm\""),
    ("limiter = \"7200 rpm\"", "limiter = \"8200 rpm\""),
    (
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"400 rpm\", \"6800 rpm\"]",
    ),
    (
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"1800 rpm\", \"7800 rpm\"]",
    ),
    (
        "[\"1800 rpm\", \"6800 rpm\"]",
        "[\"6800 rpm\", \"1800 rpm\"]",
    ),
    ("[\"1800 rpm\", \"6800 rpm\"]", "[\"1800 rpm\"]"),
    ("[\"1800 rpm\", \"6800 rpm\"]", "\"1800 rpm\""),
    ("[3.32, 2.05, 1.46, 1.13, 0.92]", "[3.32, 3.50]"),
    ("[3.32, 2.05, 1.46, 1.13, 0.92]", "[]"),
    ("plate_mass = \"4.6 kg\"", "fade = 0.1"),
    // Words.
    ("drive = \"rear\"", "drive = \"reer\""),
    ("drive = \"rear\"", "drive = \"all\""),
    ("drive = \"rear\"", "drive = 4"),
    ("fitted = true", "fitted = \"yes\""),
    ("name = \"machined\"", "name = \"\""),
    ("name = \"machined\"", "name = 5"),
    ("name = \"machined\"", "name = \"turned\\u202e off\""),
    ("name = \"machined\"", "name = \"turned\\u0007 off\""),
    ("name = \"machined\"", "name = \"as supplied\""),
    (
        "fitted = true                     # this one is in the car now\n",
        "",
    ),
    (
        "material = \"steel\"                # ",
        "material = \"steal\" # ",
    ),
    (
        "material = \"steel\"                # ",
        "material = 7850 # ",
    ),
    ("stated_for = \"SAE J1349\"", "stated_for = \"as measured\""),
    // What goes with what.
    (
        "inertia = \"0.036 kg·m²\"",
        "inertia = \"0.036 kg·m²\"\nmass = \"5 kg\"",
    ),
    ("inertia = \"0.036 kg·m²\"\n", ""),
    (
        "release_time = \"0.28 s\"",
        "release_time = \"0.28 s\"\nrelease = [[\"0 s\", 0.0], [\"0.3 s\", 1.0]]",
    ),
    (
        "release_time = \"0.28 s\"",
        "release = [[\"0.3 s\", 0.0], [\"0.3 s\", 1.0]]",
    ),
    (
        "release_time = \"0.28 s\"",
        "release = [[\"0 s\", 0.0], \"0.3 s\"]",
    ),
    ("release_time = \"0.28 s\"", "release = []"),
    (
        "capacity = \"330 N·m\"",
        "capacity = \"330 N·m\"\nclamp = \"6200 N\"",
    ),
    (
        "hold = \"foot\"",
        "hold = \"foot\"\nthrottle_time = \"0.1 s\"\nthrottle = [[\"0 s\", 0.0], [\"0.3 s\", 1.0]]",
    ),
    (
        "launch_sd = \"220 rpm\"",
        "launch_sd = \"220 rpm\"\npractice = \"practice.csv\"",
    ),
    ("launch_sd = \"220 rpm\"", "practice = \"nowhere.csv\""),
    (
        "torque_curve = \"torque.csv\"",
        "torque_curve = \"nowhere.csv\"",
    ),
    (
        "pressure = \"100.6 kPa\"",
        "pressure = \"100.6 kPa\"\naltitude = \"120 m\"",
    ),
    (
        "drive = \"rear\"",
        "drive = \"front\"\naxle = \"live\"\n[car.x]",
    ),
    (
        "axle = \"independent\"",
        "axle = \"live\"\ndifferential = \"open\"",
    ),
    (
        "outer = \"210 mm\", thickness = \"11 mm\"",
        "outer = \"110 mm\", thickness = \"11 mm\"",
    ),
    (
        "outer = \"210 mm\", thickness = \"11 mm\"",
        "outer = \"210 mm\"",
    ),
    (
        "thickness_outer = \"8 mm\"",
        "thickness_outer = \"8 mm\", thickness = \"8 mm\"",
    ),
    (
        "{ name = \"cover bolts\", count = 6, mass = \"16 g\", circle = \"230 mm\" },           # ",
        "{ name = \"cover bolts\", count = 6, mass = \"16 g\", radius_of_gyration = \"115 mm\" }, # ",
    ),
    ("period = \"2.105 s\"", "period = \"0.5 s\""),
    ("cords = 3", "cords = 1"),
    (", platform_period = \"2.243 s\"", ""),
    (
        "name = \"aluminium, from a swing test\"",
        "name = \"aluminium, from a swing test\"\ncut = [ { kind = \"rim\", diameter = \"250 mm\" } ]",
    ),
    (
        "name = \"aluminium, from a swing test\"",
        "name = \"aluminium, from a swing test\"\ncut_from = \"as suplied\"",
    ),
    (
        "name = \"machined\"",
        "name = \"machined\"\ncut = [ { kind = \"rim\", depth = \"2 mm\" } ]",
    ),
];

/// Torque files.
pub(crate) const TORQUE_FAULTS: &[&str] = &[
    "",
    "# nothing but a comment\n",
    "1000,148\n2000,190\n3000,219\n7300,181\n",
    "revs,torque_nm\n1000,148\n2000,190\n3000,219\n7300,181\n",
    "speed_rpm,torque\n1000,148\n2000,190\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm,torque_lbft\n1000,148,109\n2000,190,140\n3000,219,162\n7300,181,133\n",
    "speed_rpm,torque_nm\n1000,148\n2000\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,148,2\n2000,190,4\n3000,219,1\n7300,181,0\n",
    "speed_rpm,torque_nm\n1000,148\n2000,lots\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,148\n2000,\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,148\n2000,-190\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,148\n3000,190\n2000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,148\n2000,190\n7300,181\n",
    "speed_rpm,torque_nm\n1000,0\n2000,0\n3000,0\n7300,0\n",
    "speed_rpm,torque_nm\n1000,148000\n2000,190000\n3000,219000\n7300,181000\n",
    "speed_rpm,torque_nm\n0,148\n2000,190\n3000,219\n7300,181\n",
    "speed_rpm,torque_nm\n1000,50\n2000,250\n3000,50\n4000,250\n5000,50\n6000,250\n7000,50\n7300,250\n",
];

const PRACTICE_FAULTS: &[&str] = &[
    "5200\n5100\n5300\n",
    "rpm\n5200\n5100\n",
    "speed_rpm\n",
    "speed_rpm,order,time\n5200,1,14:05\n5100,2,14:10\n",
    "speed_rpm,time\n5200,five past two\n5100,14:10\n",
    "speed_rpm,flywheel\n5200,\"turned\u{202e} off\"\n5100,\n",
];

fn said(refusal: &Refusal) -> String {
    let mut out = String::new();
    for problem in refusal.problems() {
        let _ = writeln!(out, "    {}", problem.title());
        if !problem.mark_text().is_empty() {
            let _ = writeln!(out, "      ^ {}", problem.mark_text());
        }
        for help in problem.help_texts() {
            let _ = writeln!(out, "      = {help}");
        }
    }
    out
}

fn everything_said() -> String {
    let mut all = String::new();
    let mut told = |what: &str, refusal: Result<(), Refusal>| {
        let shown = what
            .escape_debug()
            .to_string()
            .replace("\\n", " ⏎ ")
            .replace("\\\"", "\"");
        let _ = writeln!(all, "{shown}");
        match refusal {
            Ok(()) => all.push_str("    (nothing)\n"),
            Err(refusal) => all.push_str(&said(&refusal)),
        }
        all.push('\n');
    };
    for (from, to) in SHEET_FAULTS {
        let what = if to.is_empty() {
            format!("without {from}")
        } else {
            (*to).to_owned()
        };
        told(&what, read(&edited(&[(from, to)])).map(drop));
    }
    told("an empty sheet", read("title = \"nothing\"\n").map(drop));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, edited(&[])).unwrap();
    for fault in TORQUE_FAULTS {
        std::fs::write(folder.path().join("torque.csv"), fault).unwrap();
        told(fault, sheet::read(&path).map(drop));
    }
    for fault in PRACTICE_FAULTS {
        let path = folder.path().join("practice.csv");
        std::fs::write(&path, fault).unwrap();
        told(fault, sheet::practice::read(Path::new(&path)).map(drop));
    }
    all.replace(&folder.path().display().to_string(), "…")
}

/// Told to by `FLYHEFT_WRITE_DOCS=1`, writes the list instead. Read it as a whole then.
#[test]
fn regression_everything_said_of_faults_reads_plain() {
    let all = everything_said();
    if std::env::var_os("FLYHEFT_WRITE_DOCS").is_some() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sheet/said.txt");
        std::fs::write(path, all).unwrap();
        return;
    }
    assert!(
        all == SAID,
        "what is said of faults has changed; FLYHEFT_WRITE_DOCS=1 cargo test --test sheet said writes the list anew, to be read"
    );
}

/// Every fault in the list is told of.
#[test]
fn law_no_fault_of_the_list_goes_unsaid() {
    assert!(
        !everything_said().contains("(nothing)"),
        "{}",
        everything_said()
    );
}
