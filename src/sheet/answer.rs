//! What a table says to the question for a key.

use super::problem::Problem;
use super::table_reader::TableReader;
use super::value::{Amount, Checked, Found};
use crate::units::{Kind, System};
use std::ops::RangeInclusive;

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
    pub(super) key: &'static str,
    pub(super) kind: Option<Kind>,
    pub(super) state: State<T>,
}

impl<T> Answer<'_, '_, T> {
    /// The value; where the key is absent, that is a problem.
    pub(super) fn needed(self, example: &'static str) -> Option<Found<T>> {
        if matches!(self.state, State::Absent) {
            self.reader.lacks(self.key, example);
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
    pub(super) fn or_value(
        self,
        value: T,
        shown: Amount,
        reason: &'static str,
    ) -> Option<Found<T>> {
        match self.state {
            State::Given(found) => Some(found),
            State::Refused => None,
            State::Absent => {
                let read = shown.shown(System::Metric);
                let key = self.reader.full_key(self.key);
                self.reader.diagnostics.default_used(key, shown, reason);
                Some(Found {
                    value,
                    place: self.reader.header.clone(),
                    read,
                })
            }
        }
    }
}

impl<T: Checked> Answer<'_, '_, T> {
    /// The value, or this number (in SI) where the key is absent; that is told as a default.
    pub(super) fn or(self, default: f64, reason: &'static str) -> Option<Found<T>> {
        let shown = Amount::of(default, self.kind);
        let value = if self.is_absent() {
            self.reader.default_value(self.key, self.kind, default)
        } else {
            default
        };
        self.or_value(T::checked(value)?, shown, reason)
    }
}

impl<T: Copy + Into<f64>> Answer<'_, '_, T> {
    /// The same, a problem where the value (in SI) lies outside a range.
    pub(super) fn within(self, range: RangeInclusive<f64>, why: &str) -> Self {
        let State::Given(found) = &self.state else {
            return self;
        };
        if range.contains(&found.value.into()) {
            return self;
        }
        let shown = |si: f64| Amount::of(si, self.kind).shown(System::Metric);
        let problem = Problem::new(
            found.place.clone(),
            format!("{} = {} is out of range", self.key, found.read),
        )
        .label(format!(
            "must be from {} to {}",
            shown(*range.start()),
            shown(*range.end())
        ));
        self.reader.diagnostics.problem(if why.is_empty() {
            problem
        } else {
            problem.help(why)
        });
        Self {
            state: State::Refused,
            ..self
        }
    }
}
