//! A sheet edited value by value, and shown as a form.

use crate::random_cases::same_every_time;
use crate::said::{SHEET_FAULTS, TORQUE_FAULTS};
use crate::{accepted, edited, read};
use flyheft::sheet::form::{
    EditError, Entry, KeyPath, SheetForm, SheetText, State, Step, Weight, form, to_paper,
};
use flyheft::sheet::keys::{Form, TABLES};
use flyheft::sheet::starter::{self, Starter};
use flyheft::units::System;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;

const PLACE: &str = "src/sheet/starter/car.toml";

fn path(text: &str) -> KeyPath {
    text.parse().unwrap()
}

fn form_of(text: &str) -> SheetForm {
    let read = read(text);
    form(Path::new(PLACE), text, read.as_ref(), System::Metric)
}

/// Sheets of every sort, each with either line end, with and without an end of its last line.
fn sheets() -> Vec<String> {
    let files = ["bogger", "slipper", "spinner"]
        .map(|name| std::fs::read_to_string(format!("demo-data/{name}.toml")).unwrap());
    let mut sheets: Vec<String> = files.into();
    sheets.extend(Starter::ALL.map(|starter| starter.sheet().to_owned()));
    sheets.push(include_str!("every_key.toml").to_owned());
    sheets.push(DOTTED.to_owned());
    sheets.push(String::new());
    let variants = |sheet: String| {
        let unended = sheet.trim_end().to_owned();
        [sheet.replace('\n', "\r\n"), unended, sheet]
    };
    sheets.into_iter().flat_map(variants).collect()
}

/// A sheet written in ways that none of ours is.
const DOTTED: &str = "# odd\ntitle='odd' # one\ntyre.grip = 1.2 # soft\ntyre.\"radius\" = \"0.3 m\"\nclutch = { capacity = \"300 N·m\",release_time=\"0.2 s\" }\n\n[car] # here\n\n# a wheel\n[[flywheel]]\nname = \"a\"\nmaterial.name = \"x\"\n  [[flywheel.sections]]\n  inner = \"30 mm\" # bore\n\n  [[flywheel.sections]]\n  outer = \"\"\"200 mm\"\"\"\n[engine.sweep]\nrate = \"300 rpm/s\"\n[[flywheel]]\nholes = [{count=6,circle=\"64 mm\"},{count=2}, ]\n# the end";

/// Paths of all values and tables of a sheet.
fn paths(text: &str) -> Vec<KeyPath> {
    fn walk(path: &KeyPath, value: &toml::Value, paths: &mut Vec<KeyPath>) {
        paths.push(path.clone());
        match value {
            toml::Value::Table(table) => {
                for (name, value) in table {
                    walk(&path.key(name), value, paths);
                }
            }
            toml::Value::Array(list) if list.iter().any(toml::Value::is_table) => {
                for (index, value) in list.iter().enumerate() {
                    walk(&path.entry(index), value, paths);
                }
            }
            _ => {}
        }
    }
    let table: toml::Table = text.parse().unwrap();
    let mut all = Vec::new();
    for (name, value) in &table {
        walk(&KeyPath::top().key(name), value, &mut all);
    }
    all
}

/// The value at a path taken out of a sheet's tables; tables left empty go with it.
fn without(text: &str, path: &KeyPath) -> toml::Value {
    fn take(value: &mut toml::Value, steps: &[Step]) {
        let Some((first, rest)) = steps.split_first() else {
            return;
        };
        match (first, value) {
            (Step::Key(name), toml::Value::Table(table)) => {
                if let Some(inner) = table.get_mut(name) {
                    take(inner, rest);
                    let empty = match inner {
                        toml::Value::Table(table) => table.is_empty(),
                        toml::Value::Array(list) => list.is_empty(),
                        _ => false,
                    };
                    if rest.is_empty() || empty {
                        table.remove(name);
                    }
                }
            }
            (Step::Index(index), toml::Value::Array(list)) => {
                if let Some(inner) = list.get_mut(*index) {
                    take(inner, rest);
                    let empty = inner.as_table().is_some_and(toml::Table::is_empty);
                    if rest.is_empty() || empty {
                        list.remove(*index);
                    }
                }
            }
            _ => {}
        }
    }
    let mut value = toml::Value::Table(text.parse().unwrap());
    take(&mut value, path.steps());
    value
}

