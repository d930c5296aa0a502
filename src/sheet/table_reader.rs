//! One table of the sheet, asked for its keys one by one. What nobody asked for in the end is
//! an unknown key.

// An answer goes back to its reader for what is missing and what was taken as read.
use super::answer::{Answer, State};
use super::diagnostics::Diagnostics;
use super::keys::{self, Key, PART_FILE, spoken};
use super::problem::{FileId, Place, Problem, unshowable_problem};
use super::unknown_key::{UnknownKey, meant, nearest};
use super::value::{Checked, Found};
use super::words::{either, listed};
use crate::units::quote;
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::num::NonZeroU32;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The text that all places of a reader lie in.
#[derive(Clone, Copy)]
pub(super) struct Text<'a> {
    pub(super) file: FileId,
    pub(super) text: &'a str,
}

impl Text<'_> {
    /// What stands at a value's place, cut to a line's length.
    pub(super) fn read(&self, value: &Spanned<DeValue<'_>>) -> String {
        quote(self.text.get(value.span()).unwrap_or_default().trim())
    }
}

/// Reads one table.
pub(super) struct TableReader<'a> {
    table: Option<&'a DeTable<'a>>,
    /// Name among all tables: `clutch`, `flywheel.holes`, empty for the sheet's top.
    pub(super) name: String,
    /// Name among all values of this sheet: `flywheel."as supplied".sections.1`.
    address: String,
    /// Place of its header.
    pub(super) header: Place,
    pub(super) text: Text<'a>,
    pub(super) diagnostics: &'a Diagnostics,
    asked: RefCell<BTreeSet<&'static str>>,
    missing: RefCell<Vec<&'static Key>>,
}

impl<'a> TableReader<'a> {
    pub(super) fn new(
        name: String,
        table: Option<&'a DeTable<'a>>,
        header: Place,
        text: Text<'a>,
        diagnostics: &'a Diagnostics,
    ) -> Self {
        Self {
            table,
            address: name.clone(),
            name,
            header,
            text,
            diagnostics,
            asked: RefCell::default(),
            missing: RefCell::default(),
        }
    }

    /// The same at an address of its own, where the sheet has several of its name.
    pub(super) fn at(self, address: String) -> Self {
        Self { address, ..self }
    }

    /// A key's name among all values of this sheet.
    pub(super) fn address_of(&self, key: &Key) -> String {
        if self.address.is_empty() {
            key.name.to_owned()
        } else {
            format!("{}.{key}", self.address)
        }
    }

    /// Whether the sheet has this table at all; its absence is told once, not key by key.
    pub(super) const fn is_there(&self) -> bool {
        self.table.is_some()
    }

    /// How the table is spoken of: `[clutch]`.
    pub(super) fn shown(&self) -> String {
        spoken(&self.name)
    }

    /// Name of a key with its table: `clutch.fade`.
    pub(super) fn full_key(&self, key: &Key) -> String {
        if matches!(self.name.as_str(), "" | PART_FILE) {
            key.name.to_owned()
        } else {
            format!("{}.{key}", self.name)
        }
    }

    pub(super) fn place(&self, span: std::ops::Range<usize>) -> Place {
        Place::at(self.text.file, span)
    }

    /// The value of a key, if there is one.
    pub(super) fn value(&self, key: &'static Key) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().insert(key.name);
        self.diagnostics.known(&self.name, key.name);
        self.table?.get(key.name)
    }

    /// The value of an unknown key that seems to mean this one, if this one is not there.
    pub(super) fn misspelt(&self, key: &Key) -> Option<&'a Spanned<DeValue<'a>>> {
        let mut others = self.table?.iter();
        let means_it = |name: &str| {
            keys::in_table(&self.name, name).is_none()
                && meant(&self.name, name).is_some_and(|meant| meant.name == key.name)
        };
        let (_, value) = others.find(|(name, _)| means_it(name.get_ref()))?;
        Some(value)
    }

    /// Whether a key is there; it counts as asked for.
    pub(super) fn has(&self, key: &'static Key) -> bool {
        self.value(key).is_some()
    }

    /// Place of a key's own name, for a mark.
    pub(super) fn key_place(&self, key: &Key) -> Place {
        self.table
            .and_then(|table| table.get_key_value(key.name))
            .map_or_else(|| self.header.clone(), |(name, _)| self.place(name.span()))
    }

    fn answer<T>(
        &self,
        key: &'static Key,
        read: impl FnOnce(&'a Spanned<DeValue<'a>>) -> Result<T, Problem>,
    ) -> Answer<'_, 'a, T> {
        let state = match self.value(key) {
            None => State::Absent,
            Some(value) => match read(value) {
                Ok(found) => State::Given(Found {
                    value: found,
                    place: self.place(value.span()),
                    read: self.text.read(value),
                }),
                Err(problem) => {
                    self.diagnostics.problem(problem);
                    State::Refused
                }
            },
        };
        Answer {
            reader: self,
            key,
            state,
        }
    }

    /// A number, with its unit where its key has one.
    pub(super) fn measure<T: Checked>(&self, key: &'static Key) -> Answer<'_, 'a, T> {
        self.answer(key, |value| self.amount_in(key, value))
    }

    /// A whole number from 1.
    pub(super) fn count(&self, key: &'static Key) -> Answer<'_, 'a, NonZeroU32> {
        self.answer(key, |value| self.count_in(key, value))
    }

