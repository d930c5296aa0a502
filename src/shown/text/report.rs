//! A result told in tables and sentences, as data: printed for a terminal here, put on a page
//! elsewhere. What is told, and in which words, stands once.

use super::table::Figures;
use super::{assumed, wrapped};
use crate::sheet::Reading;
use std::fmt::Write as _;

/// A result: what it is of, its sections, its cautions.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// The car.
    pub title: String,
    /// What is told of it: a flywheel's name, "Cutting …"; empty where it is the whole sheet.
    pub subject: String,
    /// What is told, in order.
    pub sections: Vec<Section>,
    /// Cautions about the metal, one a line; none where none is cut or checked.
    pub metal_cautions: &'static [&'static str],
    /// The caution about launching; empty where nothing is launched.
    pub launch_caution: &'static str,
}

/// What a section is for a reader who has little time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// What it comes to: a page tells it first.
    Answer,
    /// What the answer rests on.
    Detail,
}

/// Tables and sentences that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What heads it on a page; a terminal shows none. Empty: it goes on with the one before.
    pub heading: &'static str,
    /// Whether it is what the reader came for.
    pub role: Role,
    /// What it tells.
    pub blocks: Vec<Block>,
}

/// One thing told.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A sentence or a few.
    Said(String),
    /// A sentence that must not be overlooked.
    Stop(String),
    /// A table.
    Table(Figures),
}

impl Section {
    /// A section of details.
    pub(super) fn new(heading: &'static str, blocks: Vec<Block>) -> Self {
        Self {
            heading,
            role: Role::Detail,
            blocks,
        }
    }

    /// The same section as what it all comes to.
    pub(super) fn answering(mut self) -> Self {
        self.role = Role::Answer;
        self
    }

    /// A section of sentences.
    pub(super) fn said(heading: &'static str, sentences: Vec<String>) -> Self {
        Self::new(heading, sentences.into_iter().map(Block::Said).collect())
    }
}

impl Report {
    /// The report for a terminal, with how much was taken where the sheet is silent.
    pub fn printed(&self, reading: &Reading) -> String {
        let mut text = format!("{}\n", self.title);
        if !self.subject.is_empty() {
            let _ = writeln!(text, "{}", self.subject);
        }
        for section in self.sections.iter().filter(|s| !s.blocks.is_empty()) {
            text.push('\n');
            for block in &section.blocks {
                text.push_str(&match block {
                    Block::Said(words) | Block::Stop(words) => wrapped(words),
                    Block::Table(table) => table.text(),
                });
            }
        }
        if !self.metal_cautions.is_empty() {
            text.push_str("\nCAUTION\n");
            for caution in self.metal_cautions {
                let _ = write!(text, "- {}", wrapped(caution));
            }
        }
        text.push('\n');
        text.push_str(&assumed(reading));
        if !self.launch_caution.is_empty() {
            text.push_str(&wrapped(self.launch_caution));
        }
        text
    }
}
