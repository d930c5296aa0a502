//! Breaks in the sheet's grammar, told in plain words.

use super::named_keys::{self, Named};
use super::problem::{FileId, Place, Problem, Sort};
use crate::units::quote;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::de::{DeTable, Error};

/// A sheet's text with the broken lines blanked out, byte for byte, so that all the rest can be
/// read where it stands.
pub(super) struct Mended {
    pub(super) text: String,
    pub(super) problems: Vec<Problem>,
    /// Whether a section's header was among the broken lines: then keys have strayed to where
    /// they do not belong, and nothing more can be said of the rest.
    pub(super) headers_lost: bool,
    /// Keys that the broken lines held: they are not missing, only lost.
    pub(super) lost: BTreeSet<String>,
}

/// Rounds of reading and blanking at most: a file that breaks in more places is no sheet.
const MOST_ROUNDS: usize = 40;

/// Finds every line that breaks the grammar.
pub(super) fn mend(file: FileId, text: &str) -> Mended {
    let mut mended = Mended {
        text: text.to_owned(),
        problems: Vec::new(),
        headers_lost: false,
        lost: BTreeSet::new(),
    };
    let (_, errors) = DeTable::parse_recoverable(text);
    let lists = if errors.is_empty() {
        Vec::new()
    } else {
        open_lists(text)
    };
    for list in lists {
        let start = list.start;
        mended.problems.push(
            Problem::new(
                Place::at(file, start..start + 1),
                "this list is never closed",
            )
            .label("opened here")
            .help("close it with ] after its last value"),
        );
        mended.lose(line_at(text, start).start..list.end);
    }
    let settled = (0..MOST_ROUNDS).any(|_| {
        let (_, errors) = DeTable::parse_recoverable(&mended.text);
        !mended.take(file, text, &errors)
    });
    mended.headers_lost |= !settled;
    for problem in &mut mended.problems {
        problem.sort = Sort::Grammar;
    }
    mended
}

impl Mended {
    /// Blanks a broken piece, and notes what it held.
    fn lose(&mut self, piece: Range<usize>) {
        let held = self.text.get(piece.clone()).unwrap_or_default();
        let first = held.split(|c: char| c.is_whitespace() || c == '=');
        self.lost.extend(
            first
                .filter(|word| !word.is_empty())
                .take(1)
                .map(str::to_owned),
        );
        let named = named_keys::all(held);
        self.lost.extend(named.into_iter().map(|named| named.name));
        blank(&mut self.text, piece);
    }

    /// Tells the errors of one round, one for each line, and blanks those lines. Whether there
    /// was anything left to blank.
    fn take(&mut self, file: FileId, text: &str, errors: &[Error]) -> bool {
        let place = |error: &Error| error.span().unwrap_or(0..0);
        let named = named_keys::all(&self.text);
        let repeated = named_keys::repeated(&named);
        let twice = |error: &Error| {
            let found = repeated.get(&place(error).start).copied();
            found.filter(|(again, _)| again.span == place(error))
        };
        let mut broken: Vec<&Error> = errors
            .iter()
            .filter(|error| twice(error).is_none())
            .collect();
        if broken.is_empty() {
            let twice = errors.iter().filter_map(twice);
            self.problems
                .extend(twice.map(|(again, first)| duplicate(file, text, again, first)));
            return false;
        }
        broken.sort_by_key(|error| place(error).start);
        let mut blanked = false;
        for error in broken {
            let span = place(error);
            let line = line_at(text, span.start);
            let left = self.text.get(line.clone()).unwrap_or_default();
            if left.trim().is_empty() {
                continue;
            }
            self.headers_lost |= left.trim_start().starts_with('[');
            self.problems.push(told(file, text, &line, span, error));
            self.lose(line);
            blanked = true;
        }
        if !blanked {
            self.headers_lost = true;
            if self.problems.is_empty() {
                let place = errors
                    .first()
                    .map_or(Place::whole(file), |error| Place::at(file, place(error)));
                self.problems
                    .push(Problem::new(place, "the sheet cannot be read from here on"));
            }
        }
        blanked
    }
}

