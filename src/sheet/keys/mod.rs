//! Every key of the sheet, declared once.
//!
//! Name, form and unit, the range that must be kept and the usual one, the default with its
//! reason, and the words for a reader stand in one place; the reader of the sheet, the pages, the
//! page on the sheet (`docs/sheet.md`) and the schema that editors use take them from there.
//!
//! Hard ranges are wide: they keep out slips of powers of ten, figures that describe no car, and
//! cars whose launch cannot be computed. A sheet written today must load tomorrow, so a hard
//! range may be widened and never narrowed. Where no source stands beside a range, it is common
//! practice without one.

pub(crate) mod car;
pub(crate) mod clutch;
pub(crate) mod cut;
pub(crate) mod driver;
pub(crate) mod engine;
pub(crate) mod gearbox;
mod key;
pub(crate) mod meeting;
mod page;
pub(crate) mod part;
pub(crate) mod season;
pub(crate) mod sheet;
pub(crate) mod swing;
pub(crate) mod track;
pub(crate) mod tyre;
pub(crate) mod weather;

pub use key::{Bounds, Form, Key, UsualDoubt, WhenAbsent};
pub use page::page_table;

/// A table of the sheet and its keys.
#[derive(Debug)]
pub struct Table {
    /// Its name among all tables: `clutch`, `flywheel.holes`, empty for the sheet's top.
    pub path: &'static str,
    /// Its keys.
    pub keys: &'static [&'static Key],
}

const fn table(path: &'static str, keys: &'static [&'static Key]) -> Table {
    Table { path, keys }
}

/// Every table. A table whose keys are declared in two places stands here twice.
pub const TABLES: &[Table] = &[
    table("", sheet::KEYS),
    table("engine", engine::KEYS),
    table("engine.dyno_weather", weather::KEYS),
    table("engine.sweep", engine::sweep::KEYS),
    table("engine.torque_columns", engine::torque_columns::KEYS),
    table("engine.rollers", engine::rollers::KEYS),
    table("crank_side", part::KEYS),
    table("crank_side.sections", part::section::KEYS),
    table("crank_side.holes", part::hole::KEYS),
    table("crank_side.extras", part::extra::KEYS),
    table("crank_side.swing", swing::KEYS),
    table("crank_side.material", part::material::KEYS),
    table("crank_side.reciprocating", part::reciprocating::KEYS),
    table("flywheel", part::KEYS),
    table("flywheel", part::flywheel::KEYS),
    table("flywheel.sections", part::section::KEYS),
    table("flywheel.holes", part::hole::KEYS),
    table("flywheel.extras", part::extra::KEYS),
    table("flywheel.swing", swing::KEYS),
    table("flywheel.material", part::material::KEYS),
    table("flywheel.reciprocating", part::reciprocating::KEYS),
    table("flywheel.swing_check", swing::KEYS),
    table("flywheel.cut", cut::KEYS),
    table("flywheel.shop", cut::shop::KEYS),
    table("flywheel.shop.clutch_face", cut::clutch_face::KEYS),
    table("clutch", clutch::KEYS),
    table("gearbox", gearbox::KEYS),
    table("car", car::KEYS),
    table("tyre", tyre::KEYS),
    table("driver", driver::KEYS),
    table("driver.lift", driver::lift::KEYS),
    table("track", weather::KEYS),
    table("track", track::KEYS),
    table("meeting", meeting::KEYS),
    table("meeting", weather::KEYS),
    table("season", season::KEYS),
    table("fitted", season::fitted::KEYS),
];

/// A file of one part alone: it has a flywheel's keys at its top.
pub(crate) const PART_FILE: &str = "part";

/// The keys of a table.
pub fn of_table(path: &str) -> impl Iterator<Item = &'static Key> {
    let there = TABLES.iter().any(|table| table.path == path);
    let path = match path {
        path if there => path.to_owned(),
        PART_FILE => "flywheel".to_owned(),
        path => format!("flywheel.{path}"),
    };
    TABLES
        .iter()
        .filter(move |table| table.path == path)
        .flat_map(|table| table.keys.iter().copied())
}

/// A key of a table, by its name.
pub(crate) fn in_table(path: &str, name: &str) -> Option<&'static Key> {
    of_table(path).find(|key| key.name == name)
}

/// A key by its full name: `tyre.grip`, `title`.
pub fn find(full_name: &str) -> Option<&'static Key> {
    let (path, name) = full_name.rsplit_once('.').unwrap_or(("", full_name));
    in_table(path, name)
}

