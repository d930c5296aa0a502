//! Breaks in the sheet's grammar, told in plain words.

use super::problem::{FileId, Place, Problem, Sort};
use crate::units::quote;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

/// What the grammar has against a sheet.
pub(super) struct Breaks {
    pub(super) problems: Vec<Problem>,
    /// Whether a section's header or a list is broken: then keys have strayed to where they do
    /// not belong, and nothing more can be said of the rest.
    pub(super) astray: bool,
}

/// One problem for each line that breaks the grammar.
pub(super) fn breaks(file: FileId, text: &str, table: &DeTable<'_>, errors: &[Error]) -> Breaks {
    let mut breaks = Breaks {
        problems: Vec::new(),
        astray: false,
    };
    let unclosed = errors
        .iter()
        .filter(|error| error.message().starts_with("unclosed array"))
        .filter_map(|error| open_list(table, error.span()?.start));
    let unclosed: Vec<Range<usize>> = unclosed.collect();
    for list in &unclosed {
        breaks.astray = true;
        breaks.problems.push(
            Problem::new(
                Place::at(file, list.start..list.start + 1),
                "this list is never closed",
            )
            .label("opened here")
            .help("close it with ] after its last value"),
        );
    }
    let mut places: Vec<(Range<usize>, &Error)> = errors
        .iter()
        .map(|error| (error.span().unwrap_or(0..0), error))
        .filter(|(span, _)| {
            !unclosed
                .iter()
                .any(|list| list.contains(&span.start) || list.end == span.start)
        })
        .collect();
    places.sort_by_key(|(span, _)| span.start);
    let mut last_line = None;
    for (span, error) in places {
        let line = line_at(text, span.start);
        if last_line == Some(line.start) {
            continue;
        }
        last_line = Some(line.start);
        let line_text = text.get(line.clone()).unwrap_or_default();
        breaks.astray |=
            line_text.trim_start().starts_with('[') && !error.message().starts_with("duplicate");
        breaks.problems.push(told(file, text, &line, span, error));
    }
    for problem in &mut breaks.problems {
        problem.sort = Sort::Grammar;
    }
    breaks
}

/// The line around a byte, without its end.
fn line_at(text: &str, at: usize) -> Range<usize> {
    let at = at.min(text.len());
    let start = text
        .get(..at)
        .and_then(|head| head.rfind('\n'))
        .map_or(0, |i| i + 1);
    let end = text
        .get(at..)
        .and_then(|tail| tail.find('\n'))
        .map_or(text.len(), |i| at + i);
    start..end
}

/// The list that ends (by force) at a byte.
fn open_list(table: &DeTable<'_>, end: usize) -> Option<Range<usize>> {
    fn within(value: &Spanned<DeValue<'_>>, end: usize) -> Option<Range<usize>> {
        match value.get_ref() {
            DeValue::Table(table) => open_list(table, end),
            DeValue::Array(items) => {
                let inner = items.iter().find_map(|item| within(item, end));
                inner.or_else(|| (value.span().end == end).then(|| value.span()))
            }
            _ => None,
        }
    }
    table.iter().find_map(|(_, value)| within(value, end))
}

fn told(
    file: FileId,
    text: &str,
    line: &Range<usize>,
    span: Range<usize>,
    error: &Error,
) -> Problem {
    let line_text = text.get(line.clone()).unwrap_or_default();
    let problem = |title: String| Problem::new(Place::at(file, span.clone()), title);
    if error.message().starts_with("duplicate key") {
        return duplicate(file, text, line, span);
    }
    if line_text.contains(['“', '”', '„', '‘', '’', '«', '»']) {
        return problem("these quotes are a typesetter's".to_owned())
            .help("write plain quotes: \"…\"");
    }
    let body = line_text.trim();
    if body.starts_with('[') && !body.contains('=') {
        return problem(format!("{} is no section's header", quote(body)))
            .help("a section begins with its name in brackets on a line of its own: [engine], and [[flywheel]] for one of several");
    }
    if let Some((key, value)) = body.split_once('=') {
        return value_problem(problem, key.trim(), without_comment(value), error);
    }
    problem(format!("\"{}\" cannot be read", quote(body)))
        .help("each line is a section such as [engine], a key with its value such as limiter = \"7000 rpm\", or a comment after #")
}