/// A field by its place, what it is declared to hold, and its label.
type Shown = (KeyPath, Form, String);

/// Every field of a form, those of entries that are not there yet too.
fn fields_with_blanks(text: &str) -> Vec<Shown> {
    fn add(entry: &Entry, all: &mut Vec<Shown>) {
        for field in &entry.fields {
            all.push((field.path.clone(), field.key.form, field.label.clone()));
            for inner in field.inner.iter().chain(field.blank.as_deref()) {
                add(inner, all);
            }
        }
    }
    let mut all = Vec::new();
    for section in &form_of(text).sections {
        for entry in section.entries.iter().chain(&section.blank) {
            add(entry, &mut all);
        }
    }
    all
}

#[test]
fn law_every_declared_key_has_one_field_with_a_label() {
    let fields = fields_with_blanks("");
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for (path, _, label) in &fields {
        *seen.entry(path.declared_name()).or_default() += 1;
        assert!(
            label.starts_with(char::is_uppercase)
                || label.starts_with(|c: char| !c.is_alphabetic()),
            "{path}: {label}"
        );
        assert!(!label.contains('`'), "{path}");
    }
    let mut declared = 0;
    for table in TABLES {
        for key in table.keys {
            if matches!(key.form, Form::Section | Form::Sections) {
                continue;
            }
            let name = if table.path.is_empty() {
                key.name.to_owned()
            } else {
                format!("{}.{}", table.path, key.name)
            };
            assert_eq!(seen.get(&name), Some(&1), "{name}");
            declared += 1;
        }
    }
    assert_eq!(fields.len(), declared);
}

#[test]
fn law_a_field_shows_what_is_written_and_what_else_is_taken() {
    let text = edited(&[
        ("sliding_share = 0.80", "sliding_share = \"unknown\""),
        ("capacity = \"330 N·m\"", "capacity = \"330 N·m ± 5 %\""),
    ]);
    let form = form_of(&text);
    let field = |key: &str| form.field(&path(key)).unwrap();
    let capacity = field("clutch.capacity");
    assert_eq!((&*capacity.value, &*capacity.doubt), ("330 N·m", "± 5 %"));
    assert_eq!(capacity.state, State::Given);
    assert!(capacity.units.contains(&"N·m") && capacity.units.contains(&"lbf·ft"));
    assert_eq!(capacity.example, "310 N·m");
    assert_eq!(capacity.hard.as_deref(), Some("0.5 N·m to 50000 N·m"));
    let share = field("tyre.sliding_share");
    assert_eq!(share.state, State::Unknown);
    let taken = share.default.as_ref().unwrap();
    assert!(taken.reason.starts_with("nobody knows"), "{taken:?}");
    assert_eq!(taken.value, "0.785");
    let ratios = field("gearbox.ratios");
    assert_eq!(ratios.value, "3.32, 2.05, 1.46, 1.13, 0.92");
    let outer = field("flywheel[0].sections[0].outer");
    assert_eq!(outer.value, "120 mm");
    let spread = field("driver.hold_exponent");
    assert!(matches!(spread.state, State::Given | State::Default));
    let lift = field("driver.lift");
    assert_eq!(lift.state, State::Default);
    assert_eq!(lift.default.as_ref().unwrap().value, "never lifts");
    // The same in the other units.
    let read = read(&text).unwrap();
    let imperial = flyheft::sheet::form::form(Path::new(PLACE), &text, Ok(&read), System::Imperial);
    let wheelbase = imperial.field(&path("car.wheelbase")).unwrap();
    assert!(
        wheelbase.hard.as_ref().unwrap().ends_with("ft"),
        "{wheelbase:?}"
    );
    assert_eq!(wheelbase.value, "2.46 m");
}

