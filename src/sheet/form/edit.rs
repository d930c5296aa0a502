//! One change of a sheet's text: a value set, a key put in or taken out. All other lines keep
//! their bytes.

use super::document::{Document, Found, Written, splice, without_lines};
use super::edit_error::EditError;
// A key put in may begin an entry of a list, and an entry is made of keys put in and taken out.
use super::entries;
use super::path::{KeyPath, Step};
use super::written::to_sheet;
use crate::sheet::keys::{self, Form};
use std::ops::Range;
use toml::de::DeTable;

/// The text with a key set to what was written on paper; an empty paper takes the key out.
pub(super) fn set(text: &str, path: &KeyPath, paper: &str) -> Result<String, EditError> {
    let Some(key) = path.declared() else {
        return Err(EditError::UnknownKey { path: path.clone() });
    };
    if paper.trim().is_empty() {
        return match remove(text, path) {
            Err(EditError::NothingThere { .. }) => Ok(text.to_owned()),
            other => other,
        };
    }
    set_bytes(text, path, &to_sheet(paper, key.form))
}

/// The text with these bytes as the value of a key.
fn set_bytes(text: &str, path: &KeyPath, bytes: &str) -> Result<String, EditError> {
    let document = Document::parse(text)?;
    let changed = match document.find(path) {
        Some(found) => {
            if document.line_end(found.value) != Some(found.value.span().end) {
                return Err(EditError::NoWay { path: path.clone() });
            }
            splice(text, found.value.span(), bytes)
        }
        None => insert(&document, path, bytes)?,
    };
    checked(changed, path, bytes)
}

/// A changed text in which the value stands where it should; else none.
fn checked(changed: String, path: &KeyPath, bytes: &str) -> Result<String, EditError> {
    let stands = Document::parse(&changed).is_ok_and(|document| {
        let found = document.find(path);
        found.is_some_and(|found| document.bytes(found.value) == bytes)
    });
    if stands {
        Ok(changed)
    } else {
        Err(EditError::NoWay { path: path.clone() })
    }
}

/// The text with a key that was not there, in its table; a table that is not there is made.
pub(super) fn insert(
    document: &Document<'_>,
    path: &KeyPath,
    bytes: &str,
) -> Result<String, EditError> {
    let nothing = || EditError::NothingThere { path: path.clone() };
    let (parent, Step::Key(name)) = path.split_last().ok_or_else(nothing)? else {
        return Err(nothing());
    };
    if document.table(&parent).is_some() {
        return insert_into(document, &parent, name, bytes);
    }
    let body = format!("{{ {name} = {bytes} }}");
    match parent.split_last() {
        Some((list, Step::Index(index))) => entries::insert(document, &list, *index, (name, bytes)),
        Some((top, Step::Key(section))) if top.steps().is_empty() => {
            let section = format!("[{section}]");
            Ok(new_section(document, &section, Some((name, bytes)), None))
        }
        Some(_) => match document.find(&parent) {
            // A metal by its name becomes a table that keeps the name.
            Some(found) if is_named_metal(&parent, &found) => {
                let known = document.bytes(found.value);
                let body = match name.as_str() {
                    "name" => body,
                    _ => format!("{{ name = {known}, {name} = {bytes} }}"),
                };
                Ok(splice(document.text, found.value.span(), &body))
            }
            Some(_) => Err(nothing()),
            None => insert(document, &parent, &body),
        },
        None => Err(nothing()),
    }
}

fn is_named_metal(path: &KeyPath, found: &Found<'_, '_>) -> bool {
    let metal = path
        .declared()
        .is_some_and(|key| matches!(key.form, Form::Metal(_)));
    metal && found.value.get_ref().is_str()
}

/// The text with a new section, behind a given place or at its end.
pub(super) fn new_section(
    document: &Document<'_>,
    header: &str,
    line: Option<(&str, &str)>,
    behind: Option<usize>,
) -> String {
    let (text, mark) = (document.text, document.line_end_mark());
    let at = behind.unwrap_or(text.trim_end().len());
    let mut section = String::new();
    if at > 0 {
        section.extend([mark, mark]);
    }
    section.push_str(header);
    if let Some((name, bytes)) = line {
        section.extend([mark, name, " = ", bytes]);
    }
    if text.is_empty() {
        section.push_str(mark);
    }
    splice(text, at..at, &section)
}

