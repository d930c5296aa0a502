//! Entries of lists: flywheels and parts of the crank side under headers of their own, sections,
//! holes and extras in braces.

use super::document::{Document, splice, without_lines};
use super::edit::{self, new_section, remove};
use super::edit_error::EditError;
use super::path::{KeyPath, Step};
use super::written::quoted;
use crate::sheet::keys::Form;
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

fn list_of<'a, 't>(
    document: &'a Document<'t>,
    path: &KeyPath,
) -> Option<&'a [Spanned<DeValue<'t>>]> {
    match document.find(path)?.value.get_ref() {
        DeValue::Array(list) => Some(list.as_ref()),
        _ => None,
    }
}

/// The text with another entry at the end of a list, empty yet.
pub(super) fn add(text: &str, list: &KeyPath) -> Result<String, EditError> {
    let unknown = || EditError::UnknownKey { path: list.clone() };
    let key = list.declared().ok_or_else(unknown)?;
    if !matches!(key.form, Form::Sections | Form::Tables) {
        return Err(unknown());
    }
    let document = Document::parse(text)?;
    let there = list_of(&document, list).map_or(0, <[_]>::len);
    let changed = put_in(&document, list, there, None)?;
    counted(changed, list, there + 1)
}

/// A text in which a list has so many entries; else none.
fn counted(changed: String, list: &KeyPath, wanted: usize) -> Result<String, EditError> {
    let there = Document::parse(&changed)
        .ok()
        .map(|document| list_of(&document, list).map_or(0, <[_]>::len));
    if there == Some(wanted) {
        Ok(changed)
    } else {
        Err(EditError::NoWay { path: list.clone() })
    }
}

/// The text with an entry at the end of a list that begins with a key.
pub(super) fn insert(
    document: &Document<'_>,
    list: &KeyPath,
    index: usize,
    line: (&str, &str),
) -> Result<String, EditError> {
    put_in(document, list, index, Some(line))
}

fn put_in(
    document: &Document<'_>,
    list: &KeyPath,
    index: usize,
    line: Option<(&str, &str)>,
) -> Result<String, EditError> {
    let nothing = || EditError::NothingThere {
        path: list.entry(index),
    };
    let body = match line {
        Some((name, bytes)) => format!("{{ {name} = {bytes} }}"),
        None => "{ }".to_owned(),
    };
    let header = format!("[[{}]]", list.declared_name());
    match list_of(document, list) {
        Some(entries) if entries.len() != index => Err(nothing()),
        Some(entries) if document.is_of_headers(entries) => {
            let behind = entries.last().map(|last| document.block(last).end);
            Ok(new_section(document, &header, line, behind))
        }
        Some(_) => push(document, list, &body).ok_or_else(nothing),
        None if index > 0 || document.find(list).is_some() => Err(nothing()),
        None if list.steps().len() == 1 => Ok(new_section(document, &header, line, None)),
        None => edit::insert(document, list, &format!("[ {body} ]")),
    }
}

/// The text with another item at the end of a list in brackets; on a line of its own where the
/// last one has one.
fn push(document: &Document<'_>, list: &KeyPath, body: &str) -> Option<String> {
    let found = document.find(list)?;
    let text = document.text;
    let span = found.value.span();
    let Some(last) = list_of(document, list)?.last() else {
        return Some(splice(text, span, &format!("[ {body} ]")));
    };
    let last = last.span();
    let comma = comma_behind(document, last.end, span.end);
    let Some(line) = own_line(document, &last) else {
        let at = comma.unwrap_or(last.end);
        let before = if comma.is_some() { " " } else { ", " };
        return Some(splice(text, at..at, &format!("{before}{body}")));
    };
    let indent = text.get(line.start..last.start)?;
    let mark = document.line_end_mark();
    let new = format!("{mark}{indent}{body},");
    let changed = splice(text, line.end..line.end, &new);
    Some(match comma {
        Some(_) => changed,
        None => splice(&changed, last.end..last.end, ","),
    })
}

