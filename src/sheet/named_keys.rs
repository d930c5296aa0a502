//! The names that stand in a sheet's text and where, found without reading the values: what is
//! named twice in one place is found so, whatever else is wrong around it.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::ops::Range;

/// A name before an `=`, or in a section's header.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    pub(super) name: String,
    pub(super) span: Range<usize>,
    /// Which table it stands in: equal for names of one table. The sheet's own is 0.
    table: usize,
    pub(super) is_header: bool,
}

/// Every name of a text, in order.
pub(super) fn all(text: &str) -> Vec<Named> {
    let mut scan = Scan::default();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        scan.line(line, at);
        at += line.len();
    }
    scan.named
}

/// Each name that stood in its table before, by where it starts, with the first of its name.
pub(super) fn repeated(named: &[Named]) -> BTreeMap<usize, (&Named, &Named)> {
    let mut first: BTreeMap<(usize, &str), &Named> = BTreeMap::new();
    let mut repeated = BTreeMap::new();
    for name in named {
        match first.entry((name.table, name.name.as_str())) {
            Entry::Vacant(entry) => drop(entry.insert(name)),
            Entry::Occupied(entry) => {
                repeated.insert(name.span.start, (name, *entry.get()));
            }
        }
    }
    repeated
}

#[derive(Default)]
struct Scan {
    named: Vec<Named>,
    /// Tables seen so far; each gets the next number.
    tables: usize,
    section: usize,
    /// Brackets open: of a table in braces its number, of a list none.
    open: Vec<Option<usize>>,
    quote: Option<char>,
    escaped: bool,
}

impl Scan {
    fn line(&mut self, line: &str, at: usize) {
        let body = line.trim();
        if self.open.is_empty() && body.starts_with('[') {
            self.header(line, at);
            return;
        }
        self.quote = None;
        for (offset, c) in line.char_indices() {
            if let Some(mark) = self.quote {
                if c == mark && !self.escaped {
                    self.quote = None;
                }
                self.escaped = mark == '"' && c == '\\' && !self.escaped;
                continue;
            }
            match c {
                '"' | '\'' => self.quote = Some(c),
                '#' => return,
                '[' => self.open.push(None),
                '{' => {
                    self.tables += 1;
                    self.open.push(Some(self.tables));
                }
                ']' | '}' => drop(self.open.pop()),
                '=' => self.key_before(line, at, offset),
                _ => {}
            }
        }
    }

    fn header(&mut self, line: &str, at: usize) {
        let start = line.find(|c: char| c != '[' && !c.is_whitespace());
        let start = start.unwrap_or(line.len());
        let rest = line.get(start..).unwrap_or_default();
        let length = rest.find(|c: char| !is_of_a_name(c)).unwrap_or(rest.len());
        self.tables += 1;
        self.section = self.tables;
        self.named.push(Named {
            name: rest.get(..length).unwrap_or_default().to_owned(),
            span: at + start..at + start + length,
            table: 0,
            is_header: true,
        });
    }

    fn key_before(&mut self, line: &str, at: usize, equals: usize) {
        let head = line.get(..equals).unwrap_or_default().trim_end();
        let start = head
            .char_indices()
            .rev()
            .take_while(|(_, c)| is_of_a_name(*c))
            .last();
        let Some((start, _)) = start else { return };
        self.named.push(Named {
            name: head.get(start..).unwrap_or_default().to_owned(),
            span: at + start..at + head.len(),
            table: match self.open.last() {
                Some(braces) => braces.unwrap_or(self.section),
                None => self.section,
            },
            is_header: false,
        });
    }
}

fn is_of_a_name(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn twice(text: &str) -> Vec<(usize, usize)> {
        repeated(&all(text))
            .into_values()
            .map(|(again, first)| (first.span.start, again.span.start))
            .collect()
    }

    #[test]
    fn law_a_name_is_there_twice_within_one_table_alone() {
        assert_eq!(twice("[a]\nx = 1\n[b]\nx = 1\n"), []);
        assert_eq!(twice("[a]\nx = 1\nx = 2 # x = 3\n"), [(4, 10)]);
        assert_eq!(twice("h = [ { n = 1 }, { n = 2 } ]"), []);
        assert_eq!(twice("h = [ { n = 1, n = 2 } ]"), [(8, 15)]);
        assert_eq!(twice("a = \"x = 1, a = 2\""), []);
        assert_eq!(twice("[a]\n[b]\n[a]\n"), [(1, 9)]);
        assert_eq!(twice("a = 1\n[a]\n"), [(0, 7)]);
    }
}
