//! Files that are missing, no files, or no text; and the file of practice launches.

use crate::{edited, words};
use approx::assert_relative_eq;
use flyheft::car::constants::RAD_S_PER_RPM;
use flyheft::sheet::{self, Reading, Refusal, Warning, starter};
use std::path::PathBuf;
use tempfile::TempDir;

/// A folder with these files in it and the starter's torque curve.
fn folder(files: &[(&str, &[u8])]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(starter::TORQUE_FILE), starter::TORQUE).unwrap();
    for (name, bytes) in files {
        std::fs::write(folder.path().join(name), bytes).unwrap();
    }
    folder
}

fn sheet_of(bytes: &[u8]) -> Result<Reading, Refusal> {
    let folder = folder(&[("car.toml", bytes)]);
    sheet::read(&folder.path().join("car.toml"))
}

/// The first thing said.
fn said(refusal: &Refusal) -> String {
    words(refusal.problems().first().unwrap())
}

#[test]
fn law_a_sheet_that_is_no_text_file_is_refused() {
    let folder = folder(&[]);
    let refusal = sheet::read(folder.path()).unwrap_err();
    assert!(said(&refusal).contains("is a folder, not a file"));
    let refusal = sheet::read(&folder.path().join("none.toml")).unwrap_err();
    assert!(said(&refusal).contains("there is no file"));
    assert!(refusal.render(false).contains("none.toml"));
    for empty in ["", "  \n\n", "\u{feff}"] {
        assert!(said(&sheet_of(empty.as_bytes()).unwrap_err()).contains("is empty"));
    }
}

#[test]
fn law_bytes_that_are_no_utf8_are_told_with_their_place() {
    let mut bytes = b"title = \"a\"\n# 20 ".to_vec();
    bytes.push(0xB0);
    bytes.extend_from_slice(b"C\n");
    let refusal = sheet_of(&bytes).unwrap_err();
    assert!(said(&refusal).contains("byte 18 (on line 2)"), "{refusal}");
    assert!(said(&refusal).contains("UTF-8"));
    let utf16: Vec<u8> = "title".encode_utf16().flat_map(u16::to_le_bytes).collect();
    let refusal = sheet_of(&[&[0xFF, 0xFE], utf16.as_slice()].concat()).unwrap_err();
    assert!(said(&refusal).contains("UTF-16"));
}

#[test]
fn law_a_sheet_too_large_is_refused() {
    let refusal = sheet_of("# idle\n".repeat(200_000).as_bytes()).unwrap_err();
    assert!(said(&refusal).contains("larger than 1 MB"));
}

#[test]
fn law_a_byte_order_mark_does_not_matter() {
    let text = format!("\u{feff}{}", starter::SHEET);
    assert!(sheet_of(text.as_bytes()).is_ok());
}

/// Everything about a file that a sheet names is told at the line that names it.
#[test]
fn law_a_torque_file_that_cannot_be_read_is_told_where_it_is_named() {
    let text = edited(&[("torque_curve = \"torque.csv\"", "torque_curve = \"curves\"")]);
    let folder = folder(&[("car.toml", text.as_bytes())]);
    let path = folder.path().join("car.toml");
    let named = |refusal: &Refusal| {
        let problem = refusal.problems().first().unwrap();
        assert_eq!(refusal.problems().len(), 1, "{refusal}");
        assert!(words(problem).contains("named here"));
        assert_eq!(refusal.location(problem).line, Some(15), "{refusal}");
        words(problem)
    };
    assert!(named(&sheet::read(&path).unwrap_err()).contains("there is no file"));
    std::fs::create_dir(folder.path().join("curves")).unwrap();
    assert!(named(&sheet::read(&path).unwrap_err()).contains("is a folder"));
    std::fs::remove_dir(folder.path().join("curves")).unwrap();
    std::fs::write(folder.path().join("curves"), "").unwrap();
    assert!(named(&sheet::read(&path).unwrap_err()).contains("is empty"));
    std::fs::write(folder.path().join("curves"), vec![b'1'; 10_000_000]).unwrap();
    assert!(named(&sheet::read(&path).unwrap_err()).contains("larger than 2 MB"));
    std::fs::write(folder.path().join("curves"), [b's', 0x80]).unwrap();
    assert!(named(&sheet::read(&path).unwrap_err()).contains("byte 2 (on line 1)"));
}

