//! The text a user reads, whole: the line of the sheet, a mark under the place, what would be
//! right.

use crate::{edited, read};
use flyheft::sheet::{self, starter};

fn rendered(edits: &[(&str, &str)]) -> String {
    read(&edited(edits)).unwrap_err().render(false)
}

#[test]
fn law_a_bare_number_is_shown_with_its_line() {
    assert_eq!(
        rendered(&[("limiter = \"7200 rpm\"", "limiter = 7200")]),
        "\
error: limiter = 7200 has no unit
  --> src/sheet/starter/car.toml:19:11
   |
19 | limiter = 7200
   |           ^^^^ a bare number
   |
   = help: write it in quotes with its unit; a speed of rotation takes rpm or rad/s

1 problem in src/sheet/starter/car.toml; nothing was computed.
"
    );
}

#[test]
fn law_a_name_given_twice_is_shown_at_both_places() {
    assert_eq!(
        rendered(&[("name = \"machined\"", "name = \"as supplied\"")]),
        "\
error: two flywheels are called \"as supplied\"
  --> src/sheet/starter/car.toml:55:8
   |
37 | name = \"as supplied\"
   |        ------------- first here
...
55 | name = \"as supplied\"
   |        ^^^^^^^^^^^^^ this name again
   |
   = help: results go by the name: give each flywheel its own

1 problem in src/sheet/starter/car.toml; nothing was computed.
"
    );
}

#[test]
fn law_several_problems_follow_one_another() {
    assert_eq!(
        rendered(&[
            ("cg_height = \"0.50 m\"", "cg_heigth = \"0.50 m\""),
            ("drag_area = \"0.66 m²\"", "drag_area = \"0.66 kg\""),
            (
                "release_time = \"0.28 s\"           # from first bite to fully home\n",
                ""
            ),
        ]),
        "\
error: [clutch] lacks release_time
  --> src/sheet/starter/car.toml:77:1
   |
77 | [clutch]
   | ^^^^^^^^
   |
   = help: for example release_time = \"0.25 s\" (this or release, a table of points)

error: [car] has no key \"cg_heigth\"
  --> src/sheet/starter/car.toml:94:1
   |
94 | cg_heigth = \"0.50 m\"
   | ^^^^^^^^^ not known here
   |
   = help: did you mean cg_height?

error: drag_area: \"0.66 kg\" is a mass, and an area is wanted here
  --> src/sheet/starter/car.toml:96:13
   |
96 | drag_area = \"0.66 kg\"             # drag coefficient times frontal area
   |             ^^^^^^^^^
   |
   = help: an area takes a number and its unit: m², cm² or ft²

3 problems in src/sheet/starter/car.toml; nothing was computed.
"
    );
}

#[test]
fn law_a_torque_file_is_shown_like_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let torque = starter::TORQUE.replace("2500,206", "2500;206");
    std::fs::write(folder.path().join(starter::TORQUE_FILE), torque).unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, starter::SHEET).unwrap();
    let shown = sheet::read(&path).unwrap_err().render(false);
    let folder = format!("{}{}", folder.path().display(), std::path::MAIN_SEPARATOR);
    assert_eq!(
        shown.replace(&folder, ""),
        "\
error: this row has 1 cell where the header names 2
 --> torque.csv:7:1
  |
7 | 2500;206
  | ^^^^^^^^
  |
  = help: one cell for each column, parted by commas

1 problem in torque.csv; nothing was computed.
"
    );
}

/// Colour adds colour and nothing else.
#[test]
fn law_colour_changes_no_word() {
    let refusal = read(&edited(&[("final = 3.9", "final = 0")])).unwrap_err();
    let coloured = refusal.render(true);
    assert!(coloured.contains('\u{1b}'));
    let mut plain = String::new();
    let mut rest = coloured.as_str();
    while let Some((before, after)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = after.split_once('m').map_or("", |(_, after)| after);
    }
    plain.push_str(rest);
    assert_eq!(plain, refusal.render(false));
    assert!(!refusal.render(false).contains('\u{1b}'));
}

/// A file wrong from the ground up does not fill the screen.
#[test]
fn law_very_many_problems_are_cut_short() {
    let folder = tempfile::tempdir().unwrap();
    let rows = "x,y\n".repeat(500);
    std::fs::write(
        folder.path().join(starter::TORQUE_FILE),
        format!("speed_rpm,torque_nm\n{rows}"),
    )
    .unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, starter::SHEET).unwrap();
    let shown = sheet::read(&path).unwrap_err().render(false);
    assert!(shown.contains("… and 960 more in "), "{shown}");
    assert!(shown.contains("1000 problems in "));
}
