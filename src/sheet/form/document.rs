//! A sheet's text taken apart: where each value, header and entry stands.

use super::edit_error::EditError;
use super::path::{KeyPath, Step};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// Text and tables of a sheet without a fault in its grammar.
pub(super) struct Document<'t> {
    pub(super) text: &'t str,
    pub(super) top: DeTable<'t>,
}

/// What stands at a path.
#[derive(Clone, Copy)]
pub(super) struct Found<'a, 't> {
    /// The key before the `=` or in a header; none for an entry of a list.
    pub(super) key: Option<&'a Spanned<DeString<'t>>>,
    pub(super) value: &'a Spanned<DeValue<'t>>,
}

/// How a table is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Written {
    /// Under a header in brackets.
    Header,
    /// In braces.
    Braces,
    /// By keys with dots in them, or by headers of tables within it.
    Dotted,
}

impl<'t> Document<'t> {
    pub(super) fn parse(text: &'t str) -> Result<Self, EditError> {
        match DeTable::parse(text) {
            Ok(top) => Ok(Self {
                text,
                top: top.into_inner(),
            }),
            Err(error) => {
                let at = error.span().map_or(0, |span| span.start);
                let head = text.get(..at).unwrap_or_default();
                Err(EditError::Broken {
                    line: head.matches('\n').count() + 1,
                })
            }
        }
    }

