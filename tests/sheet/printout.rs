//! A dynamometer's printout that was pasted. All figures are invented.

use crate::edited;
use approx::assert_relative_eq;
use flyheft::sheet::printout::{Picked, Printout, look};
use flyheft::sheet::{self, starter};

const NOTHING: Picked<'_> = Picked {
    speed: None,
    torque: None,
    torque_unit: None,
};

fn read(pasted: &str, picked: Picked<'_>) -> Printout {
    look("the printout", pasted, picked)
}

/// A turn is 2π rad and a minute 60 s (by definition).
fn holds(read: &Printout, torques_nm: [f64; 4]) {
    let curve = read.curve.as_ref().unwrap_or_else(|r| panic!("{r}"));
    assert_eq!(curve.points().len(), 4);
    let points = curve.points().iter().zip([2000.0, 4000.0, 5000.0, 6000.0]);
    for ((point, rpm), torque) in points.zip(torques_nm) {
        let speed = rpm * std::f64::consts::TAU / 60.0;
        assert_relative_eq!(point.0, speed, max_relative = 1e-12);
        assert_relative_eq!(point.1, torque, max_relative = 1e-12);
    }
}

#[test]
fn law_a_printout_is_read_however_its_cells_are_parted() {
    for pasted in [
        "RPM,Nm\n2000,141.5\n4000,163\n5000,160\n6000,150.5\n",
        "RPM;Nm\n2000;141,5\n4000;163,0\n5000;160,0\n6000;150,5\n",
        "RPM\tNm\r\n2000\t141,5\r\n4000\t163,0\r\n5000\t160,0\r\n6000\t150,5",
        "# a pull\n RPM Nm\n2000 141.5\n4000 163\n\n 5000 160\n6000 150,5\n",
        "Engine speed [1/min]   Torque [Nm]   Lambda\n2000   141.5    0.88\n4000   163      0.87\n5000   160      0.87\n6000   150.5    0.86\n",
        "speed;torque\n[1/min];[Nm]\n2000;141.5\n4000;163\n5000;160\n6000;150.5\n",
    ] {
        let read = read(pasted, NOTHING);
        holds(&read, [141.5, 163.0, 160.0, 150.5]);
        if !pasted.contains("# a pull") && !pasted.contains("Lambda") {
            assert_eq!(read.file, pasted, "as it was printed");
        }
    }
}

/// 100 lbf·ft is 135.58179483314 N·m (1 lbf·ft = 1.3558179483314 N·m, NIST SP 811).
#[test]
fn reference_a_unit_that_was_left_out_is_picked_with_its_column() {
    for (pasted, heads) in [
        (
            "# pull 3\nSpeed,\"Torque\",Power\n2000,100,38\n4000,100,76\n5000,100,95\n6000,100,114\n",
            "# pull 3\nSpeed (rpm),\"Torque (lbf·ft)\",Power\n2000,100,38\n",
        ),
        (
            "Speed  Torque  Power\n2000  100  38\n4000  100  76\n5000  100  95\n6000  100  114\n",
            "Speed (rpm)\tTorque (lbf·ft)\tPower\n2000\t100\t38\n",
        ),
        (
            "Speed;Torque (corr);Air (°C)\n2000;100;20\n4000;100;20\n5000;100;20\n6000;100;20\n",
            "Speed (rpm);Torque (corr) (lbf·ft);Air (°C)\n2000;100;20\n",
        ),
    ] {
        assert!(read(pasted, NOTHING).curve.is_err());
        let picked = Picked {
            speed: Some("speed"),
            torque: Some(if pasted.contains("corr") {
                "Torque (corr)"
            } else {
                "Torque"
            }),
            torque_unit: Some("lbf·ft"),
        };
        let read = read(pasted, picked);
        holds(&read, [135.581_794_833_14; 4]);
        assert!(read.file.starts_with(heads), "{}", read.file);
        assert!(read.torque.unwrap().ends_with(" (lbf·ft)"));
        assert_eq!(read.columns[2].has_unit, pasted.contains("°C"));
        // The columns keep the names that were printed.
        assert!(!read.columns[1].name.contains("lbf"));
    }
}

#[test]
fn law_the_file_written_beside_the_sheet_holds_the_very_curve() {
    let folder = tempfile::tempdir().unwrap();
    let picked = Picked {
        torque: Some("Torque"),
        torque_unit: Some("N·m"),
        ..NOTHING
    };
    for (pasted, picked) in [
        (
            "RPM;Tq (Nm);P (kW);Lambda\n2000;141,5;29,6357;0,9\n4000;163,0;68,2773;0,9\n5000;160,0;83,7758;0,9\n6000;150,5;94,5619;0,9\n",
            NOTHING,
        ),
        (
            "RPM Torque_lbft\n2000 104.4\n4000 120.2\n5000 118.0\n6000 111.0\n",
            NOTHING,
        ),
        (
            "RPM Torque\n2000 104.4\n4000 120.2\n5000 118.0\n6000 111.0\n",
            picked,
        ),
    ] {
        let read = read(pasted, picked);
        let columns = match &read.torque {
            Some(name) => format!("\ntorque_columns = {{ torque = \"{name}\" }}"),
            None => String::new(),
        };
        let text = edited(&[
            (
                "limiter = \"7200 rpm\"",
                &format!("limiter = \"6000 rpm\"{columns}"),
            ),
            ("shift_at = \"6900 rpm\"", "shift_at = \"5800 rpm\""),
            ("\"1800 rpm\", \"6800 rpm\"", "\"2100 rpm\", \"5900 rpm\""),
        ]);
        std::fs::write(folder.path().join(starter::TORQUE_FILE), &read.file).unwrap();
        let place = folder.path().join("car.toml");
        let car = sheet::read_text(&place, &text)
            .unwrap_or_else(|r| panic!("{r}"))
            .car;
        assert_eq!(car.engine.curve, read.curve.unwrap(), "{pasted}");
    }
}

#[test]
fn law_what_is_wrong_with_a_printout_is_told_with_its_line() {
    for (pasted, said, line) in [
        ("", "there are only comments", None),
        (
            "2000,141\n4000,163\n6000,150\n",
            "the columns have no names",
            Some(1),
        ),
        (
            "RPM Nm\n2000 141\n4000 lots\n5000 160\n6000 150\n",
            "is not a number",
            Some(3),
        ),
        (
            "RPM,Nm\n2000,141\n1000,163\n5000,160\n6000,150\n",
            "speed does not rise",
            Some(3),
        ),
        (
            "Time (s),Nm\n1,141\n2,163\n",
            "no column gives the engine's speed",
            Some(1),
        ),
        (
            "RPM,bar\n2000,1\n4000,1\n",
            "no column gives torque or power",
            Some(1),
        ),
        ("RPM a pull\n2000 141\n", "parted by blanks", Some(1)),
        ("RPM,Nm\n2000,14\u{1b}1\n", "control character", Some(2)),
    ] {
        let refusal = read(pasted, NOTHING).curve.unwrap_err();
        let told =
            |problem| refusal.location(problem).line == line && problem.title().contains(said);
        assert!(refusal.problems().iter().any(told), "{pasted}: {refusal}");
    }
}