#[test]
fn law_the_way_that_the_sheet_takes_is_marked_and_another_is_not_missed() {
    let used = |form: &SheetForm, section: &str, choice: usize| -> Vec<&'static str> {
        let section = form
            .sections
            .iter()
            .find(|one| one.name == section)
            .unwrap();
        let ways = &section.entries[0].choices[choice].ways;
        ways.iter()
            .filter(|way| way.is_used)
            .map(|way| way.label)
            .collect()
    };
    let form = form_of(&edited(&[]));
    assert_eq!(used(&form, "clutch", 0), ["by its torque"]);
    assert_eq!(used(&form, "tyre", 0), ["by the rolling radius"]);
    assert_eq!(used(&form, "flywheel", 0), ["from its metal, ring by ring"]);
    assert_eq!(
        form.field(&path("clutch.clamp")).unwrap().state,
        State::Open
    );
    let by_faces = edited(&[("capacity = \"330 N·m\"", "clamp = \"6200 N\"")]);
    let form = form_of(&by_faces);
    assert_eq!(used(&form, "clutch", 0), ["by clamp load and faces"]);
    for (key, state) in [
        ("capacity", State::Open),
        ("clamp", State::Given),
        ("friction", State::Missing),
        ("outer", State::Missing),
        ("faces", State::Default),
    ] {
        let field = form.field(&path("clutch").key(key)).unwrap();
        assert_eq!(field.state, state, "{key}");
    }
    assert_eq!(used(&form_of(""), "clutch", 0), [""; 0]);
    assert_eq!(
        form_of("").field(&path("clutch.capacity")).unwrap().state,
        State::Missing
    );
}

/// All that is said of a fault is in the form, in the same words and with the same line; what
/// lies on the line of a field stands at a field of that line.
#[test]
fn law_what_is_said_of_a_fault_stands_in_the_form() {
    let mut at_fields = 0;
    for (from, to) in SHEET_FAULTS {
        let text = edited(&[(from, to)]);
        let refusal = read(&text).unwrap_err();
        let form = form_of(&text);
        let mut wanted: Vec<(String, String, Vec<String>, Option<usize>)> = refusal
            .problems()
            .iter()
            .map(|p| {
                (
                    p.title().to_owned(),
                    p.mark_text().to_owned(),
                    p.help_texts().to_vec(),
                    refusal.location(p).line,
                )
            })
            .collect();
        let mut told: Vec<_> = form
            .all_said()
            .into_iter()
            .map(|said| {
                assert_eq!(said.weight, Weight::Error);
                (
                    said.title.clone(),
                    said.mark.clone(),
                    said.help.clone(),
                    said.line,
                )
            })
            .collect();
        wanted.sort();
        told.sort();
        assert_eq!(told, wanted, "{to}");
        assert_eq!(form.is_broken, text.parse::<toml::Table>().is_err());
        at_fields += form
            .fields()
            .iter()
            .map(|field| field.said.len())
            .sum::<usize>();
    }
    // Of the faults that leave the grammar whole, most are of one value.
    assert!(at_fields > SHEET_FAULTS.len() / 2, "{at_fields}");
}

