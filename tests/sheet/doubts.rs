//! What a sheet says of its doubts, and cars drawn from it.

use crate::{CUT_FROM, OWN_DRAWING, accepted, edited, only, read};
use approx::assert_relative_eq;
use flyheft::car::Car;
use flyheft::car::doubt::{Doubt, DoubtOrigin};
use flyheft::car::season::Counts;
use flyheft::sheet::{Reading, Refusal, read_on_track, read_text, starter};
use std::path::Path;

fn origin_of(reading: &Reading, key: &str) -> Option<DoubtOrigin> {
    let place = reading.doubted.position(key)?;
    Some(reading.doubted.inputs()[place].origin)
}

fn doubt_of(reading: &Reading, key: &str) -> Doubt {
    let place = reading
        .doubted
        .position(key)
        .unwrap_or_else(|| panic!("{key} is not in doubt"));
    reading.doubted.inputs()[place].doubt
}

/// The car with one value moved by this much, all others as stated.
fn moved(reading: &Reading, key: &str, by: f64) -> Option<Car> {
    let doubted = &reading.doubted;
    let mut values: Vec<f64> = doubted.inputs().iter().map(|input| input.nominal).collect();
    values[doubted.position(key).expect(key)] += by;
    doubted.with_values(&values)
}

fn inertia(car: &Car, wheel: &str) -> f64 {
    car.flywheels.named(wheel).unwrap().part.inertia_kg_m2()
}

#[test]
fn law_the_sheet_read_again_with_its_own_values_is_the_same_car() {
    for sheet in [
        "src/sheet/starter/car.toml",
        "demo-data/bogger.toml",
        "tests/sheet/every_key.toml",
    ] {
        let text = std::fs::read_to_string(sheet).unwrap();
        let beside = match sheet {
            "tests/sheet/every_key.toml" => "src/sheet/starter/car.toml",
            own => own,
        };
        let reading = read_text(Path::new(beside), &text).unwrap_or_else(|r| panic!("{r}"));
        let nominals: Vec<f64> = reading
            .doubted
            .inputs()
            .iter()
            .map(|input| input.nominal)
            .collect();
        assert_eq!(
            reading.doubted.with_values(&nominals),
            Some(reading.car.clone()),
            "{sheet}"
        );
        assert_eq!(reading.doubted.nominal(), &reading.car);
        let keys: Vec<&str> = reading
            .doubts
            .iter()
            .map(|d| d.input.key.as_str())
            .collect();
        let inputs: Vec<&str> = reading
            .doubted
            .inputs()
            .iter()
            .map(|i| i.key.as_str())
            .collect();
        assert_eq!(keys, inputs);
    }
}

