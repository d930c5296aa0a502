//! The sections of a sheet: those there is one of, those that may come again, and the missing.

use super::diagnostics::Diagnostics;
use super::keys::{self, Key, header_of};
use super::problem::{Place, Problem};
use super::table_reader::{TableReader, Text};
use super::words::listed;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The sections of a sheet, asked for one by one.
pub(super) struct Sections<'a> {
    pub(super) top: TableReader<'a>,
    missing: Vec<&'static Key>,
}

impl<'a> Sections<'a> {
    pub(super) fn new(
        diagnostics: &'a Diagnostics,
        table: &'a DeTable<'a>,
        text: Text<'a>,
    ) -> Self {
        let place = Place::whole(text.file);
        Self {
            top: TableReader::new(String::new(), Some(table), place, text, diagnostics),
            missing: Vec::new(),
        }
    }

    /// Reads a section that a sheet needs.
    pub(super) fn read<T>(
        &mut self,
        key: &'static Key,
        read: impl FnOnce(&TableReader<'a>) -> T,
    ) -> T {
        if self.value(key).is_none() {
            self.missing.push(key);
        }
        self.read_if_there(key, read)
    }

    /// Reads a section that may be left out: all of it has defaults.
    pub(super) fn read_if_there<T>(
        &self,
        key: &'static Key,
        read: impl FnOnce(&TableReader<'a>) -> T,
    ) -> T {
        let section = self.section(key);
        let found = read(&section);
        section.finish();
        found
    }

    /// A section; where it is not there, a reader of nothing.
    pub(super) fn section(&self, key: &'static Key) -> TableReader<'a> {
        match self.value(key) {
            Some(value) => self.reader(key, self.table_of(key, value), value.span()),
            None => self.nothing(key),
        }
    }

    /// The entries of a section that may come again, and comes once at least.
    pub(super) fn entries(&mut self, key: &'static Key) -> Vec<TableReader<'a>> {
        if self.value(key).is_none() {
            self.missing.push(key);
            return vec![self.nothing(key)];
        }
        self.entries_if_any(key)
    }

    /// The entries of a section that may come again, or not at all.
    pub(super) fn entries_if_any(&self, key: &'static Key) -> Vec<TableReader<'a>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        match value.get_ref() {
            DeValue::Array(items) if !items.is_empty() => (1..)
                .zip(items.iter())
                .map(|(number, item)| self.entry(key, number, item))
                .collect(),
            _ => {
                self.comes_again(key, value.span());
                vec![self.reader(key, as_table(value), value.span())]
            }
        }
    }

    fn entry(
        &self,
        key: &'static Key,
        number: usize,
        item: &'a Spanned<DeValue<'a>>,
    ) -> TableReader<'a> {
        let table = as_table(item);
        if table.is_none() {
            self.comes_again(key, item.span());
        }
        let name = table.and_then(|table| table.get("name")?.get_ref().as_str());
        let address = match name {
            Some(name) => format!("{key}.\"{}\"", name.trim()),
            None => format!("{key}.{number}"),
        };
        self.reader(key, table, item.span()).at(address)
    }

    fn value(&self, key: &'static Key) -> Option<&'a Spanned<DeValue<'a>>> {
        self.top.value(key).or_else(|| self.top.misspelt(key))
    }

    fn reader(
        &self,
        key: &'static Key,
        table: Option<&'a DeTable<'a>>,
        span: Range<usize>,
    ) -> TableReader<'a> {
        self.reader_at(key, table, self.top.place(span))
    }

    fn nothing(&self, key: &'static Key) -> TableReader<'a> {
        self.reader_at(key, None, self.top.header.clone())
    }

    fn reader_at(
        &self,
        key: &'static Key,
        table: Option<&'a DeTable<'a>>,
        header: Place,
    ) -> TableReader<'a> {
        let (text, diagnostics) = (self.top.text, self.top.diagnostics);
        TableReader::new(key.name.to_owned(), table, header, text, diagnostics)
    }

    /// The table of a section that there is one of.
    fn table_of(
        &self,
        key: &'static Key,
        value: &'a Spanned<DeValue<'a>>,
    ) -> Option<&'a DeTable<'a>> {
        let place = self.top.place(value.span());
        match value.get_ref() {
            DeValue::Table(table) => Some(table),
            DeValue::Array(items) if items.iter().any(|item| item.get_ref().is_table()) => {
                self.top.diagnostics.problem(
                    Problem::new(place, format!("there is one {key} only"))
                        .label("written as one of several")
                        .help(format!("write [{key}] with single brackets, once")),
                );
                items.iter().find_map(as_table)
            }
            _ => {
                self.top.diagnostics.problem(
                    Problem::new(place, format!("{key} is a section, not a single value")).help(
                        format!("write [{key}] on a line of its own, and its keys below"),
                    ),
                );
                None
            }
        }
    }

    /// Notes that a section which may come again is not written as one.
    fn comes_again(&self, key: &'static Key, span: Range<usize>) {
        let title = format!("{key} is a section that may come again, once for each");
        self.top
            .diagnostics
            .problem(Problem::new(self.top.place(span), title).help(format!(
                "write [[{key}]] with double brackets, and its keys below"
            )));
    }

    /// Ends the sheet: what nobody asked for and what is missing is noted.
    pub(super) fn finish(self) {
        let (text, diagnostics) = (self.top.text, self.top.diagnostics);
        self.top.finish();
        let mut missing = self.missing;
        missing.retain(|key| !diagnostics.is_lost(key.name));
        if missing.is_empty() {
            return;
        }
        let headers: Vec<String> = missing.iter().map(|key| header_of(key.name)).collect();
        let headers: Vec<&str> = headers.iter().map(String::as_str).collect();
        let problem = Problem::new(
            Place::whole(text.file),
            format!("the sheet lacks {}", listed(&headers)),
        );
        let needs = missing.iter().map(|key| {
            let needed = keys::of_table(key.name).filter(|key| key.is_asked_for());
            let needed = needed.map(|key| format!("{} = {}", key.name, key.example));
            let needed: Vec<String> = needed.collect();
            format!("{} needs {}", header_of(key.name), needed.join(", "))
        });
        let problem = needs.fold(problem, Problem::help);
        diagnostics.problem(problem.help("`flyheft new` writes a sheet with every section"));
    }
}

fn as_table<'a>(value: &'a Spanned<DeValue<'a>>) -> Option<&'a DeTable<'a>> {
    match value.get_ref() {
        DeValue::Table(table) => Some(table),
        _ => None,
    }
}
