//! The torque curve's file: what reads, and what is refused at which line and column.

use crate::{edited, only};
use approx::assert_relative_eq;
use flyheft::car::engine::TorqueCurve;
use flyheft::sheet::{self, Reading, Refusal, starter};

/// The starter sheet with another torque file, its limiter at 4,000 rpm.
fn with_torque(torque: &str) -> Result<Reading, Refusal> {
    let folder = tempfile::tempdir().unwrap();
    let text = edited(&[
        ("limiter = \"7200 rpm\"", "limiter = \"4000 rpm\""),
        ("shift_at = \"6900 rpm\"", "shift_at = \"3800 rpm\""),
        ("\"1800 rpm\", \"6800 rpm\"", "\"1800 rpm\", \"3900 rpm\""),
    ]);
    std::fs::write(folder.path().join(starter::TORQUE_FILE), torque).unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, text).unwrap();
    sheet::read(&path)
}

fn curve(torque: &str) -> TorqueCurve {
    with_torque(torque)
        .unwrap_or_else(|refusal| panic!("{refusal}"))
        .car
        .engine
        .curve
}

const PLAIN: &str = "speed_rpm,torque_nm\n1000,100\n2000,150\n3000,160\n4000,140\n";

#[test]
fn law_dress_does_not_matter() {
    let plain = curve(PLAIN);
    for dressed in [
        format!("\u{feff}{PLAIN}"),
        PLAIN.replace('\n', "\r\n"),
        PLAIN.replace('\n', "\n\n"),
        format!(
            "# a comment, with a comma\n\n{}",
            PLAIN.replace("2000,150", "  2000 , 150  # noted\n # more")
        ),
        PLAIN.replace("speed_rpm,torque_nm", "Speed_RPM, Torque_Nm"),
        PLAIN.replace("2000,150", "\"2000\",\"150\""),
        PLAIN.replace("2000,150", "2000,150,"),
        PLAIN.trim_end().to_owned(),
    ] {
        assert_eq!(curve(&dressed), plain, "{dressed}");
    }
}

#[test]
fn law_columns_may_stand_in_any_order_with_none_beside_them() {
    let turned = "torque_nm,speed_rpm\n100,1000\n150,2000\n160,3000\n140,4000\n";
    assert_eq!(curve(turned), curve(PLAIN));
}

/// Torque is power over angular speed at each point: 30 kW at 3,000 rpm is 95.49296586 N·m, 40 hp
/// there 94.9454565 N·m (550 ft·lbf/s), and 100 lbf·ft is 135.5817948 N·m (plain mechanics).
#[test]
fn reference_other_columns_become_torque() {
    let at_3000 = |columns: &str, value: &str| {
        let torque = format!("speed_rpm,{columns}\n1000,10\n2000,20\n3000,{value}\n4000,35\n");
        curve(&torque).points()[2].1
    };
    assert_relative_eq!(
        at_3000("power_kw", "30"),
        95.492_965_86,
        max_relative = 1e-9
    );
    assert_relative_eq!(at_3000("power_hp", "40"), 94.945_456_5, max_relative = 1e-9);
    assert_relative_eq!(
        at_3000("torque_lbft", "100"),
        135.581_794_833_140_04,
        max_relative = 1e-12
    );
}

/// Asserts that a torque file is refused for one thing, at a line and column.
fn refused(torque: &str, place: (usize, usize), said: &[&str]) {
    let refusal = with_torque(torque).expect_err("must be refused");
    assert_eq!(only(&refusal, said), place, "{refusal}");
    assert!(
        refusal
            .location(&refusal.problems()[0])
            .file
            .ends_with("torque.csv")
    );
}

#[test]
fn law_what_is_no_table_of_numbers_is_refused_at_its_place() {
    refused(
        &PLAIN.replace("150", "abc"),
        (3, 6),
        &["torque_nm: \"abc\" is not a number"],
    );
    refused(
        &PLAIN.replace("2000", "2000 rpm"),
        (3, 1),
        &["speed_rpm: \"2000 rpm\" is not a number", "column's name"],
    );
    refused(
        &PLAIN.replace("150", "NaN"),
        (3, 6),
        &["not a finite number"],
    );
    refused(
        &PLAIN.replace("150", "1e999"),
        (3, 6),
        &["not a finite number"],
    );
    refused(
        &PLAIN.replace("150", ""),
        (3, 6),
        &["no number in this cell"],
    );
    refused(
        &PLAIN.replace("150", "-150"),
        (3, 6),
        &["out of range", "zero or above"],
    );
    refused(
        &PLAIN.replace("2000", "0"),
        (3, 1),
        &["out of range", "above 0"],
    );
    refused(
        &PLAIN.replace("2000", "2000000"),
        (3, 1),
        &["out of range", "at most 50000"],
    );
    refused(
        &PLAIN.replace("3000", "2000"),
        (4, 1),
        &["speed does not rise: 2000 after 2000"],
    );
    refused(
        &PLAIN.replace("2000,150", "2000"),
        (3, 1),
        &["has 1 cell where the header names 2"],
    );
    refused(
        &PLAIN.replace("2000,150", "2000,150,7"),
        (3, 10),
        &["has 3 cells"],
    );
    refused(
        &PLAIN.replace("# ", "").replace("4000,140\n", ""),
        (0, 0),
        &["has 3 points", "at least 4"],
    );
    refused(
        &PLAIN.replace(",1", ",0 #"),
        (0, 0),
        &["nowhere above zero"],
    );
    refused("# nothing else\n", (0, 0), &["only comments"]);
}