/// End of the comma behind an item, blanks between, if there is one before the list ends.
fn comma_behind(document: &Document<'_>, from: usize, to: usize) -> Option<usize> {
    let rest = document.text.get(from..to)?;
    let mut comment = false;
    for (offset, c) in rest.char_indices() {
        match c {
            '#' => comment = true,
            '\n' => comment = false,
            ',' if !comment => return Some(from + offset + 1),
            c if comment || c.is_whitespace() => {}
            _ => return None,
        }
    }
    None
}

/// The line of an item, without its end, if nothing else but a comma and a comment is on it.
fn own_line(document: &Document<'_>, item: &Range<usize>) -> Option<Range<usize>> {
    let text = document.text;
    let line = document.line_start(item.start)..document.line_stop(item.end);
    let before = text.get(line.start..item.start)?;
    let behind = text.get(item.end..line.end)?.trim_start();
    let behind = behind.strip_prefix(',').unwrap_or(behind).trim_start();
    let alone = before.trim().is_empty() && (behind.is_empty() || behind.starts_with('#'));
    alone.then_some(line)
}

/// The text without a section or an entry that has a header.
pub(super) fn without_block(document: &Document<'_>, section: &Spanned<DeValue<'_>>) -> String {
    let text = document.text;
    let block = document.block(section);
    let next = text.get(block.end..).unwrap_or_default();
    let next = next.len() - next.trim_start().len() + block.end;
    if next < text.len() {
        let next = document.line_start(next);
        return splice(text, block.start..next, "");
    }
    let head = text.get(..block.start).unwrap_or_default();
    splice(text, head.trim_end().len()..block.end, "")
}

/// The text without an entry of a list in brackets.
pub(super) fn without_entry(document: &Document<'_>, path: &KeyPath) -> Option<String> {
    let (list, Step::Index(index)) = path.split_last()? else {
        return None;
    };
    let entries = list_of(document, &list)?;
    let item = entries.get(*index)?.span();
    if own_line(document, &item).is_some() {
        return Some(without_lines(document, &item));
    }
    let mut all: Vec<Range<usize>> = entries.iter().map(Spanned::span).collect();
    Some(without_item(document, &mut all, &item))
}

/// The text without one of the items that commas part.
pub(super) fn without_item(
    document: &Document<'_>,
    all: &mut [Range<usize>],
    item: &Range<usize>,
) -> String {
    all.sort_by_key(|item| item.start);
    let text = document.text;
    let next = all.iter().find(|other| other.start > item.start);
    let before = all.iter().rev().find(|other| other.start < item.start);
    let cut = match (before, next) {
        (_, Some(next)) => item.start..next.start,
        (Some(before), None) => before.end..item.end,
        (None, None) => {
            let comma = comma_behind(document, item.end, text.len());
            item.start..comma.unwrap_or(item.end)
        }
    };
    splice(text, cut, "")
}

/// The text with a copy of an entry behind it. A part gets a name of its own, and a flywheel's
/// copy is not the one in the car.
pub(super) fn copy(text: &str, path: &KeyPath) -> Result<String, EditError> {
    let nothing = || EditError::NothingThere { path: path.clone() };
    let document = Document::parse(text)?;
    let (list, Step::Index(index)) = path.split_last().ok_or_else(nothing)? else {
        return Err(nothing());
    };
    let entry = document.find(path).ok_or_else(nothing)?.value;
    let count = list_of(&document, &list).map_or(0, <[_]>::len);
    let copied = if document.is_header(entry) {
        let block = document.block(entry);
        let mark = document.line_end_mark();
        let bytes = text.get(block.clone()).unwrap_or_default();
        splice(text, block.end..block.end, &format!("{mark}{mark}{bytes}"))
    } else {
        let span = entry.span();
        let bytes = document.bytes(entry);
        match own_line(&document, &span) {
            Some(line) => {
                let mark = document.line_end_mark();
                let indent = text.get(line.start..span.start).unwrap_or_default();
                let again = splice(text, line.end..line.end, &format!("{mark}{indent}{bytes},"));
                let comma = text.get(span.end..line.end).unwrap_or_default();
                if comma.trim_start().starts_with(',') {
                    again
                } else {
                    splice(&again, span.end..span.end, ",")
                }
            }
            None => splice(text, span.end..span.end, &format!(", {bytes}")),
        }
    };
    let copied = counted(copied, &list, count + 1)?;
    if list.steps().len() > 1 {
        return Ok(copied);
    }
    let copy = list.entry(index + 1);
    let document = Document::parse(&copied)?;
    let name = document.find(&copy.key("name"));
    let renamed = name.and_then(|name| {
        let free = copied_name(&document, &list, name.value.get_ref().as_str()?);
        Some(splice(&copied, name.value.span(), &free))
    });
    let renamed = renamed.unwrap_or_else(|| copied.clone());
    match remove(&renamed, &copy.key("fitted")) {
        Err(EditError::NothingThere { .. }) => Ok(renamed),
        other => other,
    }
}

