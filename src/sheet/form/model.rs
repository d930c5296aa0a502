//! A sheet's keys as fields to fill in: what is asked, what is written, what is said of it.

use super::path::KeyPath;
use crate::sheet::keys::Key;
use std::ops::Range;

/// A sheet as a form.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetForm {
    /// The sections in the order a builder thinks of a car; none where the grammar is broken.
    pub sections: Vec<Section>,
    /// What is said of the sheet as a whole, or of a place that is no field's.
    pub said: Vec<Said>,
    /// Whether the sheet's grammar is broken: then only its text can be put right.
    pub is_broken: bool,
}

/// A section of the sheet; for the keys at its very top, one without a name.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Its name in the sheet.
    pub name: &'static str,
    /// Its name for a reader.
    pub title: String,
    /// What it is, in words.
    pub words: &'static str,
    /// Whether a sheet without it is refused.
    pub is_asked_for: bool,
    /// Its entry; of a section that may come again, each.
    pub entries: Vec<Entry>,
    /// One more, not there yet, where it may come again.
    pub blank: Option<Entry>,
    /// What is said of it and of none of its fields.
    pub said: Vec<Said>,
}

/// The keys of one table: of a section, a flywheel, a ring of holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its place in the sheet.
    pub path: KeyPath,
    /// What it is called: by its name, else by its number.
    pub title: String,
    /// Whether the sheet has it.
    pub is_there: bool,
    /// Its fields.
    pub fields: Vec<Field>,
    /// Where one thing can be said in several ways.
    pub choices: Vec<Choice>,
    /// What is said of it and of none of its fields.
    pub said: Vec<Said>,
    /// Bytes of the text that are its own.
    pub(super) body: Option<Range<usize>>,
}

/// One key to fill in.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its place in the sheet, for [`SheetText::set`](super::SheetText::set).
    pub path: KeyPath,
    /// All that is declared of it.
    pub key: &'static Key,
    /// What it is, in words, for a label.
    pub label: String,
    /// How to come by it; empty where that is plain.
    pub help: String,
    /// What it takes, behind "takes".
    pub takes: String,
    /// Units that it may be written in; none where it has no unit.
    pub units: Vec<&'static str>,
    /// What it must be: `10 kg to 50000 kg`.
    pub hard: Option<String>,
    /// What is usual.
    pub usual: Option<String>,
    /// A value as it would be written on paper.
    pub example: String,
    /// What is taken where nothing is written, or where the value is said to be unknown.
    pub default: Option<Default>,
    /// Whether a doubt can be written of it.
    pub takes_doubt: bool,
    /// The value as written, without its doubt; empty where there is none, or where it holds a
    /// table.
    pub value: String,
    /// The doubt as written: `± 5 %`, `to 0.90`, `exactly`.
    pub doubt: String,
    /// How it stands.
    pub state: State,
    /// What is said of it.
    pub said: Vec<Said>,
    /// The table it holds, or the entries of the list of tables.
    pub inner: Vec<Entry>,
    /// One more entry, not there yet, of a list of tables.
    pub blank: Option<Box<Entry>>,
    /// Bytes of the text from its key to the end of its value.
    pub(super) span: Option<Range<usize>>,
}

/// What is taken where the sheet does not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Default {
    /// In the units of the form's system, or in words.
    pub value: String,
    /// Why; empty where the value says it all.
    pub reason: String,
}

/// How a field stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Something is written.
    Given,
    /// It is said to be unknown: a guess stands in, with a wide doubt.
    Unknown,
    /// Nothing is written, and a default is taken.
    Default,
    /// Nothing is written, and the sheet is refused for it.
    Missing,
    /// Nothing is written, and nothing is missed.
    Open,
}

/// One thing that can be said in several ways.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// What it is.
    pub label: &'static str,
    /// The ways, the usual one first.
    pub ways: Vec<Way>,
}

/// A way to say one thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// In words.
    pub label: &'static str,
    /// Names of the fields that belong to it, in this entry.
    pub keys: &'static [&'static str],
    /// Whether the sheet says it in this way.
    pub is_used: bool,
}

/// Whether the sheet is refused for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// The sheet cannot be used.
    Error,
    /// The sheet is used; this is worth a second look.
    Warning,
}

/// Something that the reader of sheets says, in the words of `flyheft check`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// Error or warning.
    pub weight: Weight,
    /// What it is.
    pub title: String,
    /// The words under the mark at the place; may be empty.
    pub mark: String,
    /// What would be right, a sentence each.
    pub help: Vec<String>,
    /// The file, where it is not the sheet itself.
    pub file: Option<String>,
    /// Line in the file, from 1.
    pub line: Option<usize>,
    /// Column, in characters from 1.
    pub column: Option<usize>,
}

impl Said {
    /// Whether the sheet is refused for it.
    pub fn is_error(&self) -> bool {
        self.weight == Weight::Error
    }
}

impl SheetForm {
    /// Every field, those of tables within tables too, without those of entries that are not
    /// there yet.
    pub fn fields(&self) -> Vec<&Field> {
        let entries = self.sections.iter().flat_map(|section| &section.entries);
        let mut all = Vec::new();
        entries.for_each(|entry| entry.add_fields(&mut all));
        all
    }

    /// The field of a place.
    pub fn field(&self, path: &KeyPath) -> Option<&Field> {
        self.fields().into_iter().find(|field| field.path == *path)
    }

    /// All that is said, whatever of.
    pub fn all_said(&self) -> Vec<&Said> {
        let mut all: Vec<&Said> = self.said.iter().collect();
        for section in &self.sections {
            all.extend(&section.said);
            for entry in &section.entries {
                entry.add_said(&mut all);
            }
        }
        all
    }
}

impl Entry {
    fn add_fields<'a>(&'a self, all: &mut Vec<&'a Field>) {
        for field in &self.fields {
            all.push(field);
            for entry in &field.inner {
                entry.add_fields(all);
            }
        }
    }

    fn add_said<'a>(&'a self, all: &mut Vec<&'a Said>) {
        all.extend(&self.said);
        for field in &self.fields {
            all.extend(&field.said);
            for entry in &field.inner {
                entry.add_said(all);
            }
        }
    }
}
