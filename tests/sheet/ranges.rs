//! Every key has a hard range, which is kept, and a usual one, beyond which it is told.

use crate::{edited, read, refused};
use flyheft::sheet::keys::{Form, Key, TABLES, WhenAbsent};
use flyheft::sheet::{Amount, Problem, Refusal, Warning, starter};
use flyheft::units::System;
use toml::{Table, Value};

/// A value as text, tables in braces.
fn written(value: &Value) -> String {
    match value {
        Value::String(text) => format!("{text:?}"),
        Value::Integer(whole) => whole.to_string(),
        Value::Float(number) => format!("{number:?}"),
        Value::Boolean(yes) => yes.to_string(),
        Value::Datetime(time) => time.to_string(),
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(written).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Table(table) => {
            let keys: Vec<String> = table
                .iter()
                .map(|(key, value)| format!("{key} = {}", written(value)))
                .collect();
            format!("{{ {} }}", keys.join(", "))
        }
    }
}

fn text_of(sheet: &Table) -> String {
    let lines = sheet
        .iter()
        .map(|(key, value)| format!("{key} = {}\n", written(value)));
    lines.collect()
}

/// Sheets in which every table and every form of every value stands at least once. A fast engine
/// beside them, so that what is asked of speeds is not refused for the curve.
fn sheets() -> Vec<Table> {
    const PARTS: &str = "swing = { cords = 3, radius = \"120 mm\", length = \"1.60 m\", mass = \"4.9 kg\", period = \"2.105 s\", platform_mass = \"1.2 kg\", platform_period = \"2.243 s\", radius_within = \"0.5 mm\", length_within = \"2 mm\", mass_within = \"20 g\", swings = 20, reaction = \"0.1 s\", amplitude = 8 }\n";
    const METAL: &str = "material = { density = \"7850 kg/m³\", yield = \"350 MPa\", tensile = \"550 MPa\", poisson = 0.3, modulus = \"207000 MPa\" }\nsections = [ { inner = \"40 mm\", outer = \"60 mm\", thickness = \"10 mm\" }, { inner = \"60 mm\", outer = \"70 mm\", thickness_inner = \"10 mm\", thickness_outer = \"9 mm\" } ]\nholes = [ { count = 1, diameter = \"1 mm\", circle = \"50 mm\", depth = \"10 mm\" } ]\nextras = [ { name = \"pin\", mass = \"1 g\", count = 1, circle = \"50 mm\" }, { name = \"ring\", mass = \"1 g\", radius_of_gyration = \"50 mm\" } ]\nweighed = \"0.20 kg\"\ninertia_scale = 1.0\n";
    const ROWS: &str = "reciprocating = { stroke = \"70 mm\", cylinders = 3, rod_small_end = \"120 g\", piston = \"260 g\", rod_big_end = \"250 g\" }";
    const CUT: &str = "cut = [ { kind = \"face\", inner = \"220 mm\", outer = \"224 mm\", depth = \"1 mm\" }, { kind = \"rim\", diameter = \"267 mm\" }, { kind = \"holes\", count = 6, diameter = \"9 mm\", circle = \"165 mm\" }, { kind = \"taper\", inner = \"121 mm\", outer = \"140 mm\", thickness_inner = \"9 mm\", thickness_outer = \"9 mm\" } ]\nshop = { clutch_face = { inner = \"150 mm\", outer = \"228 mm\" } }\n";
    let fitted = "fitted = true                     # this one is in the car now\n";
    let inertia = "inertia = \"0.036 kg·m²\"\n";
    let gyration = "mass = \"5.9 kg\"\nradius_of_gyration = \"88 mm\" ";
    let swing_check = PARTS.replace("swing =", "swing_check =");
    let third = "swing = { cords = 3, radius = \"120 mm\", length = \"1.60 m\", mass = \"4.9 kg\", period = \"2.105 s\", platform_mass = \"1.2 kg\", platform_period = \"2.243 s\" }";
    let faces =
        "clamp = \"6200 N\"\nfaces = 2\nfriction = 0.30\nouter = \"228 mm\"\ninner = \"150 mm\"";
    let texts = [
        edited(&[
            (
                fitted,
                &format!("fitted = true\ninertia_scale = 1.0\n{CUT}"),
            ),
            (
                "stated_for = \"SAE J1349\"",
                "stated_for = \"as measured\"\ndyno_weather = { temperature = \"20 °C\", pressure = \"98 kPa\" }\nsweep = { rate = \"300 rpm/s\", inertia = \"0.1 kg·m²\" }\ntorque_columns = { speed = \"speed_rpm\", torque = \"torque_nm\" }\nmeasured_at = \"wheels\"\ndyno_efficiency = 0.9\ndyno_ratio = 5\nrollers = { inertia = \"3 kg·m²\", radius = \"160 mm\" }",
            ),
            ("hold = \"foot\"", "hold = \"foot\"\nlift = { to = 0.5 }"),
            (inertia, METAL),
            (
                "axle = \"independent\"",
                "axle = \"live\"\ndifferential = \"open\"\ntrack_width = \"1.3 m\"\nfront_roll_share = 0.7",
            ),
        ]),
        edited(&[
            (fitted, &format!("fitted = true\n{swing_check}")),
            (gyration, PARTS),
            (
                "stated_for = \"SAE J1349\"",
                "stated_for = \"as measured\"\ndyno_weather = { altitude = \"100 m\" }",
            ),
            ("capacity = \"330 N·m\"", faces),
            (
                "release_time = \"0.28 s\"",
                "release = [[\"0 s\", 0.0], [\"0.3 s\", 1.0]]",
            ),
            (
                "hold = \"foot\"",
                "hold = \"foot\"\nthrottle = [[\"0 s\", 0.0], [\"0.3 s\", 1.0]]",
            ),
            ("pressure = \"100.6 kPa\"", "altitude = \"120 m\""),
            (
                "material = \"steel\"                # ",
                "material = { density = \"7850 kg/m³\" } # ",
            ),
        ]),
        edited(&[
            (third, "mass = \"5 kg\"\nradius_of_gyration = \"100 mm\""),
            (gyration, METAL),
            (
                "radius = \"0.302 m\"",
                "size = \"195/60 R15\"\ndeflection = 0.1",
            ),
            (
                "[\"1800 rpm\", \"6800 rpm\"]",
                "[\"6000 rpm\", \"6800 rpm\"]",
            ),
        ]),
        edited(&[
            ("launch_range = [\"1800 rpm\", \"6800 rpm\"]", ""),
            (third, "inertia = \"0.05 kg·m²\""),
            ("radius = \"0.302 m\"", "circumference = \"1.90 m\""),
            (
                "humidity = 0.50\n",
                "humidity = 0.50\nrollout = \"2 m\"\nstage_depth = \"0.1 m\"\n[season]\nmeeting = 8\nlaunches = 60\ncounts = \"steady\"\n[[meeting]]\nname = \"a\"\npressure = \"99 kPa\"\ntemperature = \"31 °C\"\nhumidity = 0.35\ngrip = 0.95\n[[meeting]]\nname = \"b\"\naltitude = \"900 m\"\n",
            ),
        ]),
        edited(&[
            (inertia, &format!("{ROWS}\n")),
            (
                "[clutch]\n",
                &format!(
                    "[[flywheel]]\nname = \"pistons\"\n{ROWS}\n\n[[flywheel]]\nname = \"bought\"\nmass = \"5 kg\"\nradius_of_gyration = \"90 mm\"\n\n[clutch]\n"
                ),
            ),
        ]),
        // What a fit has learnt lies in a file that is not here.
        "[fitted]\ndraws = \"car-fitted.csv\"\n".to_owned(),
    ];
    let parse = |text: &String| {
        text.parse::<Table>()
            .unwrap_or_else(|error| panic!("{error}"))
    };
    texts.iter().map(parse).collect()
}