    /// Text in quotes, not empty.
    pub(super) fn words(&self, key: &'static Key) -> Answer<'_, 'a, String> {
        self.answer(key, |value| {
            let text = self.text_in(key, value, &key.takes())?;
            if let Some(problem) = unshowable_problem(key.name, &text, self.place(value.span())) {
                return Err(problem);
            }
            if text.trim().is_empty() {
                return Err(
                    Problem::new(self.place(value.span()), format!("{key} is empty"))
                        .label("a text is needed here"),
                );
            }
            Ok(text.trim().to_owned())
        })
    }

    /// One of a few words.
    pub(super) fn choice<T: Copy>(
        &self,
        key: &'static Key,
        all: &[T],
        name: fn(T) -> &'static str,
    ) -> Answer<'_, 'a, T> {
        self.answer(key, |value| {
            let names: Vec<&str> = all.iter().map(|one| name(*one)).collect();
            let quoted: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            let quoted: Vec<&str> = quoted.iter().map(String::as_str).collect();
            let choices = either(&quoted);
            let text = self.text_in(key, value, &format!("one of {choices}"))?;
            let same = |one: &&T| name(**one).eq_ignore_ascii_case(text.trim());
            all.iter().find(same).copied().ok_or_else(|| {
                let read = quote(&text);
                let problem = Problem::new(
                    self.place(value.span()),
                    format!("{key} = \"{read}\" is not known"),
                );
                match nearest(&text, names.iter().copied()) {
                    Some(near) => problem.label(format!("did you mean \"{near}\"?")),
                    None => problem,
                }
                .help(format!("{key} takes {choices}"))
            })
        })
    }

    /// Yes or no.
    pub(super) fn flag(&self, key: &'static Key) -> Answer<'_, 'a, bool> {
        self.answer(key, |value| match value.get_ref() {
            DeValue::Boolean(yes) => Ok(*yes),
            _ => Err(self.wrong_type(key, value, &key.takes())),
        })
    }

    /// The values of a list, each with its place.
    pub(super) fn list(&self, key: &'static Key) -> Answer<'_, 'a, Vec<&'a Spanned<DeValue<'a>>>> {
        self.answer(key, |value| match value.get_ref() {
            DeValue::Array(items) => Ok(items.iter().collect()),
            _ => Err(self.wrong_type(key, value, &key.takes())),
        })
    }

    /// A table within this one, in braces.
    pub(super) fn inner(&self, key: &'static Key) -> Answer<'_, 'a, TableReader<'a>> {
        self.answer(key, |value| {
            self.inner_of(key, value)
                .ok_or_else(|| self.wrong_type(key, value, &key.takes()))
        })
    }

    /// A list of tables in braces. Entries that are none are noted as problems and left out.
    pub(super) fn inners(&self, key: &'static Key) -> Answer<'_, 'a, Vec<TableReader<'a>>> {
        let Answer { state, .. } = self.list(key);
        let state = match state {
            State::Absent => State::Absent,
            State::Refused => State::Refused,
            State::Given(items) => State::Given(items.map(|items| {
                let each = (1..).zip(items).filter_map(|(number, item): (usize, _)| {
                    let inner = self.inner_of(key, item);
                    if inner.is_none() {
                        self.diagnostics
                            .problem(self.wrong_type(key, item, &key.takes()));
                    }
                    let address = format!("{}.{number}", self.address_of(key));
                    inner.map(|inner| inner.at(address))
                });
                each.collect()
            })),
        };
        Answer {
            reader: self,
            key,
            state,
        }
    }

    fn inner_of(
        &self,
        key: &'static Key,
        value: &'a Spanned<DeValue<'a>>,
    ) -> Option<TableReader<'a>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(
                TableReader::new(
                    self.full_key(key),
                    Some(table),
                    self.place(value.span()),
                    self.text,
                    self.diagnostics,
                )
                .at(self.address_of(key)),
            ),
            _ => None,
        }
    }

    /// Notes that a key is missing; [`TableReader::finish`] makes one problem of all of them.
    pub(super) fn lacks(&self, key: &'static Key) {
        if self.is_there() {
            self.missing.borrow_mut().push(key);
        }
    }

    /// Ends the table: what is missing is noted, what nobody asked for too.
    pub(super) fn finish(self) {
        let asked = self.asked.borrow();
        let mut missing = self.missing.borrow().clone();
        for (key, value) in self.table.into_iter().flatten() {
            let name = key.get_ref().as_ref();
            if asked.contains(name) {
                continue;
            }
            // A key that is only misspelt is not missing on top of it.
            let meant = meant(&self.name, name).map(|key| key.name);
            missing.retain(|key| meant != Some(key.name));
            self.diagnostics.unknown_key(UnknownKey {
                table: self.name.clone(),
                key: name.to_owned(),
                place: self.place(key.span()),
                opens_table: value.get_ref().is_table() || value.get_ref().is_array(),
            });
        }
        missing.retain(|key| !self.diagnostics.is_lost(key.name));
        if missing.is_empty() {
            return;
        }
        let keys: Vec<&'static str> = missing.iter().map(|key| key.name).collect();
        let title = format!("{} lacks {}", self.shown(), listed(&keys));
        let mut problem = Problem::new(self.header.clone(), title).lacking(&keys);
        for key in missing {
            let (example, other) = (key.example, key.or_else());
            problem = problem.help(format!("for example {key} = {example}{other}"));
        }
        self.diagnostics.problem(problem);
    }
}