#[test]
fn law_an_error_stands_at_its_field() {
    for (key, paper, said) in [
        ("car.mass", "1120", "has no unit"),
        ("car.mass", "1 kg", "out of range"),
        ("car.drive", "all", "is not known"),
        ("tyre.grip", "sticky", "grip"),
        ("tyre.sliding_share", "0.1", "out of range"),
        ("gearbox.ratios", "1.2, 3.4", "do not fall"),
        ("gearbox.ratios", "first and second", "ratios takes"),
        ("clutch.clamp", "6200 N", "twice over"),
        ("clutch.static_ratio", "0.5", "out of range"),
        ("engine.limiter", "9900 rpm", "under the limiter"),
        ("engine.torque_curve", "nowhere.csv", "there is no file"),
        ("flywheel[0].sections[1].outer", "100 mm", "not above inner"),
        ("flywheel[0].material", "chocolate", "chocolate"),
        ("driver.launch_range", "7000 to 2500 rpm", "no range"),
        ("driver.lift.to", "3", "out of range"),
        ("flywheel[0].holes[0].count", "six", "takes a whole number"),
    ] {
        let mut sheet = SheetText::new(starter::SHEET);
        sheet.set(&path(key), paper).unwrap();
        let form = form_of(sheet.text());
        let field = form.field(&path(key)).unwrap();
        let [error] = field.said.as_slice() else {
            panic!("{key} = {paper}: {:?}", form.all_said())
        };
        assert!(error.title.contains(said), "{key}: {error:?}");
        assert_eq!(field.state, State::Given);
        let refusal = read(sheet.text()).unwrap_err();
        assert!(
            refusal
                .problems()
                .iter()
                .any(|problem| problem.title() == error.title)
        );
    }
}

#[test]
fn law_what_is_missing_is_said_where_it_is_missed() {
    let mut sheet = SheetText::new(starter::SHEET);
    sheet.remove(&path("tyre.grip")).unwrap();
    let form = form_of(sheet.text());
    let grip = form.field(&path("tyre.grip")).unwrap();
    assert_eq!(grip.state, State::Missing);
    assert!(grip.said[0].title.contains("[tyre] lacks grip"));
    // Several of one section are told once, at the section.
    sheet.remove(&path("tyre.radius")).unwrap();
    let form = form_of(sheet.text());
    let tyre = form
        .sections
        .iter()
        .find(|section| section.name == "tyre")
        .unwrap();
    assert!(
        tyre.entries[0].said[0]
            .title
            .contains("lacks radius and grip"),
        "{tyre:?}"
    );
    // A key that nobody knows, at its entry.
    let form = form_of(&edited(&[(
        "hold = \"foot\"",
        "hold = \"foot\"\nholdd = 1",
    )]));
    let driver = form
        .sections
        .iter()
        .find(|section| section.name == "driver")
        .unwrap();
    assert!(driver.entries[0].said[0].title.contains("holdd"));
    // No sheet at all: what it lacks is said of it as a whole.
    let form = form_of("");
    assert!(
        form.said
            .iter()
            .any(|said| said.title.contains("lacks [engine]")),
        "{:?}",
        form.said
    );
}

#[test]
fn law_a_warning_stands_at_its_field() {
    let text = edited(&[("wheelbase = \"2.46 m\"", "wheelbase = \"1.2 m\"")]);
    let reading = accepted(&[("wheelbase = \"2.46 m\"", "wheelbase = \"1.2 m\"")]);
    assert_eq!(reading.warnings.len(), 1);
    let form = form_of(&text);
    let said = &form.field(&path("car.wheelbase")).unwrap().said;
    assert_eq!(said.len(), 1, "{:?}", form.all_said());
    assert_eq!(said[0].weight, Weight::Warning);
    assert_eq!(
        said[0].title,
        reading.warnings[0].warning.text(System::Metric)
    );
}

#[test]
fn law_what_is_wrong_in_the_torque_file_stands_at_its_field() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("car.toml");
    for fault in TORQUE_FAULTS {
        std::fs::write(folder.path().join("torque.csv"), fault).unwrap();
        let refusal = flyheft::sheet::read_text(&place, starter::SHEET).unwrap_err();
        let form = form(&place, starter::SHEET, Err(&refusal), System::Metric);
        let curve = form.field(&path("engine.torque_curve")).unwrap();
        let elsewhere = form.all_said().len() - curve.said.len();
        assert_eq!(curve.said.len(), refusal.problems().len() - elsewhere);
        assert!(!curve.said.is_empty() || elsewhere > 0, "{fault}");
    }
}

