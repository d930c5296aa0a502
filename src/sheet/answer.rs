//! What a table says to the question for a key.

use super::keys::{Key, WhenAbsent};
use super::table_reader::TableReader;
use super::value::{Amount, Checked, Found};
use crate::units::System;

pub(super) enum State<T> {
    /// The key is not there.
    Absent,
    /// It is there and wrong; the problem is noted.
    Refused,
    /// It is there and right.
    Given(Found<T>),
}

/// The answer, with what it takes to say more about it.
pub(super) struct Answer<'r, 'a, T> {
    pub(super) reader: &'r TableReader<'a>,
    pub(super) key: &'static Key,
    pub(super) state: State<T>,
}

impl<T> Answer<'_, '_, T> {
    /// The value; where the key is absent, that is a problem.
    pub(super) fn needed(self) -> Option<Found<T>> {
        if matches!(self.state, State::Absent) {
            self.reader.lacks(self.key);
        }
        self.given()
    }

    /// The value, if it is there.
    pub(super) fn given(self) -> Option<Found<T>> {
        match self.state {
            State::Given(found) => Some(found),
            State::Absent | State::Refused => None,
        }
    }

    pub(super) fn is_absent(&self) -> bool {
        matches!(self.state, State::Absent)
    }

    /// Whether nothing is wrong with it: absent, or there and right.
    pub(super) fn is_good(&self) -> bool {
        !matches!(self.state, State::Refused)
    }

    /// The value, or this one where the key is absent; that is told as a default.
    pub(super) fn or_value(self, value: T, shown: Amount) -> Option<Found<T>> {
        match self.state {
            State::Given(found) => Some(found),
            State::Refused => None,
            State::Absent => {
                let read = shown.shown(System::Metric);
                let key = self.reader.full_key(self.key);
                self.reader
                    .diagnostics
                    .default_used(key, shown, self.key.reason());
                Some(Found {
                    value,
                    place: self.reader.header.clone(),
                    read,
                })
            }
        }
    }

    /// The value, or this one where the key is absent, which is the word declared for it; that
    /// is told as a default.
    pub(super) fn or_word(self, value: T) -> Option<Found<T>> {
        let WhenAbsent::Word(word, _) = self.key.when_absent else {
            return self.needed();
        };
        self.or_value(value, Amount::Word(word.to_owned()))
    }
}

impl<T: Checked> Answer<'_, '_, T> {
    /// The value, or the one declared for it where the key is absent; that is told as a default.
    pub(super) fn or_default(self) -> Option<Found<T>> {
        match self.key.when_absent {
            WhenAbsent::Value(si, _) => self.or(si),
            _ => self.needed(),
        }
    }

    /// The value, or this number (in SI) where the key is absent; that is told as a default.
    pub(super) fn or(self, default: f64) -> Option<Found<T>> {
        let shown = Amount::of(default, self.key.form.kind());
        let value = if self.is_absent() {
            self.reader.default_value(self.key, default)
        } else {
            default
        };
        self.or_value(T::checked(value)?, shown)
    }
}