fn without_comment(value: &str) -> &str {
    let value = value.trim();
    if value.starts_with(['"', '\'']) {
        return value;
    }
    value.split('#').next().unwrap_or_default().trim()
}

fn value_problem(
    problem: impl Fn(String) -> Problem,
    key: &str,
    value: &str,
    error: &Error,
) -> Problem {
    let shown = quote(value);
    let first = value.chars().next();
    let digits = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.');
    let key = quote(key);
    match first {
        None => problem(format!("{key} has no value")).help(format!("write a value behind the =, or put # before the line: # {key} =")),
        Some('"' | '\'') if value.matches(['"', '\'']).count() % 2 == 1 => {
            problem(format!("{key}: a quote is missing")).help("a text or quantity stands between two quotes: \"7.4 kg\"")
        }
        Some(c) if digits(c) && value.contains(',') && !value.contains(['[', '{']) => {
            problem(format!("{key} = {shown} has a comma in its number")).help(format!(
                "the decimal mark is a point: {}",
                value.replacen(',', ".", 1)
            ))
        }
        Some(c) if digits(c) && value.contains(char::is_alphabetic) => {
            problem(format!("{key} = {shown} stands without quotes"))
                .help(format!("a quantity stands in quotes: {key} = \"{shown}\""))
        }
        Some(c) if digits(c) => problem(format!("{key} = {shown} is no number as it is written here"))
            .help("a digit on both sides of the point and no zero in front: 0.5, 12.0"),
        Some(_) if matches!(value.to_lowercase().as_str(), "true" | "false") => {
            problem(format!("{key} = {shown} is written with a capital"))
                .help(format!("write {key} = {}", value.to_lowercase()))
        }
        Some(c) if c.is_alphabetic() => problem(format!("{key} = {shown} stands without quotes"))
            .help(format!("words stand in quotes: {key} = \"{shown}\"")),
        Some(_) => problem(format!("{key}: {}", error.message()))
            .help("lists stand in [ ], tables in { }, texts and quantities in quotes, with commas between"),
    }
}

fn duplicate(file: FileId, text: &str, line: &Range<usize>, span: Range<usize>) -> Problem {
    let name = text.get(span.clone()).unwrap_or_default();
    let head = text.get(..line.start).unwrap_or_default();
    let this = text.get(line.clone()).unwrap_or_default().trim();
    let is_header = this.starts_with('[');
    let same = |other: &str| {
        let other = other.trim();
        if is_header {
            other.starts_with(this.trim_end_matches(']'))
        } else {
            other
                .split_once('=')
                .is_some_and(|(key, _)| key.trim() == name)
        }
    };
    // A key is there twice within one section; a section within the whole sheet.
    let mut first = None;
    let mut at = 0;
    for other in head.split_inclusive('\n') {
        if !is_header && other.trim_start().starts_with('[') {
            first = None;
        } else if first.is_none() && same(other) {
            let lead = other.len() - other.trim_start().len();
            first = Some(at + lead..at + other.trim_end().len());
        }
        if is_header && first.is_none() && same(other) {
            first = Some(at..at + other.trim_end().len());
        }
        at += other.len();
    }
    let what = if is_header {
        format!("the section {} is there twice", quote(this))
    } else {
        format!("the key {} is there twice", quote(name))
    };
    let problem = Problem::new(Place::at(file, span), what).label("again");
    let problem = match first {
        Some(first) => problem.also(Place::at(file, first), "first here"),
        None => problem,
    };
    if is_header {
        problem.help("put all keys of a section under one header; only [[crank_side]] and [[flywheel]] may come again")
    } else {
        problem.help("keep one of the two")
    }
}
