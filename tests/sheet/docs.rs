//! The page on the build sheet and the reader know the same keys.

use crate::{edited, read};
use flyheft::sheet::keys::page_table;
use flyheft::shown::json::sheet_schema;
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../docs/sheet.md");
const SCHEMA: &str = include_str!("../../docs/flyheft-sheet.schema.json");

/// Tables behind a heading: `## `[engine]`` is `engine`, `### `sweep`` below it `engine.sweep`.
fn tables_of(heading: &str, section: &[String]) -> Vec<String> {
    let names = heading.split('`').skip(1).step_by(2);
    let names = names.map(|name| name.trim_matches(['[', ']']).to_owned());
    if heading.starts_with("### ") {
        let inner: Vec<String> = names.collect();
        let nested = section
            .iter()
            .flat_map(|table| inner.iter().map(move |name| format!("{table}.{name}")));
        nested.collect()
    } else if heading == "## Sheet" {
        vec![String::new()]
    } else {
        names.collect()
    }
}

fn documented() -> BTreeSet<String> {
    let (mut section, mut tables) = (Vec::new(), Vec::new());
    let mut keys = BTreeSet::new();
    for line in PAGE.lines() {
        if line.starts_with("## ") {
            section = tables_of(line, &[]);
            tables.clone_from(&section);
        } else if line.starts_with("### ") {
            tables = tables_of(line, &section);
        } else if let Some(row) = line.strip_prefix("| `") {
            let key = row.split('`').next().unwrap();
            keys.extend(tables.iter().map(|table| match table.as_str() {
                "" => key.to_owned(),
                table => format!("{table}.{key}"),
            }));
        }
    }
    keys
}

/// A sheet in which every table there is stands at least once.
fn everything() -> String {
    let metal = "material = { density = \"7850 kg/m³\" }\n\
        sections = [ { inner = \"40 mm\", outer = \"60 mm\", thickness = \"10 mm\" } ]\n\
        holes = [ { count = 1, diameter = \"1 mm\", circle = \"50 mm\", depth = \"10 mm\" } ]\n\
        extras = [ { name = \"pin\", mass = \"1 g\", count = 1, circle = \"50 mm\" } ]\n";
    let swing = "swing = { cords = 3, radius = \"120 mm\", length = \"1.60 m\", mass = \"4.9 kg\", period = \"2 s\" }\n";
    edited(&[
        (
            "limiter =",
            "dyno_weather = { pressure = \"98 kPa\", temperature = \"20 °C\", humidity = 0 }\n\
             torque_columns = { speed = \"speed_rpm\", torque = \"torque_nm\" }\n\
             measured_at = \"wheels\"\ndyno_efficiency = 0.9\ndyno_ratio = 5\n\
             rollers = { inertia = \"30 kg·m²\", radius = \"160 mm\" }\n\
             sweep = { rate = \"300 rpm/s\", inertia = \"0.1 kg·m²\" }\nlimiter =",
        ),
        ("inertia = \"0.036 kg·m²\"\n", metal),
        (
            "[[crank_side]]\nname = \"clutch cover",
            "[[crank_side]]\nname = \"rods\"\nreciprocating = { stroke = \"70 mm\", cylinders = 3, rod_small_end = \"120 g\", piston = \"260 g\", rod_big_end = \"250 g\" }\n\n[[crank_side]]\nname = \"clutch cover",
        ),
        (
            "[clutch]\n",
            "[[flywheel]]\nname = \"pistons\"\nreciprocating = { stroke = \"70 mm\", cylinders = 3, rod_small_end = \"120 g\", piston = \"260 g\", rod_big_end = \"250 g\" }\n\n[clutch]\n",
        ),
        ("[track]\n", "[[meeting]]\nname = \"May\"\n\n[track]\n"),
        ("radius = \"0.302 m\"", "size = \"195/60 R15\""),
        ("mass = \"5.9 kg\"\nradius_of_gyration = \"88 mm\" ", swing),
        ("hold = \"foot\"", "hold = \"foot\"\nlift = { to = 0.4 }"),
        (
            "material = \"steel\"                # ",
            "material = { density = \"7850 kg/m³\" } # ",
        ),
        (
            "fitted = true                     # this one is in the car now\n",
            "fitted = true\n\
             cut = [ { kind = \"face\", inner = \"220 mm\", outer = \"224 mm\", depth = \"1 mm\" },\n\
             { kind = \"rim\", diameter = \"267 mm\" },\n\
             { kind = \"holes\", count = 6, diameter = \"9 mm\", circle = \"165 mm\" },\n\
             { kind = \"taper\", inner = \"121 mm\", outer = \"140 mm\", thickness_inner = \"9 mm\", thickness_outer = \"9 mm\" } ]\n\
             swing_check = { cords = 3, radius = \"150 mm\", length = \"1.50 m\", mass = \"7.25 kg\", period = \"2 s\" }\n\
             shop = { clutch_face = { inner = \"150 mm\", outer = \"228 mm\" } }\n",
        ),
    ])
}