/// The text with a key in a table that is there.
fn insert_into(
    document: &Document<'_>,
    parent: &KeyPath,
    name: &str,
    bytes: &str,
) -> Result<String, EditError> {
    let no_way = || EditError::NoWay {
        path: parent.key(name),
    };
    let table = document.table(parent).ok_or_else(no_way)?;
    let Some(found) = document.find(parent) else {
        return Ok(insert_at_top(document, name, bytes));
    };
    let before = last_before(document, parent, table, name);
    let text = document.text;
    match document.written(found.value) {
        Some(Written::Header) => {
            let at = before.unwrap_or(found.value.span().end);
            Ok(new_line(document, at, name, bytes))
        }
        Some(Written::Braces) => Ok(match (before, first_key(table)) {
            (Some(at), _) => splice(text, at..at, &format!(", {name} = {bytes}")),
            (None, Some(at)) => splice(text, at..at, &format!("{name} = {bytes}, ")),
            (None, None) => splice(text, found.value.span(), &format!("{{ {name} = {bytes} }}")),
        }),
        _ => {
            let (above, own) = parent.split_last().ok_or_else(no_way)?;
            let Step::Key(own) = own else {
                return Err(no_way());
            };
            if document.line_end(found.value).is_some() {
                return insert_into(document, &above, &format!("{own}.{name}"), bytes);
            }
            // Tables within it have headers, and it has none of its own yet.
            let header = format!("[{}]", parent.declared_name());
            let first = document.headers().into_iter().min();
            let first = first.ok_or_else(no_way)?;
            let at = document.text.get(..document.with_comment(first));
            let at = at.unwrap_or_default().trim_end().len();
            Ok(new_section(
                document,
                &header,
                Some((name, bytes)),
                Some(at),
            ))
        }
    }
}

/// A key of the sheet's own, above all sections.
fn insert_at_top(document: &Document<'_>, name: &str, bytes: &str) -> String {
    let (text, mark) = (document.text, document.line_end_mark());
    let ends = document.top.values();
    let last = ends.filter_map(|value| document.line_end(value)).max();
    if let Some(at) = last {
        return new_line(document, at, name, bytes);
    }
    let Some(header) = document.headers().into_iter().min() else {
        let at = text.trim_end().len();
        let before = if at == 0 { "" } else { mark };
        let after = if text.is_empty() { mark } else { "" };
        return splice(text, at..at, &format!("{before}{name} = {bytes}{after}"));
    };
    let above = document.with_comment(header);
    // A comment at the very top speaks of the whole sheet.
    let at = if above == 0 {
        document.line_start(header)
    } else {
        above
    };
    splice(text, at..at, &format!("{name} = {bytes}{mark}{mark}"))
}

/// A new line behind the one that ends the value before.
fn new_line(document: &Document<'_>, after: usize, name: &str, bytes: &str) -> String {
    let at = document.line_stop(after);
    let mark = document.line_end_mark();
    splice(document.text, at..at, &format!("{mark}{name} = {bytes}"))
}

/// End of the value behind which a new key stands best: of those that are declared before it,
/// the last. Of keys with dots, and of ones that nobody declared, the last of all.
fn last_before(
    document: &Document<'_>,
    parent: &KeyPath,
    table: &DeTable<'_>,
    name: &str,
) -> Option<usize> {
    let declared: Vec<&str> = keys::of_table(&parent.declared_name())
        .map(|key| key.name)
        .collect();
    let rank = |name: &str| declared.iter().position(|known| *known == name);
    let own = rank(name).unwrap_or(usize::MAX);
    table
        .iter()
        .filter_map(|(key, value)| {
            let rank = rank(key.get_ref()).unwrap_or(usize::MAX);
            let end = document.line_end(value)?;
            (rank < own || own == usize::MAX).then_some((rank, end))
        })
        .max_by_key(|(rank, end)| {
            if own == usize::MAX {
                (0, *end)
            } else {
                (*rank, *end)
            }
        })
        .map(|(_, end)| end)
}

fn first_key(table: &DeTable<'_>) -> Option<usize> {
    table.keys().map(|key| key.span().start).min()
}

/// The text without a key, a section or an entry of a list.
pub(super) fn remove(text: &str, path: &KeyPath) -> Result<String, EditError> {
    let document = Document::parse(text)?;
    let nothing = || EditError::NothingThere { path: path.clone() };
    let no_way = || EditError::NoWay { path: path.clone() };
    let found = document.find(path).ok_or_else(nothing)?;
    let changed = if document.is_header(found.value) {
        entries::without_block(&document, found.value)
    } else if let Some(key) = found.key {
        let (parent, _) = path.split_last().ok_or_else(nothing)?;
        if document.line_end(found.value) != Some(found.value.span().end) {
            return Err(no_way());
        }
        let range = key.span().start..found.value.span().end;
        let braces = document
            .find(&parent)
            .and_then(|parent| document.written(parent.value))
            == Some(Written::Braces);
        if braces {
            let table = document.table(&parent).ok_or_else(nothing)?;
            let mut ends: Vec<Range<usize>> = Vec::new();
            for (key, value) in table {
                let end = document.line_end(value).unwrap_or(value.span().end);
                ends.push(key.span().start..end);
            }
            entries::without_item(&document, &mut ends, &range)
        } else {
            without_lines(&document, &range)
        }
    } else {
        entries::without_entry(&document, path).ok_or_else(nothing)?
    };
    let gone = Document::parse(&changed)
        .is_ok_and(|document| found.key.is_none() || document.find(path).is_none());
    if gone { Ok(changed) } else { Err(no_way()) }
}
