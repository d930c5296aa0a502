//! From a sheet's text and what the reader made of it to the form.

use super::attach;
use super::choices::{self, Standing};
use super::document::{Document, Found, Written};
use super::model::{Default, Entry, Field, Section, SheetForm, State};
use super::path::KeyPath;
use super::written::{split_doubt, to_paper};
use crate::sheet::keys::{self, Form, Key, WhenAbsent, sheet as sections};
use crate::sheet::{DefaultUsed, Reading, Refusal};
use crate::units::{System, plain};
use std::path::Path;
use toml::de::DeValue;

/// Sections in the order in which a builder thinks of a car.
const ORDER: [&Key; 12] = [
    sections::CAR,
    sections::TYRE,
    sections::ENGINE,
    sections::CLUTCH,
    sections::GEARBOX,
    sections::CRANK_SIDE,
    sections::FLYWHEEL,
    sections::DRIVER,
    sections::TRACK,
    sections::MEETING,
    sections::SEASON,
    sections::FITTED,
];

/// The form of a sheet, with all that the reader says at the fields it is about.
///
/// `read` is what [`read_text`](crate::sheet::read_text) made of this text at this path.
/// Ranges and defaults are shown in the units of `system`; values stand as they are written.
pub fn form(
    path: &Path,
    text: &str,
    read: Result<&Reading, &Refusal>,
    system: System,
) -> SheetForm {
    let said = attach::said(path, text, read, system);
    let Ok(document) = Document::parse(text) else {
        return SheetForm {
            sections: Vec::new(),
            said: said.into_iter().map(|placed| placed.said).collect(),
            is_broken: true,
        };
    };
    let maker = Maker {
        document,
        defaults: read.map_or(&[], |reading| &reading.defaults),
        system,
    };
    let mut form = SheetForm {
        sections: std::iter::once(maker.top())
            .chain(ORDER.into_iter().map(|key| maker.section(key)))
            .collect(),
        said: Vec::new(),
        is_broken: false,
    };
    for placed in said {
        attach::attach(&mut form, path, placed);
    }
    form
}

struct Maker<'a> {
    document: Document<'a>,
    /// What the reader took where the sheet did not say.
    defaults: &'a [DefaultUsed],
    system: System,
}

