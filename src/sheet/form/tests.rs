use super::*;
use crate::sheet::starter::Starter;

fn path(text: &str) -> KeyPath {
    text.parse().unwrap()
}

fn bogger() -> String {
    std::fs::read_to_string("demo-data/bogger.toml").unwrap()
}

/// Lines of a text with their ends.
fn lines(text: &str) -> Vec<&str> {
    text.split_inclusive('\n').collect()
}

#[test]
fn law_a_value_set_changes_its_own_bytes_alone() {
    let before = bogger();
    for (key, paper, from, to) in [
        (
            "tyre.grip",
            "1,3 ± 0.1",
            "grip = 1.21\n",
            "grip = \"1,3 ± 0.1\"\n",
        ),
        (
            "clutch.capacity",
            "240 N·m ± 5 %",
            "\"240 N·m\" ",
            "\"240 N·m ± 5 %\" ",
        ),
        (
            "flywheel[1].sections[2].outer",
            "10 1/4 in",
            "\"250 mm\", thickness = \"16.5 mm\"",
            "\"10 1/4 in\", thickness = \"16.5 mm\"",
        ),
        (
            "driver.launch_range",
            "2000 to 7000 rpm",
            "[\"1500 rpm\", \"7100 rpm\"]",
            "[\"2000 rpm\", \"7000 rpm\"]",
        ),
        (
            "gearbox.flat_shift",
            "yes",
            "flat_shift = false",
            "flat_shift = true",
        ),
        (
            "flywheel[0].material",
            "steel",
            "{ name = \"forged steel\", density = \"7850 kg/m³\", yield = \"430 MPa\", tensile = \"680 MPa\", failure = \"ductile\", poisson = 0.29, modulus = \"206000 MPa\" }\nweighed",
            "\"steel\"\nweighed",
        ),
    ] {
        for text in [
            before.clone(),
            before.replace('\n', "\r\n"),
            before.trim_end().to_owned(),
        ] {
            let crlf = |piece: &str| {
                if text.contains('\r') {
                    piece.replace('\n', "\r\n")
                } else {
                    piece.to_owned()
                }
            };
            let mut sheet = SheetText::new(&text);
            assert!(sheet.set(&path(key), paper).unwrap(), "{key}");
            let (from, to) = (crlf(from), crlf(to));
            assert_eq!(text.matches(&from).count(), 1, "{key}");
            assert_eq!(sheet.text(), text.replace(&from, &to), "{key}");
            assert_eq!(sheet.set(&path(key), paper), Ok(false), "{key}");
            assert!(sheet.undo());
            assert_eq!(sheet.text(), text);
            assert!(sheet.redo() && sheet.text() != text && !sheet.redo());
        }
    }
}

#[test]
fn law_a_new_key_is_a_new_line_in_its_section() {
    for (key, paper, line, after) in [
        (
            "tyre.circumference",
            "1.8 m",
            "circumference = \"1.8 m\"",
            "radius = \"0.280 m\"",
        ),
        (
            "clutch.release",
            "0 s 0, 0.4 s 1",
            "release = [[\"0 s\", 0], [\"0.4 s\", 1]]",
            "release_time = \"0.25 s\"           # first bite to fully home, off a video of the pedal",
        ),
        (
            "driver.lift.to",
            "0.3",
            "lift = { to = 0.3 }",
            "throttle_time = \"0.15 s\"",
        ),
        (
            "crank_side[0].mass",
            "11 kg",
            "mass = \"11 kg\"",
            "inertia = \"0.0195 kg·m²\"",
        ),
    ] {
        for text in [
            bogger(),
            bogger().replace('\n', "\r\n"),
            bogger().trim_end().to_owned(),
        ] {
            let mut sheet = SheetText::new(&text);
            sheet.set(&path(key), paper).unwrap();
            let mark = if text.contains('\r') { "\r\n" } else { "\n" };
            let both = format!("{after}{mark}{line}{mark}");
            assert_eq!(sheet.text().matches(&both).count(), 1, "{key}");
            assert_eq!(lines(sheet.text()).len(), lines(&text).len() + 1);
            assert_eq!(sheet.value(&path(key)).as_deref(), Some(paper));
            sheet.set(&path(key), " ").unwrap();
            assert!(sheet.value(&path(key)).is_none());
        }
    }
}