#[test]
fn law_every_key_is_documented_and_every_documented_key_is_known() {
    let known = read(&everything())
        .unwrap_or_else(|refusal| panic!("{refusal}"))
        .keys_asked;
    let documented = documented();
    let undocumented: Vec<_> = known.difference(&documented).collect();
    let unknown: Vec<_> = documented.difference(&known).collect();
    assert!(undocumented.is_empty(), "not on the page: {undocumented:?}");
    assert!(
        unknown.is_empty(),
        "on the page, but not known: {unknown:?}"
    );
    assert!(known.len() > 100, "{}", known.len());
}

/// The page with each table of keys as the keys are declared.
fn page_as_declared() -> String {
    let (mut section, mut tables) = (Vec::new(), Vec::new());
    let mut page = String::new();
    let mut in_table = false;
    for line in PAGE.lines() {
        if line.starts_with("## ") {
            section = tables_of(line, &[]);
            tables.clone_from(&section);
        } else if line.starts_with("### ") {
            tables = tables_of(line, &section);
        }
        let of_keys = line.starts_with("| key |");
        if let (true, Some(path)) = (of_keys, tables.first()) {
            page.push_str(&page_table(path));
        }
        in_table = of_keys || in_table && line.starts_with('|');
        if !in_table {
            page.push_str(line);
            page.push('\n');
        }
    }
    page
}

/// Compares a file of `docs/` with what it must be; told to by `FLYHEFT_WRITE_DOCS=1`, writes it
/// instead.
fn is_written(name: &str, there: &str, wanted: &str) {
    if std::env::var_os("FLYHEFT_WRITE_DOCS").is_some() {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("docs")
            .join(name);
        std::fs::write(path, wanted).unwrap();
    } else {
        assert!(
            there == wanted,
            "docs/{name} is not as the keys are declared; FLYHEFT_WRITE_DOCS=1 cargo test --test sheet docs writes it anew"
        );
    }
}

#[test]
fn law_the_tables_of_the_page_are_the_keys_as_declared() {
    is_written("sheet.md", PAGE, &page_as_declared());
}

#[test]
fn law_the_schema_is_made_of_the_keys_as_declared() {
    is_written("flyheft-sheet.schema.json", SCHEMA, &sheet_schema());
}

/// The table of units on the page is the table in the program.
#[test]
fn law_the_units_on_the_page_are_the_units_read() {
    use flyheft::units::Kind;
    for (row, kind) in [
        ("mass", Kind::Mass),
        ("length, distance, height", Kind::Length),
        ("speed", Kind::Speed),
        ("speed of rotation", Kind::AngularSpeed),
        ("sweep rate", Kind::SweepRate),
        ("torque", Kind::Torque),
        ("inertia", Kind::Inertia),
        ("force", Kind::Force),
        ("pressure, stress", Kind::Pressure),
        ("temperature", Kind::Temperature),
        ("time", Kind::Time),
        ("area", Kind::Area),
        ("density", Kind::Density),
        ("specific heat", Kind::SpecificHeat),
    ] {
        let symbols: Vec<&str> = kind.units().map(|unit| unit.symbol).collect();
        let line = format!("| {row} | {} |", symbols.join(", "));
        assert!(PAGE.contains(&line), "{line}");
    }
}