    /// What stands at a path; the sheet itself is none of it.
    pub(super) fn find<'a>(&'a self, path: &KeyPath) -> Option<Found<'a, 't>> {
        let mut steps = path.steps().iter();
        let Some(Step::Key(first)) = steps.next() else {
            return None;
        };
        let mut found = of_table(&self.top, first)?;
        for step in steps {
            found = match (step, found.value.get_ref()) {
                (Step::Key(name), DeValue::Table(table)) => of_table(table, name)?,
                (Step::Index(index), DeValue::Array(list)) => Found {
                    key: None,
                    value: list.get(*index)?,
                },
                _ => return None,
            };
        }
        Some(found)
    }

    /// The table at a path, the sheet itself included.
    pub(super) fn table(&self, path: &KeyPath) -> Option<&DeTable<'t>> {
        if path.steps().is_empty() {
            return Some(&self.top);
        }
        match self.find(path)?.value.get_ref() {
            DeValue::Table(table) => Some(table),
            _ => None,
        }
    }

    /// The bytes of a value.
    pub(super) fn bytes(&self, value: &Spanned<DeValue<'t>>) -> &'t str {
        self.text.get(value.span()).unwrap_or_default()
    }

    pub(super) fn is_header(&self, value: &Spanned<DeValue<'t>>) -> bool {
        self.written(value) == Some(Written::Header)
    }

    /// How a table is written; none of what is no table.
    pub(super) fn written(&self, value: &Spanned<DeValue<'t>>) -> Option<Written> {
        value
            .get_ref()
            .is_table()
            .then(|| match self.bytes(value).chars().next() {
                Some('[') => Written::Header,
                Some('{') => Written::Braces,
                _ => Written::Dotted,
            })
    }

    /// Whether a list is one of sections with headers of their own.
    pub(super) fn is_of_headers(&self, list: &[Spanned<DeValue<'t>>]) -> bool {
        list.first().is_some_and(|first| self.is_header(first))
    }

    /// End of a value written behind its key; none of what has headers of its own.
    pub(super) fn line_end(&self, value: &Spanned<DeValue<'t>>) -> Option<usize> {
        match (value.get_ref(), self.written(value)) {
            (_, Some(Written::Header)) => None,
            (DeValue::Table(table), Some(Written::Dotted)) => table
                .values()
                .filter_map(|value| self.line_end(value))
                .max(),
            (DeValue::Array(list), _) if self.is_of_headers(list.as_ref()) => None,
            _ => Some(value.span().end),
        }
    }

    /// Starts of all headers, in order.
    pub(super) fn headers(&self) -> Vec<usize> {
        let mut starts = Vec::new();
        for value in self.top.values() {
            self.add_headers(value, &mut starts);
        }
        starts.sort_unstable();
        starts
    }

    fn add_headers(&self, value: &Spanned<DeValue<'t>>, starts: &mut Vec<usize>) {
        match value.get_ref() {
            DeValue::Table(table) => {
                match self.written(value) {
                    Some(Written::Braces) => return,
                    Some(Written::Header) => starts.push(value.span().start),
                    _ => {}
                }
                for value in table.values() {
                    self.add_headers(value, starts);
                }
            }
            DeValue::Array(list) if self.is_of_headers(list.as_ref()) => {
                for value in list {
                    self.add_headers(value, starts);
                }
            }
            _ => {}
        }
    }

    /// A section with its header, from the comment on the lines right above it to its last line
    /// that is not empty; the sections within it are of it.
    pub(super) fn block(&self, section: &Spanned<DeValue<'t>>) -> Range<usize> {
        let header = section.span().start;
        let mut own = Vec::new();
        self.add_headers(section, &mut own);
        let next = self.headers().into_iter();
        let next = next.filter(|start| *start > header && !own.contains(start));
        let end = next
            .min()
            .map_or(self.text.len(), |next| self.with_comment(next));
        let start = self.with_comment(header);
        let body = self.text.get(start..end).unwrap_or_default();
        start..start + body.trim_end().len()
    }

    /// Start of a header's line, or of the comment that stands right above it.
    pub(super) fn with_comment(&self, header: usize) -> usize {
        let mut start = self.line_start(header);
        while start > 0 {
            let above = self.line_start(start - 1);
            let line = self.text.get(above..start).unwrap_or_default();
            if !line.trim_start().starts_with('#') {
                break;
            }
            start = above;
        }
        start
    }

    pub(super) fn line_start(&self, at: usize) -> usize {
        let head = self.text.get(..at).unwrap_or_default();
        head.rfind('\n').map_or(0, |end| end + 1)
    }

    /// End of a line before its line end.
    pub(super) fn line_stop(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        let line = rest.split('\n').next().unwrap_or_default();
        let ends = line.len() < rest.len();
        let line = if ends {
            line.strip_suffix('\r').unwrap_or(line)
        } else {
            line
        };
        at + line.len()
    }

    /// Start of the next line.
    pub(super) fn next_line(&self, at: usize) -> usize {
        let rest = self.text.get(at..).unwrap_or_default();
        rest.find('\n').map_or(self.text.len(), |end| at + end + 1)
    }

    /// What ends a line in this sheet.
    pub(super) fn line_end_mark(&self) -> &'static str {
        match self.text.find('\n') {
            Some(at) if self.text.get(..at).is_some_and(|head| head.ends_with('\r')) => "\r\n",
            _ => "\n",
        }
    }
}

fn of_table<'a, 't>(table: &'a DeTable<'t>, name: &str) -> Option<Found<'a, 't>> {
    let (key, value) = table.get_key_value(name)?;
    Some(Found {
        key: Some(key),
        value,
    })
}

/// A text with other bytes in place of some.
pub(super) fn splice(text: &str, range: Range<usize>, by: &str) -> String {
    let head = text.get(..range.start).unwrap_or_default();
    let tail = text.get(range.end..).unwrap_or_default();
    [head, by, tail].concat()
}

/// The text without the lines that a range lies on.
pub(super) fn without_lines(document: &Document<'_>, range: &Range<usize>) -> String {
    let text = document.text;
    let start = document.line_start(range.start);
    let end = document.next_line(range.end);
    let unended = end == text.len() && !text.ends_with('\n');
    if !unended {
        return splice(text, start..end, "");
    }
    // The line before was the last that had an end.
    let head = text.get(..start).unwrap_or_default();
    let head = head.strip_suffix('\n').unwrap_or(head);
    let head = head.strip_suffix('\r').unwrap_or(head);
    head.to_owned()
}