/// Where a value is put: only where its key stands already, or in every table of its name.
#[derive(Clone, Copy, PartialEq)]
enum Put {
    Over,
    Anywhere,
}

/// Puts a value at a key of every table of a path; whether there was such a place.
fn put(table: &mut Table, path: &[&str], key: &str, value: &Value, how: Put) -> bool {
    let Some((first, rest)) = path.split_first() else {
        let goes = how == Put::Anywhere || table.contains_key(key);
        if goes {
            table.insert(key.to_owned(), value.clone());
        }
        return goes;
    };
    match table.get_mut(*first) {
        Some(Value::Table(inner)) => put(inner, rest, key, value, how),
        Some(Value::Array(items)) => items.iter_mut().fold(false, |done, item| match item {
            Value::Table(inner) => put(inner, rest, key, value, how) || done,
            _ => done,
        }),
        _ => false,
    }
}

/// The sheets that have this key, or else this table, with a value there.
fn sheets_with(path: &str, key: &Key, value: &Value) -> Vec<Table> {
    let path: Vec<&str> = path.split('.').filter(|part| !part.is_empty()).collect();
    let with = |how| {
        let mut all = sheets();
        all.retain_mut(|sheet| put(sheet, &path, key.name, value, how));
        all
    };
    let over = with(Put::Over);
    if over.is_empty() {
        with(Put::Anywhere)
    } else {
        over
    }
}