/// The starter's sheet with a practice file in place of its spread.
fn with_practice(practice: &str) -> Result<Reading, Refusal> {
    let text = edited(&[("launch_sd = \"220 rpm\"", "practice = \"p.csv\"")]);
    let folder = folder(&[
        ("car.toml", text.as_bytes()),
        ("p.csv", practice.as_bytes()),
    ]);
    sheet::read(&folder.path().join("car.toml"))
}

/// 2, 4, 4, 4, 5, 5, 7, 9 about a thousand: the sample standard deviation is √(32/7) times the
/// step of 100 rpm (arithmetic).
#[test]
fn reference_practice_launches_give_the_spread() {
    let reading = with_practice(
        "# notes\nspeed_rpm,time,flywheel\n4200,14:05,as supplied\n4400,14:12:30,as supplied\n\
         4400,51900,\n4400,14:30,as supplied\n4500,14:41,as supplied\n4500,14:50,\n\
         4700,15:01,as supplied\n4900,15:07,as supplied\n9000,15:15,machined\n",
    )
    .unwrap();
    assert_eq!(reading.warnings, vec![]);
    let sd = reading.car.driver.unsteadiness.launch_sd_rad_s.get();
    assert_relative_eq!(
        sd,
        100.0 * (32.0_f64 / 7.0).sqrt() * RAD_S_PER_RPM,
        max_relative = 1e-12
    );
    let practice = reading.car.driver.practice.unwrap();
    assert_eq!(practice.launches.len(), 9);
    let orders: Vec<f64> = practice.launches.iter().filter_map(|l| l.order).collect();
    assert_relative_eq!(orders[1], 14.0 * 3600.0 + 12.0 * 60.0 + 30.0);
    assert!(orders.is_sorted());
    assert_eq!(practice.launches[8].flywheel.as_deref(), Some("machined"));
}

#[test]
fn law_few_practice_launches_are_warned_of() {
    let warnings = with_practice("speed_rpm\n4200\n4400\n4300\n")
        .unwrap()
        .warnings;
    assert!(matches!(
        warnings[0].warning,
        Warning::FewLaunches { counted: 3 }
    ));
}

#[test]
fn law_bad_practice_files_are_refused() {
    for (practice, pieces) in [
        (
            "rpm\n4200\n4300\n",
            &["no column \"rpm\"", "the column speed_rpm is missing"][..],
        ),
        ("speed_rpm\n4200\nfast\n", &["\"fast\" is not a number"]),
        ("speed_rpm\n4200\n-3\n", &["speed_rpm = -3 is out of range"]),
        (
            "speed_rpm,time\n4200,noon\n4300,25:00\n",
            &["\"noon\" is no time", "\"25:00\" is no time"],
        ),
        (
            "speed_rpm,time,order\n4200,1,1\n4300,2,2\n",
            &["order and time are both given"],
        ),
        (
            "speed_rpm,flywheel\n4200,machine\n4300,\n4300,\n",
            &[
                "no flywheel of the sheet is called \"machine\"",
                "did you mean machined?",
            ],
        ),
        ("speed_rpm\n4200\n", &["has 1 launch with \"as supplied\""]),
        ("speed_rpm\n", &["there are no launches"]),
    ] {
        let shown = with_practice(practice).unwrap_err().render(false);
        for piece in pieces {
            assert!(shown.contains(piece), "{piece:?} not in\n{shown}");
        }
    }
}

#[test]
fn law_a_practice_file_reads_on_its_own() {
    let folder = folder(&[("p.csv", b"speed_rpm,order\n4200,1\n4300,2\n")]);
    let path: PathBuf = folder.path().join("p.csv");
    assert_eq!(sheet::practice::read(&path).unwrap().launches.len(), 2);
    std::fs::write(&path, "speed_rpm\n4,2\n").unwrap();
    let refusal = sheet::practice::read(&path).unwrap_err();
    assert!(refusal.to_string().contains("decimal mark must be a point"));
    assert!(sheet::practice::read(folder.path()).is_err());
}