#[test]
fn law_a_broken_sheet_is_told_and_its_text_stays() {
    let text = edited(&[("[gearbox]", "[gearbox")]);
    let form = form_of(&text);
    assert!(form.is_broken && form.sections.is_empty());
    let line = text.lines().position(|line| line == "[gearbox").unwrap() + 1;
    assert_eq!(form.said[0].line, Some(line));
    let mut sheet = SheetText::new(&text);
    assert_eq!(
        sheet.set(&path("car.mass"), "900 kg"),
        Err(EditError::Broken { line })
    );
}

/// Something to do to a sheet.
#[derive(Debug, Clone)]
enum Act {
    Set(prop::sample::Index, prop::sample::Index),
    Remove(prop::sample::Index),
    Add(prop::sample::Index),
    Copy(prop::sample::Index),
    Move(prop::sample::Index, prop::sample::Index),
    Undo,
    Redo,
}

fn act() -> impl Strategy<Value = Act> {
    let at = any::<prop::sample::Index>;
    prop_oneof![
        8 => (at(), at()).prop_map(|(field, value)| Act::Set(field, value)),
        2 => at().prop_map(Act::Remove),
        2 => at().prop_map(Act::Add),
        2 => at().prop_map(Act::Copy),
        2 => (at(), at()).prop_map(|(from, to)| Act::Move(from, to)),
        1 => Just(Act::Undo),
        1 => Just(Act::Redo),
    ]
}

/// Values as builders write them, right and wrong.
const PAPERS: [&str; 14] = [
    "10 1/4 in",
    "7,4 kg",
    "0.80",
    "unknown",
    "310 N·m ± 5 %",
    "0.70 to 0.90",
    "8' 6\"",
    "a 'name' with \"quotes\" and \\",
    "3.20, 1.95",
    "yes",
    "# no comment",
    "] }",
    "\u{7}",
    "\n[engine]\nx = 1",
];

fn lines(text: &str) -> Vec<&str> {
    text.split_inclusive('\n').collect()
}

/// Lines of one text that the other has not, heads and tails that both have taken off.
fn changed_lines<'t>(before: &'t str, after: &'t str) -> (Vec<&'t str>, Vec<&'t str>) {
    let (old, new) = (lines(before), lines(after));
    let same = |(a, b): &(&&str, &&str)| a == b;
    let head = old.iter().zip(&new).take_while(same).count();
    let (old, new) = (&old[head..], &new[head..]);
    let tail = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take_while(same)
        .count();
    (
        old[..old.len() - tail].to_vec(),
        new[..new.len() - tail].to_vec(),
    )
}

/// The place of all that a change may touch: a metal by its name becomes a table with the name.
fn whole_value(path: &KeyPath) -> KeyPath {
    let mut all = path.clone();
    while let Some((parent, _)) = all.split_last() {
        let metal = |key: &flyheft::sheet::keys::Key| matches!(key.form, Form::Metal(_));
        if parent.declared().is_some_and(metal) {
            return parent;
        }
        all = parent;
    }
    path.clone()
}