/// What a flywheel, or another part, that was copied is called: its name with "copy" behind it,
/// as no other is called.
fn copied_name(document: &Document<'_>, list: &KeyPath, name: &str) -> String {
    let taken: Vec<String> = match document.find(list).map(|found| found.value.get_ref()) {
        Some(DeValue::Array(list)) => list
            .iter()
            .filter_map(|entry| match entry.get_ref() {
                DeValue::Table(table) => Some(table.get("name")?.get_ref().as_str()?.to_owned()),
                _ => None,
            })
            .collect(),
        _ => Vec::new(),
    };
    let numbered = (1..).map(|number: usize| match number {
        1 => format!("{name}, copy"),
        number => format!("{name}, copy {number}"),
    });
    let mut free = numbered.filter(|name| !taken.contains(name));
    quoted(&free.next().unwrap_or_default())
}

/// The text with an entry moved to another's place; those between move up or down by one.
pub(super) fn move_to(text: &str, path: &KeyPath, to: usize) -> Result<String, EditError> {
    let nothing = || EditError::NothingThere { path: path.clone() };
    let document = Document::parse(text)?;
    let (list, Step::Index(from)) = path.split_last().ok_or_else(nothing)? else {
        return Err(nothing());
    };
    let entries = list_of(&document, &list).ok_or_else(nothing)?;
    if *from >= entries.len() || to >= entries.len() {
        return Err(nothing());
    }
    let ranges = ranges(&document, entries);
    let mut order: Vec<usize> = (0..ranges.len()).collect();
    let moved = order.remove(*from);
    order.insert(to, moved);
    let changed = reordered(text, &ranges, &order);
    counted(changed, &list, entries.len())
}

/// The bytes that move with each entry.
fn ranges(document: &Document<'_>, entries: &[Spanned<DeValue<'_>>]) -> Vec<Range<usize>> {
    if document.is_of_headers(entries) {
        return entries.iter().map(|entry| document.block(entry)).collect();
    }
    // Whole lines move with their comments, where each ends in a comma.
    let line = |entry: &Spanned<DeValue<'_>>| {
        let line = own_line(document, &entry.span())?;
        let behind = document.text.get(entry.span().end..line.end)?;
        behind.trim_start().starts_with(',').then_some(line)
    };
    let lines: Option<Vec<Range<usize>>> = entries.iter().map(line).collect();
    lines.unwrap_or_else(|| entries.iter().map(Spanned::span).collect())
}

/// A text with the pieces at some places put there in another order.
fn reordered(text: &str, ranges: &[Range<usize>], order: &[usize]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    for (place, piece) in ranges.iter().zip(order) {
        let between = text.get(at..place.start).unwrap_or_default();
        let piece = ranges.get(*piece).cloned().unwrap_or_default();
        out.extend([between, text.get(piece).unwrap_or_default()]);
        at = place.end;
    }
    out.push_str(text.get(at..).unwrap_or_default());
    out
}
