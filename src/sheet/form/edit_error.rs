//! Why a sheet could not be changed.

use super::path::KeyPath;
use thiserror::Error;

/// Why a sheet could not be changed as asked; it is as it was.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EditError {
    /// The grammar is broken: only the text as a whole can be changed.
    #[error("line {line} breaks the sheet's grammar: put it right in the text first")]
    Broken {
        /// The line, from 1.
        line: usize,
    },
    /// The sheet has no such key.
    #[error("a sheet has no key {path}")]
    UnknownKey {
        /// The path asked for.
        path: KeyPath,
    },
    /// Nothing stands there, or nothing of that sort can.
    #[error("there is nothing at {path} in this sheet that could be changed so")]
    NothingThere {
        /// The path asked for.
        path: KeyPath,
    },
    /// The way the sheet is written leaves no place for the change.
    #[error("{path} cannot be changed in the way this sheet is written: change it in the text")]
    NoWay {
        /// The path asked for.
        path: KeyPath,
    },
}