/// Does one thing, and holds what came of it against what may come of it.
fn done(sheet: &mut SheetText, act: &Act) {
    let before = sheet.text().to_owned();
    let there = paths(&before);
    let entries: Vec<KeyPath> = there
        .iter()
        .filter(|path| matches!(path.steps().last(), Some(Step::Index(_))))
        .cloned()
        .collect();
    let changed = match act {
        Act::Set(field, value) => {
            let fields = fields_with_blanks(&before);
            let (path, ..) = field.get(&fields);
            let paper = value.get(&PAPERS);
            let was_there = there.contains(path);
            let set = sheet.set(path, paper);
            if matches!(set, Ok(true)) {
                let (old, new) = changed_lines(&before, sheet.text());
                if was_there && old.len() == 1 {
                    assert_eq!(new.len(), 1, "{path} in {before}");
                }
                assert!(old.len() <= 2 || was_there, "{path}: {old:?} {new:?}");
                let all = whole_value(path);
                assert_eq!(
                    without(&before, &all),
                    without(sheet.text(), &all),
                    "{path}"
                );
            }
            set
        }
        Act::Remove(at) if !there.is_empty() => {
            let path = at.get(&there);
            let removed = sheet.remove(path);
            if matches!(removed, Ok(true)) && !matches!(path.steps().last(), Some(Step::Index(_))) {
                assert_eq!(
                    without(&before, path),
                    without(sheet.text(), path),
                    "{path}"
                );
                assert!(!paths(sheet.text()).contains(path));
            }
            removed
        }
        Act::Add(at) => {
            let lists = [
                "crank_side",
                "flywheel",
                "flywheel[0].sections",
                "flywheel[1].holes",
                "flywheel[0].cut",
            ];
            sheet.add_entry(&path(lists[at.index(lists.len())]))
        }
        Act::Copy(at) if !entries.is_empty() => sheet.copy_entry(at.get(&entries)),
        Act::Move(from, to) if !entries.is_empty() => {
            sheet.move_entry(from.get(&entries), to.index(4))
        }
        Act::Undo => Ok(sheet.undo()),
        Act::Redo => Ok(sheet.redo()),
        _ => Ok(false),
    };
    match changed {
        Ok(changed) => assert_eq!(changed, before != sheet.text()),
        Err(_) => assert_eq!(before, sheet.text()),
    }
    // Whatever was done, it is a sheet without a fault in its grammar.
    assert!(
        sheet.text().parse::<toml::Table>().is_ok(),
        "{act:?}: {}",
        sheet.text()
    );
}

proptest! {
    #![proptest_config(same_every_time(300))]

    #[test]
    fn law_all_edits_undone_leave_the_very_bytes(
        sheet in prop::sample::select(sheets()),
        acts in prop::collection::vec(act(), 1..12),
    ) {
        let mut edited = SheetText::new(&sheet);
        for act in &acts {
            done(&mut edited, act);
        }
        let end = edited.text().to_owned();
        let undone = edited.steps();
        while edited.undo() {}
        prop_assert_eq!(edited.text(), &*sheet);
        prop_assert_eq!(edited.bytes(), sheet.as_bytes());
        for _ in 0..undone {
            prop_assert!(edited.redo());
        }
        prop_assert_eq!(edited.text(), end);
    }
}

/// A value set is what is read back, whatever the field and whatever stood there.
#[test]
fn law_a_value_set_is_read_back_as_that_value() {
    // One of the three ways to end a line for each sheet: the random test has them all.
    let each = sheets().into_iter().enumerate();
    let each = each.filter(|(number, _)| number % 3 == number / 3 % 3);
    for (_, sheet) in each.filter(|(_, sheet)| !sheet.contains("odd")) {
        for (path, form, _) in fields_with_blanks(&sheet) {
            let mut edited = SheetText::new(&sheet);
            let example = path.declared().unwrap().example;
            let paper = to_paper(example, form);
            // A value where a table under a header of its own stands cannot be.
            if edited.set(&path, &paper).is_ok() {
                assert_eq!(edited.value(&path).as_deref(), Some(&*paper), "{path}");
                let bytes: toml::Table = format!("x = {example}").parse().unwrap();
                let table: toml::Value = toml::Value::Table(edited.text().parse().unwrap());
                let mut value = &table;
                for step in path.steps() {
                    value = match step {
                        Step::Key(name) => &value[name.as_str()],
                        Step::Index(index) => &value[*index],
                    };
                }
                assert_eq!(value, &bytes["x"], "{path}");
            } else {
                assert!(
                    sheet.contains("[[flywheel.sections]]") || sheet.contains("[engine.sweep]"),
                    "{path} in\n{sheet}"
                );
            }
        }
    }
}
