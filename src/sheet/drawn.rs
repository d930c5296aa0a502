//! Reading a sheet again with other values for what is in doubt in it.

use crate::car::doubt::{Doubt, DoubtOrigin, DoubtedInput};
use crate::car::engine::TorqueCurve;
use crate::car::practice::Practice;
use crate::units::Kind;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A value of the sheet that is in doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct ValueDoubt {
    /// What is in doubt, how far, and where that comes from.
    pub input: DoubtedInput,
    /// What it measures; `None` for a bare number.
    pub kind: Option<Kind>,
}

/// What was read of the files that a sheet names; it need not be read again for each draw.
#[derive(Debug, Default)]
pub(super) struct Memory {
    curves: BTreeMap<PathBuf, TorqueCurve>,
    practice: BTreeMap<PathBuf, Practice>,
}

impl Memory {
    pub(super) fn keep_curve(&mut self, path: &Path, curve: &TorqueCurve) {
        self.curves.insert(path.to_owned(), curve.clone());
    }

    pub(super) fn keep_practice(&mut self, path: &Path, practice: &Practice) {
        self.practice.insert(path.to_owned(), practice.clone());
    }
}

/// One set of values in place of those that the sheet states.
#[derive(Debug)]
pub(super) struct Draw {
    pub(super) values: BTreeMap<String, f64>,
    pub(super) memory: Arc<Memory>,
}

impl Draw {
    pub(super) fn curve(&self, path: &Path) -> Option<TorqueCurve> {
        self.memory.curves.get(path).cloned()
    }

    pub(super) fn practice(&self, path: &Path) -> Option<Practice> {
        self.memory.practice.get(path).cloned()
    }
}

/// What is in doubt of one value.
pub(super) fn value_doubt(
    key: String,
    kind: Option<Kind>,
    nominal: f64,
    (doubt, origin): (Doubt, DoubtOrigin),
) -> ValueDoubt {
    ValueDoubt {
        input: DoubtedInput {
            key,
            nominal,
            doubt,
            origin,
        },
        kind,
    }
}
