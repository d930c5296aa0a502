//! A key that no part of the reader asked for: the nearest known one, or where it belongs.

use super::keys::{self, Form, Key, TABLES, header_of, spoken};
use super::problem::{Place, Problem};
use super::words::either;
use crate::units::quote;
use std::collections::BTreeSet;

/// A key that nobody asked for.
pub(super) struct UnknownKey {
    pub(super) table: String,
    pub(super) key: String,
    pub(super) place: Place,
    /// Whether it opens a table rather than holds a value.
    pub(super) opens_table: bool,
}

/// Likeness above which a known word is offered for an unknown one (1 is the same word).
const LIKE_ENOUGH: f64 = 0.55;

/// The known word most like a given one, if any is like enough.
pub(super) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let plain = |text: &str| text.to_lowercase().replace([' ', '-', '_'], "");
    let word = plain(word);
    known
        .into_iter()
        .map(|candidate| {
            let plain_candidate = plain(candidate);
            let likeness = strsim::normalized_damerau_levenshtein(&word, &plain_candidate);
            let holds = word.len() > 3
                && plain_candidate.len() > 3
                && (word.contains(&plain_candidate) || plain_candidate.contains(&word));
            (
                if holds {
                    likeness.max(LIKE_ENOUGH)
                } else {
                    likeness
                },
                candidate,
            )
        })
        .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// The key of a table that an unknown name means: by what else it is called, else by likeness.
pub(super) fn meant(table: &str, name: &str) -> Option<&'static Key> {
    keys::also_called(table, name).or_else(|| {
        let near = nearest(name, keys::of_table(table).map(|key| key.name))?;
        keys::in_table(table, near)
    })
}

/// The problem of a key that nobody asked for.
pub(super) fn problem(unknown_key: &UnknownKey) -> Problem {
    let key = quote(&unknown_key.key);
    let own = unknown_key.table.as_str();
    let problem = Problem::new(
        unknown_key.place.clone(),
        format!("{} has no key \"{key}\"", spoken(own)),
    )
    .label("not known here");
    if let Some(meant) = keys::also_called(own, &unknown_key.key) {
        let described = match meant.form {
            Form::Section | Form::Sections => String::new(),
            _ => format!(" {}: {}", meant.name, meant.words.replace('`', "")),
        };
        return problem.help(format!("did you mean {}?{described}", meant.name));
    }
    let homes = homes(own, &|known| known.name == unknown_key.key);
    if !homes.is_empty() {
        return problem.help(format!("{key} belongs under {}", homes.join(" or ")));
    }
    if let Some(meant) = meant(own, &unknown_key.key) {
        return problem.help(format!("did you mean {}?", meant.name));
    }
    if !unknown_key.opens_table
        && let Some(problem) = meant_elsewhere(problem.clone(), unknown_key)
    {
        return problem;
    }
    let known: Vec<&str> = keys::of_table(own).map(|key| key.name).collect();
    problem.help(format!("known here: {}", known.join(", ")))
}

/// The sections, and the tables within this one, that have such a key.
fn homes(own: &str, is_it: &dyn Fn(&Key) -> bool) -> Vec<String> {
    let within = format!("{own}.");
    let homes: BTreeSet<String> = TABLES
        .iter()
        .filter(|table| table.path != own && !table.path.is_empty())
        .filter(|table| !table.path.contains('.') || table.path.starts_with(&within))
        .filter(|table| table.keys.iter().any(|key| is_it(key)))
        .map(|table| header_of(table.path))
        .collect();
    homes.into_iter().collect()
}

/// The same with the nearest key of another section, if there is one.
fn meant_elsewhere(problem: Problem, unknown_key: &UnknownKey) -> Option<Problem> {
    let sections = TABLES
        .iter()
        .filter(|table| !table.path.is_empty() && !table.path.contains('.'));
    let names = sections.flat_map(|table| table.keys.iter().map(|key| key.name));
    let near = nearest(&unknown_key.key, names)?;
    let homes = homes(&unknown_key.table, &|key| key.name == near);
    let homes: Vec<&str> = homes.iter().map(String::as_str).collect();
    Some(problem.help(format!("did you mean {near}, under {}?", either(&homes))))
}