/// A row's place is right behind comments, blank lines and a byte-order mark.
#[test]
fn law_lines_are_counted_as_an_editor_counts_them() {
    let torque = format!(
        "\u{feff}# one\n\n# three\n{}",
        PLAIN.replace("150", "\n# six\n  x,y")
    )
    .replace("2000,\n", "");
    let refusal = with_torque(&torque).unwrap_err();
    let places: Vec<_> = refusal
        .problems()
        .iter()
        .map(|p| refusal.location(p))
        .map(|l| (l.line.unwrap(), l.column.unwrap()))
        .collect();
    assert_eq!(places, [(7, 3), (7, 5)], "{refusal}");
}

#[test]
fn law_columns_are_named_and_known() {
    refused(
        &PLAIN.replace("torque_nm", "torque"),
        (1, 1),
        &[
            "no column gives torque or power",
            "\"torque\"",
            "in brackets",
        ],
    );
    refused(
        &PLAIN.replace("speed_rpm,torque_nm\n", ""),
        (1, 1),
        &["the columns have no names"],
    );
    refused(
        "torque_nm\n1\n2\n3\n4\n",
        (1, 1),
        &["no column gives the engine's speed"],
    );
    refused(
        "speed_rpm\n1\n2\n3\n4\n",
        (1, 1),
        &["no column gives torque or power"],
    );
    refused(
        "speed_rpm,torque_nm,torque_lbft\n1,2,3\n",
        (1, 21),
        &[
            "two columns can be read as torque: torque_nm and torque_lbft",
            "torque_columns = { speed = \"speed_rpm\", torque = \"torque_nm\" }",
        ],
    );
    refused(
        "speed_rpm,torque_nm,torque_nm\n1,2,3\n",
        (1, 21),
        &["the column torque_nm is there twice"],
    );
}

#[test]
fn law_blanks_and_commas_for_everything_are_refused_once() {
    refused(&PLAIN.replace(',', " "), (1, 1), &["parted by blanks"]);
    let commas = "speed_rpm,torque_nm\n1000,0,100,5\n2000,0,150,2\n";
    refused(
        commas,
        (2, 8),
        &[
            "4 cells where the header names 2",
            "decimal mark must be a point",
        ],
    );
}

#[test]
fn law_a_file_with_too_many_rows_is_refused() {
    let rows = "1,1\n".repeat(100_001);
    refused(
        &format!("speed_rpm,torque_nm\n{rows}"),
        (0, 0),
        &["more than 100000 rows"],
    );
}

#[test]
fn law_a_curve_must_span_from_stall_to_limiter() {
    let short = with_torque(&PLAIN.replace("4000,140", "3750,140")).unwrap_err();
    only(
        &short,
        &["ends 250 rpm under the limiter", "last speed is 3750 rpm"],
    );
    assert!(
        short
            .location(&short.problems()[0])
            .file
            .ends_with("car.toml")
    );
    let low = with_torque(&PLAIN.replace("1000,100", "400,100")).unwrap_err();
    only(
        &low,
        &["stall = \"500 rpm\" is not below", "must be below 400 rpm"],
    );
}

/// Problems of the sheet and of its torque file are told together.
#[test]
fn law_sheet_and_torque_file_are_told_in_one_go() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(
        folder.path().join(starter::TORQUE_FILE),
        "speed_rpm,torque_nm\n1,x\n",
    )
    .unwrap();
    let path = folder.path().join("car.toml");
    std::fs::write(&path, edited(&[("final = 3.9", "final = 0")])).unwrap();
    let refusal = sheet::read(&path).unwrap_err();
    let files: Vec<bool> = refusal
        .problems()
        .iter()
        .map(|p| refusal.location(p).file.ends_with("car.toml"))
        .collect();
    assert_eq!(files, [true, false], "{refusal}");
    assert!(refusal.render(false).contains("2 problems in "));
}

