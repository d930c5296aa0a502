//! A key that no part of the reader asked for: the nearest known one, or where it belongs.

use super::diagnostics::UnknownKey;
use super::problem::Problem;
use crate::units::quote;
use std::collections::{BTreeMap, BTreeSet};

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

/// How a table is spoken of: `[engine]`, `[[flywheel]]`, `this ring of holes`.
pub(super) fn spoken(table: &str) -> String {
    match table.rsplit_once('.') {
        Some((_, "sections")) => "this section".to_owned(),
        Some((_, "holes")) => "this ring of holes".to_owned(),
        Some((_, "extras")) => "this extra".to_owned(),
        Some((_, "cut")) => "this pass".to_owned(),
        Some((_, inner)) => inner.to_owned(),
        None => header_of(table),
    }
}

/// Where a table is written: `[engine]`, `[[flywheel]]`, `holes = …`.
pub(super) fn header_of(table: &str) -> String {
    match (table, table.rsplit_once('.')) {
        ("", _) => "the sheet".to_owned(),
        (_, Some((_, inner))) => format!("{inner} = …"),
        ("crank_side" | "flywheel", _) => format!("[[{table}]]"),
        _ => format!("[{table}]"),
    }
}

/// The problem of a key that nobody asked for.
pub(super) fn problem(
    unknown_key: &UnknownKey,
    known: &BTreeMap<String, BTreeSet<&'static str>>,
) -> Problem {
    let key = quote(&unknown_key.key);
    let table = spoken(&unknown_key.table);
    let problem = Problem::new(
        unknown_key.place.clone(),
        format!("{table} has no key \"{key}\""),
    )
    .label("not known here");
    let elsewhere = || {
        known
            .iter()
            .filter(|(table, _)| **table != unknown_key.table)
    };
    let homes: BTreeSet<String> = elsewhere()
        .filter(|(_, keys)| keys.contains(unknown_key.key.as_str()))
        .map(|(table, _)| header_of(table))
        .collect();
    if !homes.is_empty() {
        let homes: Vec<String> = homes.into_iter().collect();
        return problem.help(format!("{key} belongs under {}", homes.join(" or ")));
    }
    let own = known.get(&unknown_key.table);
    if let Some(near) = own.and_then(|keys| nearest(&unknown_key.key, keys.iter().copied())) {
        return problem.help(format!("did you mean {near}?"));
    }
    let others = elsewhere().flat_map(|(_, keys)| keys.iter().copied());
    if !unknown_key.opens_table
        && let Some(near) = nearest(&unknown_key.key, others)
    {
        let homes: BTreeSet<String> = elsewhere()
            .filter(|(_, keys)| keys.contains(near))
            .map(|(table, _)| header_of(table))
            .collect();
        let homes: Vec<String> = homes.into_iter().collect();
        return problem.help(format!(
            "did you mean {near}, under {}?",
            homes.join(" or ")
        ));
    }
    match own {
        Some(keys) => {
            let keys: Vec<&str> = keys.iter().copied().collect();
            problem.help(format!("known here: {}", keys.join(", ")))
        }
        None => problem,
    }
}