impl Maker<'_> {
    /// The keys above all sections.
    fn top(&self) -> Section {
        let mut entry = self.entry(KeyPath::top(), None, "sheet".to_owned(), Asked::Yes);
        entry.is_there = true;
        entry.body = None;
        Section {
            name: "",
            title: "Sheet".to_owned(),
            words: "the sheet",
            is_asked_for: false,
            entries: vec![entry],
            blank: None,
            said: Vec::new(),
        }
    }

    fn section(&self, key: &'static Key) -> Section {
        let path = KeyPath::top().key(key.name);
        let asked = if key.is_asked_for() {
            Asked::Yes
        } else {
            Asked::No
        };
        let repeats = key.form == Form::Sections;
        let found = self.document.find(&path);
        let (entries, blank) = match found.map(|found| found.value.get_ref()) {
            Some(DeValue::Array(_)) | None if repeats => self.entries_of(&path),
            _ => {
                let title = titled(key.name);
                (vec![self.entry(path, found, title, asked)], None)
            }
        };
        Section {
            name: key.name,
            title: titled(key.name),
            words: key.words,
            is_asked_for: key.is_asked_for(),
            entries,
            blank,
            said: Vec::new(),
        }
    }

    /// The entries of a list of tables, and one more that is not there yet.
    fn entries_of(&self, list: &KeyPath) -> (Vec<Entry>, Option<Entry>) {
        let count = match self.document.find(list).map(|found| found.value.get_ref()) {
            Some(DeValue::Array(list)) => list.len(),
            _ => 0,
        };
        let entry = |index| {
            let path = list.entry(index);
            let found = self.document.find(&path);
            let title = self.title(&path, index);
            self.entry(path, found, title, Asked::IfThere)
        };
        ((0..count).map(entry).collect(), Some(entry(count)))
    }

    /// What an entry is called: by its name, else by its number.
    fn title(&self, path: &KeyPath, index: usize) -> String {
        let name = self.document.find(&path.key("name"));
        let name = name.and_then(|name| name.value.get_ref().as_str());
        if let Some(name) = name.map(str::trim).filter(|name| !name.is_empty()) {
            return crate::units::quote(name);
        }
        let table = path.declared_name();
        let what = match table.rsplit('.').next() {
            Some("sections") => "section",
            Some("holes") => "ring of holes",
            Some("extras") => "extra",
            Some("cut") => "pass",
            Some("crank_side") => "part",
            other => other.unwrap_or_default(),
        };
        format!("{what} {}", index + 1)
    }

    fn entry(
        &self,
        path: KeyPath,
        found: Option<Found<'_, '_>>,
        title: String,
        asked: Asked,
    ) -> Entry {
        let table = self.document.table(&path);
        let name = path.declared_name();
        let choices = choices::of(&name);
        let body = found.and_then(|found| {
            let span = found.value.span();
            match self.document.written(found.value)? {
                Written::Header => Some(span.start..self.document.block(found.value).end),
                Written::Braces => Some(span),
                Written::Dotted => None,
            }
        });
        let asked = asked == Asked::Yes || (asked == Asked::IfThere && table.is_some());
        let keys =
            keys::of_table(&name).filter(|key| !matches!(key.form, Form::Section | Form::Sections));
        let fields = keys.map(|key| {
            let standing = choices::standing(choices, table, key.name);
            self.field(&path, key, asked, standing)
        });
        Entry {
            title,
            is_there: table.is_some(),
            fields: fields.collect(),
            choices: choices.iter().map(|ways| ways.shown(table)).collect(),
            said: Vec::new(),
            body,
            path,
        }
    }

    fn field(&self, table: &KeyPath, key: &'static Key, asked: bool, standing: Standing) -> Field {
        let path = table.key(key.name);
        let found = self.document.find(&path);
        let takes_doubt = matches!(key.form, Form::Quantity(_) | Form::Number);
        let holds_tables = found.is_some_and(holds_tables);
        let paper = match found {
            Some(found) if !holds_tables => to_paper(self.document.bytes(found.value), key.form),
            _ => String::new(),
        };
        let (value, doubt) = if takes_doubt {
            split_doubt(&paper)
        } else {
            (paper, String::new())
        };
        let kind = key.form.kind();
        let (inner, blank) = self.inner(&path, key, found);
        Field {
            label: label(key),
            help: key.how.to_owned(),
            takes: key.takes(),
            units: kind.map_or(Vec::new(), |kind| kind.units().map(|u| u.symbol).collect()),
            hard: key.hard.map(|hard| hard.shown(kind, self.system)),
            usual: key.usual.map(|usual| usual.shown(kind, self.system)),
            example: to_paper(key.example, key.form),
            default: self.default(&path, key),
            takes_doubt,
            state: state(key, found.is_some(), &value, asked, standing),
            value,
            doubt,
            said: Vec::new(),
            inner,
            blank: blank.map(Box::new),
            span: found.and_then(|found| {
                let end = self.document.line_end(found.value)?;
                Some(found.key?.span().start..end)
            }),
            key,
            path,
        }
    }

    /// The tables that a key holds or could hold.
    fn inner(
        &self,
        path: &KeyPath,
        key: &'static Key,
        found: Option<Found<'_, '_>>,
    ) -> (Vec<Entry>, Option<Entry>) {
        match key.form {
            Form::Table | Form::Metal(_) => {
                let entry = self.entry(path.clone(), found, label(key), Asked::IfThere);
                (vec![entry], None)
            }
            Form::Tables => self.entries_of(path),
            _ => (Vec::new(), None),
        }
    }

    /// What is taken where nothing is written: what the reader took, else what is declared.
    fn default(&self, path: &KeyPath, key: &Key) -> Option<Default> {
        let name = path.declared_name();
        if let Some(used) = self.defaults.iter().find(|used| used.key == name) {
            return Some(Default {
                value: used.shown(self.system),
                reason: used.reason.to_owned(),
            });
        }
        let shown = |si| match key.form.kind() {
            Some(kind) => self.system.brief(si, kind),
            None => plain(si),
        };
        let (value, reason) = match key.when_absent {
            WhenAbsent::Value(si, reason) => (shown(si), reason),
            WhenAbsent::Word(word, reason) => (word.to_owned(), reason),
            WhenAbsent::WorkedOut(how, reason) => (how.to_owned(), reason),
            WhenAbsent::Needed | WhenAbsent::ThisOr(_) | WhenAbsent::None(_) => return None,
        };
        let reason = reason.to_owned();
        Some(Default { value, reason })
    }
}

fn holds_tables(found: Found<'_, '_>) -> bool {
    match found.value.get_ref() {
        DeValue::Table(_) => true,
        DeValue::Array(list) => list.iter().any(|item| item.get_ref().is_table()),
        _ => false,
    }
}

/// Whether the keys of a table are asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Asked {
    Yes,
    No,
    /// Only where the table is there.
    IfThere,
}

fn state(key: &Key, is_there: bool, value: &str, asked: bool, standing: Standing) -> State {
    let has_default = matches!(
        key.when_absent,
        WhenAbsent::Value(..) | WhenAbsent::Word(..) | WhenAbsent::WorkedOut(..)
    );
    match standing {
        _ if is_there && key.may_be_unknown && value.eq_ignore_ascii_case("unknown") => {
            State::Unknown
        }
        _ if is_there => State::Given,
        Standing::Needed if asked => State::Missing,
        Standing::Aside => State::Open,
        _ if asked && key.is_asked_for() => State::Missing,
        _ if has_default => State::Default,
        _ => State::Open,
    }
}

/// What a key is, as a label.
fn label(key: &Key) -> String {
    capital(&key.words.replace('`', ""))
}

fn titled(name: &str) -> String {
    match name {
        "flywheel" => "Flywheels".to_owned(),
        name => capital(&name.replace('_', " ")),
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