/// A curve that goes up and down from row to row is no engine's; two humps are.
#[test]
fn regression_a_saw_tooth_is_refused() {
    let saw = |low: u32, high: u32| {
        let rows = (0..9).map(|row| {
            let torque = if row % 2 == 0 { low } else { high };
            format!("{},{torque}\n", 1000 + 500 * row)
        });
        format!("speed_rpm,torque_nm\n{}", rows.collect::<String>())
    };
    refused(
        &saw(50, 250),
        (0, 0),
        &["up and down 7 times", "rows of two runs"],
    );
    let warnings = with_torque(&saw(220, 250)).unwrap().warnings;
    assert_eq!(warnings.len(), 1, "{warnings:?}");
    assert!(warnings[0].to_string().contains("few engines do"));
    let humps = "speed_rpm,torque_nm\n1000,150\n1800,230\n2600,190\n3400,240\n4000,200\n";
    assert_eq!(with_torque(humps).unwrap().warnings, []);
}

#[test]
fn law_a_file_reads_as_the_dynamometer_printed_it() {
    let plain = curve(PLAIN);
    for printed in [
        PLAIN.replace(',', ";"),
        PLAIN.replace(',', "\t"),
        "Time (s);RPM;Tq (Nm);Lambda\n0,5;1000;100,0;0,9\n1,0;2000;150,0;0,9\n1,5;3000;160,0;0,9\n2,0;4000;140,0;0,9\n".to_owned(),
        "n\tTorque\tSpeed\n[1/min]\t[Nm]\t[km/h]\n1000\t100\t20\n2000\t150\t40\n3000\t160\t60\n4000\t140\t80\n".to_owned(),
        "ENGINE SPEED (RPM),TORQUE NM\n1000,100\n2000,150\n3000,160\n4000,140\n".to_owned(),
    ] {
        assert_eq!(curve(&printed), plain, "{printed}");
    }
}

#[test]
fn law_a_comma_that_may_mark_thousands_is_asked_about() {
    let thousands = "speed_rpm;torque_nm\n1,000;100\n2,000;150\n3,000;160\n4,000;140\n";
    refused(
        thousands,
        (2, 1),
        &["\"1,000\" can be read in two ways", "decimals or thousands"],
    );
}

/// Power is torque times angular speed: 160 N·m at 3,000 rpm is 50.265 kW (plain mechanics).
#[test]
fn reference_torque_is_held_against_power() {
    let with = |power: &str| {
        let rows = format!(
            "speed_rpm,torque_nm,power_kw\n1000,100,10.472\n2000,150,31.416\n3000,160,{power}\n4000,140,58.643\n"
        );
        with_torque(&rows).unwrap_or_else(|refusal| panic!("{refusal}"))
    };
    let told = |reading: &Reading| {
        let texts = reading.warnings.iter().map(ToString::to_string);
        texts
            .filter(|text| text.contains("torque and power"))
            .collect::<Vec<_>>()
    };
    let (agree, disagree) = (with("50.27"), with("52.00"));
    assert_eq!(told(&agree), Vec::<String>::new());
    assert_eq!(agree.car.engine.curve, curve(PLAIN));
    assert_eq!(disagree.car.engine.curve, curve(PLAIN));
    // 160 N·m over the 165.52 N·m that 52 kW make.
    let said = told(&disagree);
    assert!(
        said.len() == 1 && said[0].contains("-3.3 % at 3000 rpm"),
        "{said:?}"
    );
}

/// The starter sheet with keys put in under [engine].
fn engine(keys: &str) -> Reading {
    let with = format!("{keys}\nlimiter = \"7200 rpm\"");
    crate::accepted(&[("limiter = \"7200 rpm\"", &with)])
}

/// Wheel figures over the efficiency; rollers of 30 kg·m² and 160 mm under a tyre of 302 mm at
/// 5 turns of the engine for one of the wheel are 30 · (0.302/0.160)²/25 kg·m² at the engine,
/// and 300 rpm/s is 31.4159 rad/s² (plain mechanics).
#[test]
fn reference_a_curve_measured_at_the_wheels() {
    let torque = |reading: &Reading| reading.car.engine.curve.points()[3].1;
    let crank = torque(&engine(""));
    let wheels = engine("measured_at = \"wheels\"\ndyno_efficiency = 0.80");
    assert_relative_eq!(torque(&wheels), crank / 0.80, max_relative = 1e-12);
    let swept = engine(
        "measured_at = \"wheels\"\ndyno_efficiency = 0.80\nrollers = { inertia = \"30 kg·m²\", radius = \"160 mm\" }\n\
         dyno_ratio = 5\nsweep = { rate = \"300 rpm/s\", inertia = \"0.2 kg·m²\" }",
    );
    let rate = 31.415_926_535_9;
    let rollers = 30.0 * (0.302_f64 / 0.160).powi(2) / 25.0;
    let expected = (crank + rollers * rate) / 0.80 + 0.2 * rate;
    assert_relative_eq!(torque(&swept), expected, max_relative = 1e-9);
    let warned = |reading: &Reading| {
        reading
            .warnings
            .iter()
            .any(|w| w.to_string().contains("measured at the wheels"))
    };
    assert!(warned(&engine("measured_at = \"wheels\"")) && !warned(&wheels));
}