/// A number as this key takes it.
fn value_of(key: &Key, si: f64) -> Value {
    let quantity = |si: f64, kind: flyheft::units::Kind| {
        let unit = kind.units().next().unwrap();
        Value::String(format!("{} {}", unit.of_si(si), unit.symbol))
    };
    let list = |items: Vec<Value>| Value::Array(items);
    match key.form {
        Form::Quantity(kind) => quantity(si, kind),
        #[expect(clippy::cast_possible_truncation, reason = "a count")]
        Form::Count => Value::Integer(si.round() as i64),
        Form::Numbers => list(vec![Value::Float(si)]),
        Form::Between(kind) => list(vec![quantity(si, kind), quantity(si * 1.001, kind)]),
        Form::Points => list(vec![list(vec![
            quantity(si, flyheft::units::Kind::Time),
            Value::Float(1.0),
        ])]),
        _ => Value::Float(si),
    }
}

/// What comes of the sheets that have this key, with this number there.
fn outcomes(path: &str, key: &Key, si: f64) -> Vec<Result<Vec<Warning>, Refusal>> {
    let sheets = sheets_with(path, key, &value_of(key, si));
    let outcome = |sheet: &Table| {
        let reading = read(&text_of(sheet))?;
        let warnings = reading.warnings.into_iter();
        Ok(warnings.map(|placed| placed.warning).collect())
    };
    sheets.iter().map(outcome).collect()
}

/// All that was said, without the sheets.
fn said(outcomes: &[Result<Vec<Warning>, Refusal>]) -> String {
    let said = outcomes.iter().map(|outcome| match outcome {
        Ok(warnings) => format!("{warnings:?}"),
        Err(refusal) => refusal
            .problems()
            .iter()
            .map(|problem| format!("{} ({})", problem.title(), problem.mark_text()))
            .collect::<Vec<_>>()
            .join("; "),
    });
    said.collect::<Vec<_>>().join("\n")
}

/// The problem of this key's range, if that is one of those a refusal has.
fn range_problem<'o>(outcome: &'o Result<Vec<Warning>, Refusal>, key: &Key) -> Option<&'o Problem> {
    let mut problems = outcome.as_ref().err()?.problems().iter();
    problems.find(|problem| {
        problem.title().starts_with(&format!("{} = ", key.name))
            && problem.title().ends_with("out of range")
            && problem.mark_text().starts_with("must be")
    })
}

/// Whether a value was refused in words that name the range declared for its key.
fn is_refused_by_its_range(outcome: &Result<Vec<Warning>, Refusal>, key: &Key) -> bool {
    let range = key.hard.unwrap().shown(key.form.kind(), System::Metric);
    range_problem(outcome, key)
        .is_some_and(|problem| key.name == "sliding_share" || problem.mark_text().contains(&range))
}

/// Just beyond an end, and just within.
fn about(end: f64, inward: f64) -> (f64, f64) {
    let step = (0.01 * end.abs()).max(1e-6) * inward.signum();
    (end - step, end + step)
}