/// What a key is called for a reader, that of a named part with its name (`flywheel."skimmed".mass`);
/// the key itself where it has no words.
pub fn words_for(full_name: &str) -> String {
    if let Some(key) = find(full_name) {
        return key.words.to_owned();
    }
    let of_named_part = || {
        let (table, rest) = full_name.split_once(".\"")?;
        let (part, name) = rest.rsplit_once("\".")?;
        Some(format!("\"{part}\": {}", in_table(table, name)?.words))
    };
    of_named_part().unwrap_or_else(|| full_name.to_owned())
}

/// The key of a table that is also called so.
pub(crate) fn also_called(path: &str, name: &str) -> Option<&'static Key> {
    let plain = |text: &str| text.to_lowercase().replace(['-', ' '], "_");
    let name = plain(name);
    of_table(path).find(|key| key.also_called.contains(&name.as_str()))
}

/// How a table is spoken of: `[engine]`, `[[flywheel]]`, `this ring of holes`.
pub(in crate::sheet) fn spoken(table: &str) -> String {
    match table.rsplit_once('.') {
        Some((_, "sections")) => "this section".to_owned(),
        Some((_, "holes")) => "this ring of holes".to_owned(),
        Some((_, "extras")) => "this extra".to_owned(),
        Some((_, "cut")) => "this pass".to_owned(),
        Some((_, inner)) => inner.to_owned(),
        None => header_of(table),
    }
}

/// Where a table is written: `[engine]`, `[[flywheel]]`, `holes = …`.
pub(in crate::sheet) fn header_of(table: &str) -> String {
    match (table, table.rsplit_once('.')) {
        ("", _) => "the sheet".to_owned(),
        (PART_FILE, _) => "the file".to_owned(),
        (_, Some((_, inner))) => format!("{inner} = …"),
        ("crank_side" | "flywheel", _) => format!("[[{table}]]"),
        _ => format!("[{table}]"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_key_of_a_named_part_is_told_in_words_with_its_name() {
        assert_eq!(
            words_for("flywheel.\"cut to 6.2 kg\".inertia_scale"),
            format!("\"cut to 6.2 kg\": {}", part::INERTIA_SCALE.words)
        );
        assert_eq!(words_for("tyre.grip"), find("tyre.grip").unwrap().words);
        assert_eq!(words_for("no.such"), "no.such");
    }

    fn every() -> impl Iterator<Item = (String, &'static Key)> {
        TABLES.iter().flat_map(|table| {
            table
                .keys
                .iter()
                .map(|key| (format!("{}.{}", table.path, key.name), *key))
        })
    }

    #[test]
    fn law_every_key_has_words_and_an_example() {
        for (name, key) in every() {
            assert!(!key.words.is_empty(), "{name}");
            let section = matches!(key.form, Form::Section | Form::Sections);
            assert!(section || !key.example.is_empty(), "{name}");
        }
    }

    #[test]
    fn law_every_number_has_a_hard_range_and_a_usual_one_within_it() {
        for (name, key) in every() {
            let holds_numbers = key.form.kind().is_some()
                || matches!(key.form, Form::Number | Form::Count | Form::Numbers);
            assert_eq!(key.hard.is_some(), holds_numbers, "{name}");
            assert_eq!(key.usual.is_some(), holds_numbers, "{name}");
            if let (Some(hard), Some(usual)) = (key.hard, key.usual) {
                assert!(hard.low < hard.high, "{name}");
                assert!(hard.hold(usual.low) && hard.hold(usual.high), "{name}");
                assert!(usual.low < usual.high, "{name}");
            }
        }
    }

    #[test]
    fn law_a_default_is_usual() {
        for (name, key) in every() {
            match key.when_absent {
                WhenAbsent::Value(si, reason) => {
                    assert!(key.usual.is_some_and(|usual| usual.hold(si)), "{name}");
                    assert!(!reason.is_empty(), "{name}");
                }
                WhenAbsent::Word(word, reason) => {
                    assert!(!word.is_empty() && !reason.is_empty(), "{name}");
                }
                _ => {}
            }
        }
    }

    #[test]
    fn law_no_key_is_declared_twice_in_a_table() {
        let names: Vec<String> = every().map(|(name, _)| name).collect();
        let once: std::collections::BTreeSet<&String> = names.iter().collect();
        assert_eq!(names.len(), once.len());
    }
}
