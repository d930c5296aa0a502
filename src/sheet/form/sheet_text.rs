//! A sheet that is being edited.

use super::document::Document;
use super::edit;
use super::edit_error::EditError;
use super::entries;
use super::history::History;
use super::path::KeyPath;
use super::written::{join_doubt, split_doubt, to_paper};
use thiserror::Error;

/// What some editors put before a text in UTF-8.
const BYTE_ORDER_MARK: &str = "\u{feff}";

/// A sheet's text, changed value by value. What is not changed keeps its bytes: comments, order,
/// blanks, line ends; and every change can be taken back.
#[derive(Debug, Clone, Default)]
pub struct SheetText {
    text: String,
    mark: bool,
    history: History,
}

/// Bytes that are no text in UTF-8.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("this is not plain UTF-8 text: byte {byte} is part of no character")]
pub struct NoText {
    /// The first byte that is wrong, from 1.
    pub byte: usize,
}

impl SheetText {
    /// A sheet with this text, nothing changed yet.
    pub fn new(text: &str) -> Self {
        let (mark, text) = match text.strip_prefix(BYTE_ORDER_MARK) {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        Self {
            text: text.to_owned(),
            mark,
            history: History::default(),
        }
    }

    /// A sheet with the bytes of a file.
    ///
    /// # Errors
    /// Where they are no UTF-8.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, NoText> {
        match std::str::from_utf8(bytes) {
            Ok(text) => Ok(Self::new(text)),
            Err(error) => Err(NoText {
                byte: error.valid_up_to() + 1,
            }),
        }
    }

    /// The text as the reader of sheets takes it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text as it stands in its file, with the mark before it that some editors put there.
    pub fn bytes(&self) -> Vec<u8> {
        let mark = if self.mark { BYTE_ORDER_MARK } else { "" };
        [mark, &self.text].concat().into_bytes()
    }

    /// The value of a key as it would be written on paper, its doubt with it; `None` where the
    /// key is not there, or stands in a section with a header of its own.
    pub fn value(&self, path: &KeyPath) -> Option<String> {
        let key = path.declared()?;
        let document = Document::parse(&self.text).ok()?;
        let found = document.find(path)?;
        document.line_end(found.value)?;
        Some(to_paper(document.bytes(found.value), key.form))
    }

    /// Sets a key to what is written on paper: `10 1/4 in`, `7,4 kg`, `0.80`, `unknown`. A key
    /// that is not there is put into its section, a section that is not there is made, and the
    /// entry behind the last of a list likewise. An empty paper takes the key out. Whether the
    /// value is right is for the reader of sheets to say.
    ///
    /// Hands back whether anything changed.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn set(&mut self, path: &KeyPath, paper: &str) -> Result<bool, EditError> {
        if self.value(path).is_some_and(|value| value == paper.trim()) {
            return Ok(false);
        }
        let changed = edit::set(&self.text, path, paper)?;
        Ok(self.step(&changed))
    }

    /// The same with the doubt apart: `310 N·m` and `± 5 %`, `0.70` and `to 0.90`, `7.4 kg` and
    /// `exactly`; a doubt without a sign is one to either side.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn set_with_doubt(
        &mut self,
        path: &KeyPath,
        value: &str,
        doubt: &str,
    ) -> Result<bool, EditError> {
        let now = self.value(path).map(|paper| split_doubt(&paper));
        if now.is_some_and(|now| now == (value.trim().to_owned(), doubt.trim().to_owned())) {
            return Ok(false);
        }
        self.set(path, &join_doubt(value, doubt))
    }

    /// Takes out a key with its line, a section, or an entry of a list.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn remove(&mut self, path: &KeyPath) -> Result<bool, EditError> {
        let changed = edit::remove(&self.text, path)?;
        Ok(self.step(&changed))
    }

    /// Puts an empty entry at the end of a list: `flywheel`, `flywheel[0].sections`.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn add_entry(&mut self, list: &KeyPath) -> Result<bool, EditError> {
        let changed = entries::add(&self.text, list)?;
        Ok(self.step(&changed))
    }

    /// Puts a copy of an entry behind it. A flywheel's copy, or a part's, is called so; and it is
    /// not the one in the car.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn copy_entry(&mut self, entry: &KeyPath) -> Result<bool, EditError> {
        let changed = entries::copy(&self.text, entry)?;
        Ok(self.step(&changed))
    }

    /// Moves an entry of a list to another's place, counted from 0; a comment right above its
    /// header goes with it.
    ///
    /// # Errors
    /// See [`EditError`].
    pub fn move_entry(&mut self, entry: &KeyPath, to: usize) -> Result<bool, EditError> {
        let changed = entries::move_to(&self.text, entry, to)?;
        Ok(self.step(&changed))
    }

    /// Takes a whole text in place of this one, as one step.
    pub fn set_text(&mut self, text: &str) -> bool {
        self.step(text.strip_prefix(BYTE_ORDER_MARK).unwrap_or(text))
    }

    fn step(&mut self, to: &str) -> bool {
        self.history.step(&mut self.text, to)
    }

    /// Takes the last change back; hands back whether there was one.
    pub fn undo(&mut self) -> bool {
        self.history.undo(&mut self.text)
    }

    /// Makes the change anew that was taken back last.
    pub fn redo(&mut self) -> bool {
        self.history.redo(&mut self.text)
    }

    /// Changes that can be taken back.
    pub const fn steps(&self) -> usize {
        self.history.steps()
    }

    /// Changes that were taken back and can be made anew.
    pub const fn steps_undone(&self) -> usize {
        self.history.steps_undone()
    }
}