fn numbers() -> impl Iterator<Item = (&'static str, &'static Key)> {
    let every = TABLES
        .iter()
        .flat_map(|table| table.keys.iter().map(|key| (table.path, *key)));
    every.filter(|(_, key)| key.hard.is_some() && !matches!(key.form, Form::File(_)))
}

#[test]
fn law_every_key_keeps_its_hard_range() {
    let (mut held, mut wrong) = (0, Vec::new());
    for (path, key) in numbers() {
        let hard = key.hard.unwrap();
        let whole = matches!(key.form, Form::Count);
        for (end, inward) in [(hard.low, 1.0), (hard.high, -1.0)] {
            let (beyond, within) = about(end, inward);
            let beyond = if whole { end - inward } else { beyond };
            let within = if whole { end } else { within };
            let refused = outcomes(path, key, beyond);
            if !refused
                .iter()
                .any(|outcome| is_refused_by_its_range(outcome, key))
            {
                wrong.push(format!(
                    "{path}.{}: {beyond} is taken: {}",
                    key.name,
                    said(&refused)
                ));
            }
            let taken = outcomes(path, key, within);
            // The lowest sliding share goes by the slip of best grip.
            if key.name != "sliding_share"
                && taken
                    .iter()
                    .any(|outcome| range_problem(outcome, key).is_some())
            {
                wrong.push(format!(
                    "{path}.{}: {within} is refused: {}",
                    key.name,
                    said(&taken)
                ));
            }
            held += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(held > 200, "{held}");
}

/// Keys whose unusual values are refused for the diameter beside them.
const REFUSED: [&str; 3] = [
    "crank_side.sections.inner",
    "flywheel.sections.inner",
    "flywheel.cut.inner",
];

/// Whether a sheet was used with a warning that this value of a key is outside what is usual for
/// it, and not for the flywheel it is a part of.
fn is_told(outcome: &Result<Vec<Warning>, Refusal>, key: &Key, si: f64) -> bool {
    let number = |amount: &Amount| match amount {
        Amount::Quantity { si, .. } => *si,
        Amount::Number(number) => *number,
        Amount::Word(_) => f64::NAN,
    };
    let usual = key.usual.unwrap();
    // Values are written in decimals.
    let same = |one: f64, other: f64| (one - other).abs() <= 1e-9 * other.abs();
    outcome.as_ref().is_ok_and(|warnings| {
        warnings.iter().any(|warning| {
            matches!(warning, Warning::Unusual { key: named, read, low, .. }
                if named.ends_with(key.name)
                    && same(number(read), si)
                    && same(number(low), usual.low))
        })
    })
}

#[test]
fn law_every_key_tells_what_is_unusual_at_either_end() {
    let (mut told_of, mut wrong) = (0, Vec::new());
    for (path, key) in numbers() {
        let (hard, usual) = (key.hard.unwrap(), key.usual.unwrap());
        let full = format!("{path}.{}", key.name);
        if REFUSED.contains(&full.as_str()) {
            continue;
        }
        for (end, inward) in [(usual.low, 1.0), (usual.high, -1.0)] {
            let (beyond, within) = match key.form {
                Form::Count => (end - inward, end),
                _ => about(end, inward),
            };
            let taken = outcomes(path, key, within);
            if taken.iter().any(|outcome| is_told(outcome, key, within)) {
                wrong.push(format!("{full}: {within} is told of: {}", said(&taken)));
            }
            if !hard.hold(beyond) {
                continue;
            }
            let all = outcomes(path, key, beyond);
            if all.iter().any(|outcome| is_told(outcome, key, beyond)) {
                told_of += 1;
            } else if all.iter().any(Result::is_ok) {
                // Where no sheet holds such a value, it was refused for what it does to others.
                wrong.push(format!("{full}: {beyond}: {}", said(&all)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(told_of > 150, "{told_of}");
}

/// What is said of a key on its page and in hints is a value that the key takes.
#[test]
fn law_every_example_is_taken() {
    for (path, key) in TABLES
        .iter()
        .flat_map(|t| t.keys.iter().map(|key| (t.path, *key)))
    {
        if key.example.is_empty() {
            continue;
        }
        let value: Value = format!("x = {}", key.example)
            .parse::<Table>()
            .unwrap_or_else(|error| panic!("{path}.{}: {error}", key.name))
            .remove("x")
            .unwrap();
        let sheets = sheets_with(path, key, &value);
        assert!(
            !sheets.is_empty(),
            "{path}.{} is in no sheet here",
            key.name
        );
        let mine = |title: &str| {
            title.starts_with(key.name)
                && [
                    "out of range",
                    "takes",
                    "not known",
                    "has no unit",
                    "wanted",
                ]
                .iter()
                .any(|piece| title.contains(piece))
        };
        for sheet in sheets {
            if let Err(refusal) = read(&text_of(&sheet)) {
                let mut problems = refusal.problems().iter();
                assert!(
                    !problems.any(|problem| mine(problem.title())),
                    "{path}.{}: {refusal}",
                    key.name
                );
            }
        }
    }
}

/// Every word that a key is said to take is taken.
#[test]
fn law_every_word_of_a_choice_is_taken() {
    for (path, key) in TABLES
        .iter()
        .flat_map(|t| t.keys.iter().map(|key| (t.path, *key)))
    {
        let (Form::Choice(words) | Form::Metal(words)) = key.form else {
            continue;
        };
        if let WhenAbsent::Word(word, _) = key.when_absent {
            assert!(words.contains(&word), "{}", key.name);
        }
        for word in words {
            for sheet in sheets_with(path, key, &Value::String((*word).to_owned())) {
                if let Err(refusal) = read(&text_of(&sheet)) {
                    assert!(
                        !refusal.to_string().contains("is not known"),
                        "{path}.{} = {word}: {refusal}",
                        key.name
                    );
                }
            }
        }
    }
}

/// Nonsense that was once read without a word.
#[test]
fn regression_nonsense_is_refused() {
    let end = "humidity = 0.50\n";
    for (line, key) in [
        ("rollout = \"20 m\"", "rollout"),
        ("rollout = \"12 m\"", "rollout"),
        ("stall_cost = \"0.2 s\"", "stall_cost"),
        ("tolerance = \"500 s\"", "tolerance"),
        ("grip_sd = 0.9", "grip_sd"),
    ] {
        refused(
            end,
            &format!("{end}{line}\n"),
            &format!("{key} = |{}", line.split_once("= ").unwrap().1),
            &["out of range", "must be from"],
        );
    }
    for (from, to, marked) in [
        (
            "grip = 1.30",
            "relaxation = \"0.01 mm\"\ngrip = 1.30",
            "relaxation = |\"0.01 mm\"",
        ),
        (
            "drive = \"rear\"",
            "pitch_time = \"0.01 ms\"\ndrive = \"rear\"",
            "pitch_time = |\"0.01 ms\"",
        ),
        (
            "final = 3.9",
            "final = 3.9\nefficiency = 0.001",
            "efficiency = |0.001",
        ),
        (
            "front_share = 0.52",
            "front_share = 0.001",
            "front_share = |0.001",
        ),
        (
            "plate_mass =",
            "static_ratio = 1000\nplate_mass =",
            "static_ratio = |1000",
        ),
        (
            "final = 3.9",
            "final = 3.9\nshift_time = \"15 s\"",
            "shift_time = |\"15 s\"",
        ),
        (
            "motoring_torque = \"29 N·m\"",
            "motoring_torque = \"5000 N·m\"",
            "motoring_torque = |\"5000 N·m\"",
        ),
        (
            "stall = \"500 rpm\"",
            "stall = \"0.2 rpm\"",
            "stall = |\"0.2 rpm\"",
        ),
    ] {
        refused(from, to, marked, &["out of range", "must be from"]);
    }
    refused(
        "motoring_torque = \"29 N·m\"",
        "motoring_torque = \"900 N·m\"",
        "motoring_torque = |\"900 N·m\"",
        &[
            "more than the engine ever gives",
            "highest torque is 243 N·m",
        ],
    );
    assert!(starter::SHEET.contains("invented"));
}
