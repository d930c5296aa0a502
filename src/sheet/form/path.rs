//! The place of a value in a sheet: `tyre.grip`, `flywheel[1].sections[0].outer`.

use crate::sheet::keys::{self, Key};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// A step from a table or a list to what is in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// A key of a table.
    Key(String),
    /// An entry of a list, counted from 0.
    Index(usize),
}

/// The place of a value in a sheet, from its top: `flywheel[1].sections[0].outer` is the outer
/// diameter of the first section of the second flywheel.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct KeyPath {
    steps: Vec<Step>,
}

/// A text that is no path.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "\"{read}\" is no place in a sheet; one is written as in flywheel[1].sections[0].outer, entries counted from 0"
)]
pub struct NoPath {
    /// What was read.
    pub read: String,
}

/// Steps of a path at most: the deepest that a sheet has are five.
const MOST_STEPS: usize = 16;

impl KeyPath {
    /// The sheet itself.
    pub const fn top() -> Self {
        Self { steps: Vec::new() }
    }

    /// The place of a key below this one.
    #[must_use]
    pub fn key(&self, name: &str) -> Self {
        self.with(Step::Key(name.to_owned()))
    }

    /// The place of an entry of the list here.
    #[must_use]
    pub fn entry(&self, index: usize) -> Self {
        self.with(Step::Index(index))
    }

    fn with(&self, step: Step) -> Self {
        let mut steps = self.steps.clone();
        steps.push(step);
        Self { steps }
    }

    /// Its steps from the top.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The table or list it lies in, and the last step; `None` for the sheet itself.
    pub fn split_last(&self) -> Option<(Self, &Step)> {
        let (last, steps) = self.steps.split_last()?;
        let steps = steps.to_vec();
        Some((Self { steps }, last))
    }

    /// Name among the declared tables, of a table, or of a key with its table: without the
    /// numbers of entries.
    pub fn declared_name(&self) -> String {
        let names = self.steps.iter().filter_map(|step| match step {
            Step::Key(name) => Some(name.as_str()),
            Step::Index(_) => None,
        });
        names.collect::<Vec<_>>().join(".")
    }

    /// What is declared of the key at this place.
    pub fn declared(&self) -> Option<&'static Key> {
        keys::find(&self.declared_name())
    }

    /// Whether it is this place or lies within it.
    pub fn is_within(&self, other: &Self) -> bool {
        self.steps.starts_with(&other.steps)
    }
}

impl fmt::Display for KeyPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, step) in self.steps.iter().enumerate() {
            match step {
                Step::Key(name) if number == 0 => f.write_str(name)?,
                Step::Key(name) => write!(f, ".{name}")?,
                Step::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}

impl FromStr for KeyPath {
    type Err = NoPath;

    fn from_str(text: &str) -> Result<Self, NoPath> {
        let wrong = || NoPath {
            read: crate::units::quote(text),
        };
        let mut steps = Vec::new();
        for part in text.split('.') {
            let mut pieces = part.split('[');
            let name = pieces.next().unwrap_or_default();
            let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
            if name.is_empty() || !name.chars().all(bare) {
                return Err(wrong());
            }
            steps.push(Step::Key(name.to_owned()));
            for piece in pieces {
                let digits = piece.strip_suffix(']').ok_or_else(wrong)?;
                // A sign is no part of a count.
                if !digits.starts_with(|c: char| c.is_ascii_digit()) {
                    return Err(wrong());
                }
                steps.push(Step::Index(digits.parse().map_err(|_| wrong())?));
            }
        }
        if steps.len() > MOST_STEPS {
            return Err(wrong());
        }
        Ok(Self { steps })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_path_is_read_as_it_is_shown() {
        for text in [
            "title",
            "tyre.grip",
            "flywheel[1].sections[0].outer",
            "crank_side[12].swing.cords",
        ] {
            let path: KeyPath = text.parse().unwrap();
            assert_eq!(path.to_string(), text);
            assert!(path.declared().is_some(), "{text}");
        }
        let outer: KeyPath = "flywheel[1].sections[0].outer".parse().unwrap();
        assert_eq!(outer.declared_name(), "flywheel.sections.outer");
    }

    #[test]
    fn law_what_is_no_path_is_refused() {
        for text in [
            "",
            ".",
            "a.",
            "a[",
            "a[1",
            "a[-1]",
            "a[+1]",
            "a[x]",
            "[0]",
            "a b",
            "a\n",
            "a[99999999999999999999]",
            "a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a",
        ] {
            assert!(text.parse::<KeyPath>().is_err(), "{text:?}");
        }
    }
}