/// The default doubts, each as a half-width that one would bet 19 to 1 on.
#[test]
fn law_what_is_stated_without_doubt_has_the_usual_one() {
    let reading = accepted(&[OWN_DRAWING]);
    let half = |key: &str| {
        let place = reading.doubted.position(key).expect(key);
        let input = &reading.doubted.inputs()[place];
        input.doubt.quantile(input.nominal, 0.975) - input.nominal
    };
    for (key, wanted) in [
        ("tyre.grip", 0.08 * 1.30),
        ("tyre.peak_slip", 0.03),
        ("tyre.relaxation", 0.30 * 0.25),
        ("clutch.capacity", 33.0),
        ("clutch.release_time", 0.056),
        ("gearbox.efficiency", 0.03),
        ("car.pitch_time", 0.048),
        ("car.drag_area", 0.066),
        ("car.cg_height", 0.025),
        ("car.front_share", 0.01),
        ("car.mass", 11.2),
        ("engine.torque_scale", 0.03),
        ("driver.throttle_time", 0.06),
        ("flywheel.\"as supplied\".inertia_scale", 0.007),
        ("flywheel.\"machined\".inertia_scale", 0.015),
    ] {
        assert_relative_eq!(half(key), wanted, max_relative = 1e-4);
    }
    let ends = |low, high| Doubt::Between { low, high };
    match doubt_of(&reading, "tyre.sliding_share") {
        Doubt::Between { low, high } => {
            assert_relative_eq!(low, 0.70, max_relative = 1e-12);
            assert_relative_eq!(high, 0.90, max_relative = 1e-12);
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(doubt_of(&reading, "driver.hold_exponent"), ends(0.3, 1.0));
    assert_eq!(origin_of(&reading, "tyre.grip"), Some(DoubtOrigin::Usual));
    assert_eq!(
        origin_of(&reading, "tyre.peak_slip"),
        Some(DoubtOrigin::Defaulted)
    );
    let swung = "flywheel.\"aluminium, from a swing test\".swing";
    assert_eq!(origin_of(&reading, swung), Some(DoubtOrigin::Measured));
    assert!(
        reading
            .doubted
            .position("crank_side.\"crankshaft, big ends, damper\".inertia")
            .is_none()
    );
}

#[test]
fn law_a_doubt_is_read_where_it_is_stated() {
    let reading = accepted(&[
        ("capacity = \"330 N·m\"", "capacity = \"330 ± 20 N·m\""),
        ("grip = 1.30 ", "grip = \"1.20 to 1.40\" "),
        ("front_share = 0.52", "front_share = \"52 % ± 2 %\""),
        ("mass = \"1120 kg\"", "mass = \"1120 kg exactly\""),
        (
            "inertia = \"0.036 kg·m²\"",
            "inertia = \"0.036 kg·m² ± 10 %\"",
        ),
        ("temperature = \"21 °C\"", "temperature = \"21 °C ± 3 °C\""),
        (
            "outer = \"268 mm\", thickness = \"19 mm\"",
            "outer = \"268 mm\", thickness = \"19 ± 0.2 mm\"",
        ),
    ]);
    assert_eq!(doubt_of(&reading, "clutch.capacity"), Doubt::bet_on(20.0));
    assert_eq!(
        doubt_of(&reading, "tyre.grip"),
        Doubt::Between {
            low: 1.2,
            high: 1.4
        }
    );
    assert_relative_eq!(reading.car.tyre.grip.get(), 1.3, max_relative = 1e-12);
    assert_eq!(doubt_of(&reading, "car.front_share"), Doubt::bet_on(0.02));
    assert!(reading.doubted.position("car.mass").is_none());
    assert_eq!(
        origin_of(&reading, "track.temperature"),
        Some(DoubtOrigin::Stated)
    );
    let crank = "crank_side.\"crankshaft, big ends, damper\".inertia";
    assert_eq!(origin_of(&reading, crank), Some(DoubtOrigin::Stated));
    let thickness = "flywheel.\"as supplied\".sections.3.thickness";
    let thicker = moved(&reading, thickness, 0.001).unwrap();
    // Weighed: more metal at the rim moves mass outwards, and the scales hold the whole.
    let wheel = |car: &Car| car.flywheels.named("as supplied").unwrap().part.clone();
    assert!(wheel(&thicker).inertia_kg_m2() > wheel(&reading.car).inertia_kg_m2());
    assert_relative_eq!(
        wheel(&thicker).mass_kg().unwrap(),
        7.25,
        max_relative = 1e-12
    );
}

#[test]
fn law_a_doubt_goes_as_far_as_its_value() {
    let faces = "clamp = \"6200 N ± 400 N\"\nfaces = 2\nfriction = 0.30\nouter = \"228 mm\"\ninner = \"150 mm\"";
    let reading = accepted(&[
        ("capacity = \"330 N·m\" ", &format!("{faces} ")),
        ("temperature = \"21 °C\"", "temperature = \"21 °C ± 3 °C\""),
    ]);
    let capacity = |car: &Car| car.clutch.capacity.capacity_nm();
    let looser = moved(&reading, "clutch.clamp", -620.0).unwrap();
    assert_relative_eq!(
        capacity(&looser),
        0.9 * capacity(&reading.car),
        max_relative = 1e-12
    );
    let rougher = moved(&reading, "clutch.friction", 0.03).unwrap();
    assert_relative_eq!(
        capacity(&rougher),
        1.1 * capacity(&reading.car),
        max_relative = 1e-12
    );
    let hotter = moved(&reading, "track.temperature", 3.0).unwrap();
    let density = |car: &Car| car.track.weather.density_kg_m3();
    assert!(density(&hotter) < density(&reading.car));
    let stronger = moved(&reading, "engine.torque_scale", 0.02).unwrap();
    for (drawn, stated) in stronger
        .engine
        .curve
        .points()
        .iter()
        .zip(reading.car.engine.curve.points())
    {
        assert_relative_eq!(drawn.1, 1.02 * stated.1, max_relative = 1e-12);
    }
    let swung = "aluminium, from a swing test";
    let heavier = moved(&reading, &format!("flywheel.\"{swung}\".swing"), 0.001).unwrap();
    assert_relative_eq!(
        inertia(&heavier, swung),
        inertia(&reading.car, swung) + 0.001,
        max_relative = 1e-12
    );
}

#[test]
fn law_wheels_cut_from_one_drawing_share_its_error() {
    let own = accepted(&[OWN_DRAWING]);
    assert!(
        own.doubted
            .position("flywheel.\"machined\".inertia_scale")
            .is_some()
    );
    let cut = accepted(&[]);
    assert!(
        cut.doubted
            .position("flywheel.\"machined\".inertia_scale")
            .is_none()
    );
    let off = moved(&cut, "flywheel.\"as supplied\".inertia_scale", 0.01).unwrap();
    for wheel in ["as supplied", "machined"] {
        assert_relative_eq!(
            inertia(&off, wheel),
            1.01 * inertia(&cut.car, wheel),
            max_relative = 1e-12
        );
    }
    let wheels = &cut.car.flywheels;
    let reached = |name: &str| -> Vec<String> {
        let from = wheels.named(name).unwrap();
        wheels
            .reachable_from(from)
            .map(|wheel| wheel.name().to_owned())
            .collect()
    };
    assert_eq!(reached("as supplied"), ["as supplied", "machined"]);
    assert_eq!(reached("machined"), ["machined"]);
}

#[test]
fn law_metal_comes_off_and_never_on() {
    let refused = |edits: &[(&str, &str)], said: &[&str]| {
        let refusal = read(&edited(edits)).expect_err("a sheet with a wrong cut_from");
        only(&refusal, said);
    };
    refused(
        &[(CUT_FROM, "cut_from = \"as suplied\"")],
        &[
            "no flywheel of the sheet is called",
            "did you mean as supplied?",
        ],
    );
    let wrong_way = ("fitted = true ", "cut_from = \"machined\"\nfitted = true ");
    refused(
        &[OWN_DRAWING, wrong_way],
        &[
            "has more inertia than the wheel it is cut from",
            "metal comes off",
        ],
    );
    let itself = (CUT_FROM, "cut_from = \"machined\"");
    refused(&[itself], &["cut from itself"]);
}

#[test]
fn law_a_draw_that_the_ranges_refuse_gives_no_car() {
    let reading = accepted(&[]);
    assert!(moved(&reading, "gearbox.efficiency", 0.07).is_none());
    assert!(moved(&reading, "car.mass", -2000.0).is_none());
    assert!(moved(&reading, "tyre.sliding_share", 0.25).is_none());
    assert!(moved(&reading, "tyre.peak_slip", -0.2).is_none());
    assert!(reading.doubted.with_values(&[1.0]).is_none());
}

#[test]
fn law_a_sheet_that_is_exact_has_nothing_in_doubt() {
    let exact = edited(&[
        ("limiter =", "torque_scale = \"1 exactly\"\nlimiter ="),
        (
            "weighed = \"7.25 kg\"",
            "inertia_scale = \"1 exactly\"\nweighed = \"7.25 kg\"",
        ),
        (
            "radius = \"120 mm\", length",
            "radius = \"120 mm exactly\", length",
        ),
        ("\"330 N·m\"", "\"330 N·m exactly\""),
        (
            "release_time = \"0.28 s\"",
            "release_time = \"0.28 s exactly\"",
        ),
        ("final = 3.9", "final = 3.9\nefficiency = \"0.94 exactly\""),
        ("\"1120 kg\"", "\"1120 kg exactly\""),
        (
            "\"0.50 m\"",
            "\"0.50 m exactly\"\npitch_time = \"0.12 s exactly\"",
        ),
        ("front_share = 0.52 ", "front_share = \"52 % exactly\" "),
        ("\"0.66 m²\"", "\"0.66 m² exactly\""),
        (
            "grip = 1.30 ",
            "grip = \"1.30 exactly\"\npeak_slip = \"0.12 exactly\"\nrelaxation = \"0.25 m exactly\" ",
        ),
        ("sliding_share = 0.80 ", "sliding_share = \"0.80 exactly\" "),
        (
            "hold = \"foot\"",
            "hold = \"foot\"\nthrottle_time = \"0.15 s exactly\"\nhold_exponent = \"1 exactly\"",
        ),
        ("launch_sd = \"220 rpm\"", "launch_sd = \"220 rpm exactly\""),
    ]);
    let reading = read(&exact).unwrap_or_else(|refusal| panic!("{refusal}"));
    assert_eq!(reading.doubts, vec![]);
    assert_eq!(reading.doubted.with_values(&[]), Some(reading.car.clone()));
}

#[test]
fn law_a_value_in_a_list_takes_no_doubt() {
    let refusal = read(&edited(&[("\"1800 rpm\"", "\"1800 rpm ± 50 rpm\"")])).expect_err("a list");
    only(
        &refusal,
        &["states a doubt", "a value in a list takes none"],
    );
}

/// A spread from n launches is itself known to one part in √(2(n−1)) (JCGM 100:2008, E.4.3).
#[test]
fn reference_a_practice_log_tells_how_well_the_spread_is_known() {
    let text = std::fs::read_to_string("demo-data/bogger.toml").unwrap();
    let reading = read_text(Path::new("demo-data/bogger.toml"), &text).unwrap();
    let launches = reading.car.driver.practice.as_ref().unwrap();
    let fitted = reading.car.flywheels.fitted().unwrap().name();
    let count = f64::from(u32::try_from(launches.with_flywheel(fitted).count()).unwrap());
    let sd = reading.car.driver.unsteadiness.launch_sd_rad_s.get();
    assert_eq!(
        origin_of(&reading, "driver.launch_sd"),
        Some(DoubtOrigin::Measured)
    );
    let deviation = doubt_of(&reading, "driver.launch_sd").deviation();
    assert_relative_eq!(
        deviation,
        sd / (2.0 * (count - 1.0)).sqrt(),
        max_relative = 1e-12
    );
    let wilder = moved(&reading, "driver.launch_sd", 1.0).unwrap();
    assert_relative_eq!(
        wilder.driver.unsteadiness.launch_sd_rad_s.get(),
        sd + 1.0,
        max_relative = 1e-12
    );
}

/// A starter sheet with its torque file in a folder, one more file beside it, and a line put in.
fn beside(name: &str, content: &str, end: &str) -> Result<Reading, Refusal> {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("car.toml");
    std::fs::write(&sheet, format!("{}\n{end}\n", starter::SHEET)).unwrap();
    std::fs::write(folder.path().join("torque.csv"), starter::TORQUE).unwrap();
    std::fs::write(folder.path().join(name), content).unwrap();
    flyheft::sheet::read(&sheet)
}

#[test]
fn law_a_season_is_what_the_sheet_says_or_the_usual_one() {
    let usual = accepted(&[]).car.season;
    assert_eq!((usual.meeting.get(), usual.launches.get()), (8, 60));
    assert_eq!(usual.counts, Counts::QuickToSixtyFeet);
    let said = accepted(&[(
        "[track]",
        "[season]\nmeeting = 4\nlaunches = 30\ncounts = \"steady\"\n[track]",
    )]);
    let season = said.car.season;
    assert_eq!((season.meeting.get(), season.launches.get()), (4, 30));
    assert_eq!(season.counts, Counts::Steady);
    let wrong = read(&edited(&[(
        "[track]",
        "[season]\ncounts = \"fast\"\n[track]",
    )]));
    only(
        &wrong.unwrap_err(),
        &["counts = \"fast\" is not known", "quick to 1320 ft"],
    );
}

/// Each meeting has its own air, the standard atmosphere where nothing is said, and a grip that
/// nobody knows to better than some per cent.
#[test]
fn law_a_meeting_has_its_own_air_and_its_own_grip() {
    let reading = accepted(&[(
        "[track]",
        "[[meeting]]\nname = \"12 May\"\naltitude = \"900 m\"\n[[meeting]]\nname = \"June\"\ngrip = \"0.9 exactly\"\n[track]",
    )]);
    let names: Vec<&str> = (reading.car.meetings.iter())
        .map(|meeting| meeting.name.as_str())
        .collect();
    assert_eq!(names, ["12 May", "June"]);
    let density = |meeting| {
        let there = reading.car.at_meeting(meeting);
        there.track.weather.density_kg_m3()
    };
    // 1.225 kg/m³ at the sea; at 900 m and 15 °C 90.97 kPa leave 1.100 (ISO 2533).
    assert!(
        (density(Some(1)) - 1.225).abs() < 5e-4,
        "{}",
        density(Some(1))
    );
    assert!(
        (density(Some(0)) - 1.100).abs() < 5e-4,
        "{}",
        density(Some(0))
    );
    let grip = |meeting| reading.car.at_meeting(meeting).track.grip.get();
    assert!((grip(Some(1)) - 0.9).abs() < 1e-12 && (grip(None) - 1.0).abs() < 1e-12);
    let in_doubt = |key: &str| reading.doubted.position(key).is_some();
    assert!(in_doubt("meeting.\"12 May\".grip") && !in_doubt("meeting.\"June\".grip"));
    let twice = read(&edited(&[(
        "[track]",
        "[[meeting]]\nname = \"May\"\n[[meeting]]\nname = \"May\"\n[track]",
    )]));
    only(&twice.unwrap_err(), &["two meetings are called \"May\""]);
}

/// Two sets of weights 1 and 3: the mean is 1.35 and the deviation 0.0866 (arithmetic).
#[test]
fn reference_what_a_fit_has_learnt_is_drawn_together() {
    let file = "weight,tyre.grip,tyre.sliding_share\n1,1.2,0.75\n3,1.4,0.85\n";
    let reading = beside("fit.csv", file, "[fitted]\ndraws = \"fit.csv\"").unwrap();
    let doubted = &reading.doubted;
    assert_eq!(origin_of(&reading, "tyre.grip"), Some(DoubtOrigin::Fitted));
    assert_relative_eq!(
        doubt_of(&reading, "tyre.grip").deviation(),
        0.086_602_54,
        max_relative = 1e-7
    );
    let (grip, share) = (
        doubted.position("tyre.grip").unwrap(),
        doubted.position("tyre.sliding_share").unwrap(),
    );
    let mut shares = vec![0.5; doubted.inputs().len()];
    for (at, wanted) in [(0.1, (1.2, 0.75)), (0.9, (1.4, 0.85))] {
        shares[grip] = at;
        shares[share] = 0.5;
        let car = doubted.at_shares(&shares).unwrap();
        assert_eq!(
            (car.tyre.grip.get(), car.tyre.shape.sliding_share()),
            wanted
        );
    }
    let unknown = "weight,tyre.gripp\n1,1.2\n";
    let refusal = beside("fit.csv", unknown, "[fitted]\ndraws = \"fit.csv\"").unwrap_err();
    only(
        &refusal,
        &[
            "no value that the sheet leaves in doubt",
            "did you mean tyre.grip?",
        ],
    );
    let weightless = "weight,tyre.grip\n0,1.2\n";
    let refusal = beside("fit.csv", weightless, "[fitted]\ndraws = \"fit.csv\"").unwrap_err();
    only(&refusal, &["no draws with any weight"]);
}

#[test]
fn law_another_track_stands_in_place_of_the_sheets_own() {
    let folder = tempfile::tempdir().unwrap();
    let (sheet, track) = (
        folder.path().join("car.toml"),
        folder.path().join("hot.toml"),
    );
    std::fs::write(&sheet, starter::SHEET).unwrap();
    std::fs::write(folder.path().join("torque.csv"), starter::TORQUE).unwrap();
    std::fs::write(
        &track,
        "[track]\ntemperature = \"35 °C ± 2 °C\"\ngrip = 0.9\n",
    )
    .unwrap();
    let there = read_on_track(&sheet, &track).unwrap_or_else(|refusal| panic!("{refusal}"));
    assert_relative_eq!(there.car.track.weather.temperature_k(), 308.15);
    assert_relative_eq!(there.car.track.grip.get(), 0.9);
    // What the other file does not say is the default, not the sheet's.
    assert_relative_eq!(there.car.track.weather.pressure_pa(), 101_325.0);
    let hotter = moved(&there, "track.temperature", 1.0).unwrap();
    assert_relative_eq!(hotter.track.weather.temperature_k(), 309.15);
    assert_relative_eq!(hotter.track.grip.get(), 0.9);
    std::fs::write(&track, "[tracks]\ngrip = 0.9\n").unwrap();
    only(
        &read_on_track(&sheet, &track).unwrap_err(),
        &["this file has no [track]"],
    );
}