/// A newcomer types a sheet from nothing: each starter, value by value, reads as the starter.
#[test]
fn law_a_sheet_typed_from_nothing_reads_as_the_one_it_was_copied_from() {
    let folder = tempfile::tempdir().unwrap();
    for starter in Starter::ALL {
        std::fs::write(folder.path().join("torque.csv"), starter.torque()).unwrap();
        let place = folder.path().join("car.toml");
        let whole = SheetText::new(starter.sheet());
        let mut typed = SheetText::new("");
        for path in values(starter.sheet()) {
            let paper = whole.value(&path).unwrap();
            typed.set(&path, &paper).unwrap();
            assert_eq!(typed.value(&path), Some(paper), "{path}");
        }
        let car = |text: &str| crate::sheet::read_text(&place, text).unwrap().car;
        assert_eq!(car(typed.text()), car(starter.sheet()));
        while typed.undo() {}
        assert_eq!(typed.text(), "");
    }
}

/// Paths of all single values of a sheet, in some order.
fn values(text: &str) -> Vec<KeyPath> {
    let table: toml::Table = text.parse().unwrap();
    let mut paths = Vec::new();
    for (name, value) in &table {
        walk(&KeyPath::top().key(name), value, &mut paths);
    }
    paths
}

fn walk(path: &KeyPath, value: &toml::Value, paths: &mut Vec<KeyPath>) {
    match value {
        toml::Value::Table(table) => {
            for (name, value) in table {
                walk(&path.key(name), value, paths);
            }
        }
        toml::Value::Array(list) if list.iter().all(toml::Value::is_table) => {
            for (index, value) in list.iter().enumerate() {
                walk(&path.entry(index), value, paths);
            }
        }
        _ => paths.push(path.clone()),
    }
}

#[test]
fn law_what_cannot_be_changed_is_refused_and_changes_nothing() {
    let text = bogger();
    let mut sheet = SheetText::new(&text);
    let nothing = |key: &str| Err(EditError::NothingThere { path: path(key) });
    assert_eq!(
        sheet.set(&path("tyre.gripp"), "1"),
        Err(EditError::UnknownKey {
            path: path("tyre.gripp")
        })
    );
    assert_eq!(
        sheet.set(&path("flywheel[9].weighed"), "7 kg"),
        nothing("flywheel[9].weighed").map_err(|_: EditError| EditError::NothingThere {
            path: path("flywheel[9]")
        })
    );
    assert_eq!(sheet.remove(&path("tyre.size")), nothing("tyre.size"));
    assert!(sheet.move_entry(&path("flywheel[0]"), 4).is_err());
    assert!(sheet.copy_entry(&path("tyre")).is_err());
    assert!(sheet.add_entry(&path("tyre")).is_err());
    assert_eq!(sheet.text(), text);
    assert_eq!(sheet.steps(), 0);
    let broken = text.replace("[clutch]", "[clutch");
    let line = broken.lines().position(|line| line == "[clutch").unwrap() + 1;
    let mut sheet = SheetText::new(&broken);
    assert_eq!(
        sheet.set(&path("tyre.grip"), "1"),
        Err(EditError::Broken { line })
    );
    assert!(sheet.set_text(&text));
    assert!(sheet.set(&path("tyre.grip"), "1").unwrap());
    while sheet.undo() {}
    assert_eq!(sheet.text(), broken);
}

#[test]
fn law_a_mark_before_the_text_is_kept() {
    let mut sheet = SheetText::from_bytes("\u{feff}[tyre]\ngrip = 1\n".as_bytes()).unwrap();
    sheet.set(&path("tyre.grip"), "2").unwrap();
    assert_eq!(sheet.bytes(), "\u{feff}[tyre]\ngrip = 2\n".as_bytes());
    assert_eq!(
        SheetText::from_bytes(b"a\xff").unwrap_err(),
        NoText { byte: 2 }
    );
}
