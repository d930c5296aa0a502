//! The notebook that every part of the reader writes in: what is wrong, what is doubtful, what
//! was taken as read, which keys there are.

use super::drawn::{Draw, Memory, ValueDoubt, value_doubt};
use super::fitted_draws::Fitted;
use super::problem::{FileId, Location, Place, Problem, Refusal, SourceText};
use super::unknown::Known;
use super::unknown_key::{self, UnknownKey};
use super::value::Amount;
use super::warnings::{PlacedWarning, Usual, Warning};
use crate::car::doubt::{Doubt, DoubtOrigin};
use crate::car::engine::TorqueCurve;
use crate::car::practice::Practice;
use crate::units::{Kind, System};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

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

#[derive(Default)]
struct Gathered {
    sources: Vec<SourceText>,
    files: Vec<PathBuf>,
    problems: Vec<Problem>,
    warnings: Vec<(Warning, Option<Place>)>,
    defaults: Vec<DefaultUsed>,
    known: BTreeMap<String, BTreeSet<&'static str>>,
    unknown_key: Vec<UnknownKey>,
    doubts: Vec<ValueDoubt>,
    /// Values of which the sheet itself says how far they are in doubt.
    said_of_doubt: usize,
    fitted: Option<Fitted>,
    memory: Memory,
    lost: BTreeSet<String>,
    known_ahead: Known,
}

/// See the module's own words.
#[derive(Default)]
pub(super) struct Diagnostics {
    gathered: RefCell<Gathered>,
    /// Values that stand in place of the sheet's own; then nothing is told but problems.
    draw: Option<Draw>,
}

/// What a notebook holds once the reading is done.
pub(super) struct Outcome {
    pub(super) sources: Vec<SourceText>,
    pub(super) files: Vec<PathBuf>,
    pub(super) problems: Vec<Problem>,
    pub(super) warnings: Vec<PlacedWarning>,
    pub(super) defaults: Vec<DefaultUsed>,
    pub(super) keys: BTreeSet<String>,
    pub(super) doubts: Vec<ValueDoubt>,
    pub(super) fitted: Option<Fitted>,
    pub(super) memory: Memory,
}

impl Diagnostics {
    /// A notebook for reading a sheet again with other values.
    pub(super) fn drawn(draw: Draw) -> Self {
        Self {
            gathered: RefCell::default(),
            draw: Some(draw),
        }
    }

    /// Notes a value's doubt and gives the value to go on with: the sheet's own, or the one drawn
    /// in its place.
    pub(super) fn doubted(
        &self,
        key: String,
        kind: Option<Kind>,
        nominal: f64,
        doubt: (Doubt, DoubtOrigin),
    ) -> f64 {
        if let Some(draw) = &self.draw {
            return draw.values.get(&key).copied().unwrap_or(nominal);
        }
        let doubts = &mut self.gathered.borrow_mut().doubts;
        if doubt.0.is_any() && doubts.iter().all(|other| other.input.key != key) {
            doubts.push(value_doubt(key, kind, nominal, doubt));
        }
        nominal
    }

    /// Whether a sheet is read again with other values: then it was found right before.
    pub(super) fn is_drawn(&self) -> bool {
        self.draw.is_some()
    }

    /// What is in doubt so far.
    pub(super) fn doubts(&self) -> Vec<ValueDoubt> {
        self.gathered.borrow().doubts.clone()
    }

    /// Takes in what a fit has learnt, in place of the doubts of the same values.
    pub(super) fn fitted(&self, fitted: Fitted) {
        let gathered = &mut self.gathered.borrow_mut();
        fitted.replace(&mut gathered.doubts);
        gathered.fitted = Some(fitted);
    }

    /// Takes in what guesses scale from, before the sections are read one by one.
    pub(super) fn look_ahead(&self, known: Known) {
        self.gathered.borrow_mut().known_ahead = known;
    }

    /// What guesses scale from.
    pub(super) fn known_ahead(&self) -> Known {
        self.gathered.borrow().known_ahead
    }

    /// What was drawn in a value's place, where a sheet is read again.
    pub(super) fn drawn_value(&self, key: &str) -> Option<f64> {
        self.draw.as_ref()?.values.get(key).copied()
    }

    /// Counts a value of which the sheet says how far it is in doubt.
    pub(super) fn doubt_said(&self) {
        self.gathered.borrow_mut().said_of_doubt += 1;
    }

    /// Values of which the sheet has said so, up to here.
    pub(super) fn doubts_said(&self) -> usize {
        self.gathered.borrow().said_of_doubt
    }