/// Puts blanks in place of all but the line ends.
fn blank(text: &mut String, range: Range<usize>) {
    let blanks: String = text
        .get(range.clone())
        .unwrap_or_default()
        .chars()
        .map(|c| match c {
            '\n' | '\r' => c.to_string(),
            other => " ".repeat(other.len_utf8()),
        })
        .collect();
    if blanks.len() == range.len() {
        text.replace_range(range, &blanks);
    }
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

/// Lists that run into the next key or header, from their bracket to the line before that.
fn open_lists(text: &str) -> Vec<Range<usize>> {
    let mut lists = Vec::new();
    let mut open: Vec<(char, usize)> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if open.last().is_some_and(|(bracket, _)| *bracket == '[') && begins_anew(line) {
            lists.extend(open.first().map(|(_, start)| *start..at));
            open.clear();
        }
        track_brackets(line, at, &mut open);
        at += line.len();
    }
    if open.last().is_some_and(|(bracket, _)| *bracket == '[') {
        lists.extend(open.first().map(|(_, start)| *start..text.len()));
    }
    lists
}

/// Whether a line is a section's header or a key of its own.
fn begins_anew(line: &str) -> bool {
    let name = |text: &str| {
        !text.is_empty()
            && text
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'))
    };
    let line = line.trim();
    let header = line.trim_start_matches('[').trim_end_matches(']').trim();
    (line.starts_with('[') && name(header) && header.starts_with(|c: char| c.is_ascii_alphabetic()))
        || line
            .split_once('=')
            .is_some_and(|(key, _)| name(key.trim()))
}

/// Follows the brackets of values through a line, past texts and comments.
fn track_brackets(line: &str, at: usize, open: &mut Vec<(char, usize)>) {
    let mut quote: Option<char> = None;
    let mut in_value = !open.is_empty();
    let mut escaped = false;
    for (offset, c) in line.char_indices() {
        if let Some(mark) = quote {
            if c == mark && !escaped {
                quote = None;
            }
            escaped = mark == '"' && c == '\\' && !escaped;
            continue;
        }
        match c {
            '"' | '\'' => quote = Some(c),
            '#' => return,
            '=' => in_value = true,
            '[' | '{' if in_value => open.push((c, at + offset)),
            ']' | '}' => drop(open.pop()),
            _ => {}
        }
    }
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
    if line_text.contains(['“', '”', '„', '‘', '’', '«', '»']) {
        return problem("these quotes are a typesetter's".to_owned())
            .help("write plain quotes: \"…\"");
    }
    let body = line_text.trim();
    if body.starts_with('[') && !body.contains('=') {
        let lead = line_text.len() - line_text.trim_start().len();
        let whole = line.start + lead..line.start + lead + body.len();
        return Problem::new(Place::at(file, whole), format!("{} is no section's header", quote(body)))
            .help("a section begins with its name in brackets on a line of its own: [engine], and [[flywheel]] for one of several");
    }
    if let Some((key, value)) = body.split_once('=') {
        return value_problem(problem, key.trim(), without_comment(value), error);
    }
    problem("this line has no =".to_owned())
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
        Some(mark @ ('"' | '\'')) if value.matches(mark).count() % 2 == 1 => {
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

fn duplicate(file: FileId, text: &str, again: &Named, first: &Named) -> Problem {
    let name = quote(&again.name);
    let what = if again.is_header {
        let line = text
            .get(line_at(text, again.span.start))
            .unwrap_or_default();
        format!("the section {} is there twice", quote(line.trim()))
    } else {
        format!("the key {name} is there twice")
    };
    let problem = Problem::new(Place::at(file, again.span.clone()), what)
        .label("again")
        .also(Place::at(file, first.span.clone()), "first here");
    if again.is_header {
        problem.help("put all keys of a section under one header; only [[crank_side]] and [[flywheel]] may come again")
    } else {
        problem.help("keep one of the two")
    }
}
