//! The notebook that every part of the reader writes in: what is wrong, what is doubtful, what
//! was taken as read, which keys there are.

use super::problem::{FileId, Location, Place, Problem, SourceText};
use super::value::Amount;
use super::warnings::{PlacedWarning, Warning};
use crate::units::System;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// A value that the sheet did not give.
#[derive(Debug, Clone, PartialEq)]
pub struct DefaultUsed {
    /// The key it stands for, with its section: `engine.stall`.
    pub key: String,
    /// What was taken.
    pub value: Amount,
    /// Where the value comes from.
    pub reason: &'static str,
}

impl DefaultUsed {
    /// The value taken, in the units of a system.
    pub fn shown(&self, system: System) -> String {
        self.value.shown(system)
    }
}

/// A key that nobody asked for.
pub(super) struct UnknownKey {
    pub(super) table: String,
    pub(super) key: String,
    pub(super) place: Place,
    /// Whether it opens a table rather than holds a value.
    pub(super) opens_table: bool,
}

#[derive(Default)]
struct Gathered {
    sources: Vec<SourceText>,
    problems: Vec<Problem>,
    warnings: Vec<(Warning, Option<Place>)>,
    defaults: Vec<DefaultUsed>,
    known: BTreeMap<String, BTreeSet<&'static str>>,
    unknown_key: Vec<UnknownKey>,
}

/// See the module's own words.
#[derive(Default)]
pub(super) struct Diagnostics(RefCell<Gathered>);

/// What a notebook holds once the reading is done.
pub(super) struct Outcome {
    pub(super) sources: Vec<SourceText>,
    pub(super) problems: Vec<Problem>,
    pub(super) warnings: Vec<PlacedWarning>,
    pub(super) defaults: Vec<DefaultUsed>,
    pub(super) keys: BTreeSet<String>,
}

impl Diagnostics {
    /// Takes a file's text in; every place in it goes by the number given back.
    pub(super) fn source(&self, path: &str, text: &str) -> FileId {
        let sources = &mut self.0.borrow_mut().sources;
        sources.push(SourceText {
            path: path.to_owned(),
            text: text.to_owned(),
        });
        FileId(sources.len() - 1)
    }

    pub(super) fn problem(&self, problem: Problem) {
        self.0.borrow_mut().problems.push(problem);
    }

    pub(super) fn warning(&self, warning: Warning, place: Option<&Place>) {
        self.0.borrow_mut().warnings.push((warning, place.cloned()));
    }

    pub(super) fn default_used(&self, key: String, value: Amount, reason: &'static str) {
        let used = DefaultUsed { key, value, reason };
        let defaults = &mut self.0.borrow_mut().defaults;
        // Two wheels that lean on one default are one thing to tell.
        if !defaults.contains(&used) {
            defaults.push(used);
        }
    }

    /// Notes that a table has such a key.
    pub(super) fn known(&self, table: &str, key: &'static str) {
        let known = &mut self.0.borrow_mut().known;
        known.entry(table.to_owned()).or_default().insert(key);
    }

    pub(super) fn unknown_key(&self, unknown_key: UnknownKey) {
        self.0.borrow_mut().unknown_key.push(unknown_key);
    }

    /// Problems noted so far.
    pub(super) fn problem_count(&self) -> usize {
        self.0.borrow().problems.len()
    }

    /// Ends the reading: keys that nobody asked for become problems.
    pub(super) fn close(self) -> Outcome {
        let mut gathered = self.0.into_inner();
        for unknown_key in &gathered.unknown_key {
            gathered
                .problems
                .push(super::unknown_key::problem(unknown_key, &gathered.known));
        }
        gathered
            .warnings
            .sort_by_key(|(_, place)| place.as_ref().map(|p| (p.file, p.start())));
        let sources = gathered.sources;
        let warnings = gathered
            .warnings
            .into_iter()
            .map(|(warning, place)| PlacedWarning {
                warning,
                place: place.map(|place| Location::of(&place, &sources)),
            })
            .collect();
        let keys = gathered.known.iter().flat_map(|(table, keys)| {
            keys.iter().map(move |key| match table.as_str() {
                "" => (*key).to_owned(),
                table => format!("{table}.{key}"),
            })
        });
        Outcome {
            warnings,
            problems: gathered.problems,
            defaults: gathered.defaults,
            keys: keys.collect(),
            sources,
        }
    }
}