    /// The torque curve of a file: remembered, or read now.
    pub(super) fn curve(
        &self,
        path: &Path,
        read: impl FnOnce() -> Option<TorqueCurve>,
    ) -> Option<TorqueCurve> {
        if let Some(draw) = &self.draw {
            return draw.curve(path);
        }
        let curve = read()?;
        self.gathered.borrow_mut().memory.keep_curve(path, &curve);
        Some(curve)
    }

    /// The practice launches of a file: remembered, or read now.
    pub(super) fn practice(
        &self,
        path: &Path,
        read: impl FnOnce() -> Option<Practice>,
    ) -> Option<Practice> {
        if let Some(draw) = &self.draw {
            return draw.practice(path);
        }
        let practice = read()?;
        let memory = &mut self.gathered.borrow_mut().memory;
        memory.keep_practice(path, &practice);
        Some(practice)
    }

    /// Takes a file's text in; every place in it goes by the number given back.
    pub(super) fn source(&self, path: &str, text: &str) -> FileId {
        let sources = &mut self.gathered.borrow_mut().sources;
        sources.push(SourceText {
            path: path.to_owned(),
            text: text.to_owned(),
        });
        FileId(sources.len() - 1)
    }

    /// The folder that the file of a place lies in.
    pub(super) fn folder_of(&self, place: &Place) -> PathBuf {
        let gathered = self.gathered.borrow();
        let path = gathered
            .sources
            .get(place.file.0)
            .map(|source| Path::new(&source.path));
        match path.and_then(Path::parent) {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        }
    }

    /// Notes that a file was read.
    pub(super) fn file_read(&self, path: &Path) {
        self.gathered.borrow_mut().files.push(path.to_owned());
    }

    pub(super) fn problem(&self, problem: Problem) {
        self.gathered.borrow_mut().problems.push(problem);
    }

    pub(super) fn warning(&self, warning: Warning, place: Option<&Place>) {
        if self.draw.is_none() {
            let warnings = &mut self.gathered.borrow_mut().warnings;
            warnings.push((warning, place.cloned()));
        }
    }

    /// Notes a warning where a value that no key gives alone lies outside what is usual.
    pub(super) fn check_usual(&self, usual: &Usual, key: String, value: f64, place: &Place) {
        if (usual.low..=usual.high).contains(&value) {
            return;
        }
        let amount = |value| Amount::of(value, usual.kind);
        let warning = Warning::Unusual {
            key,
            what: usual.what,
            read: amount(value),
            low: amount(usual.low),
            high: amount(usual.high),
        };
        self.warning(warning, Some(place));
    }

    pub(super) fn default_used(&self, key: String, value: Amount, reason: &'static str) {
        if self.draw.is_some() {
            return;
        }
        let used = DefaultUsed { key, value, reason };
        let defaults = &mut self.gathered.borrow_mut().defaults;
        // Two wheels that lean on one default are one thing to tell.
        if !defaults.contains(&used) {
            defaults.push(used);
        }
    }

    /// Notes that a table has such a key.
    pub(super) fn known(&self, table: &str, key: &'static str) {
        if self.draw.is_some() {
            return;
        }
        let known = &mut self.gathered.borrow_mut().known;
        known.entry(table.to_owned()).or_default().insert(key);
    }

    pub(super) fn unknown_key(&self, unknown_key: UnknownKey) {
        self.gathered.borrow_mut().unknown_key.push(unknown_key);
    }

    /// Notes keys that stood on lines which could not be read: they are not missing.
    pub(super) fn lost(&self, keys: BTreeSet<String>) {
        self.gathered.borrow_mut().lost.extend(keys);
    }

    /// Whether a key stood on a line that could not be read.
    pub(super) fn is_lost(&self, key: &str) -> bool {
        self.gathered.borrow().lost.contains(key)
    }

    /// Problems noted so far.
    pub(super) fn problem_count(&self) -> usize {
        self.gathered.borrow().problems.len()
    }

    /// Ends the reading of a file by itself: what was found, where nothing is wrong.
    pub(super) fn conclude<T>(self, found: Option<T>) -> Result<T, Refusal> {
        let outcome = self.close();
        match found {
            Some(found) if outcome.problems.is_empty() => Ok(found),
            _ => Err(Refusal::new(outcome.sources, outcome.problems)),
        }
    }

    /// Ends the reading: keys that nobody asked for become problems.
    pub(super) fn close(self) -> Outcome {
        let mut gathered = self.gathered.into_inner();
        for unknown_key in &gathered.unknown_key {
            gathered.problems.push(unknown_key::problem(unknown_key));
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
            files: gathered.files,
            warnings,
            problems: gathered.problems,
            defaults: gathered.defaults,
            keys: keys.collect(),
            doubts: gathered.doubts,
            fitted: gathered.fitted,
            memory: gathered.memory,
            sources,
        }
    }
}
