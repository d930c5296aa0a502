//! Tables: what is told down the left, one column for each thing it is told of.

use comfy_table::{Cell, CellAlignment, LineStyle, Table, TableStyle};

/// A table with a head line and one row a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figures {
    /// What heads the labels.
    pub first: String,
    /// What heads the figures.
    pub heads: Vec<String>,
    /// The rows in order.
    pub rows: Vec<Row>,
}

/// One row of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Row {
    /// Heads those after it.
    Heading(String),
    /// What it tells, and the figure for each column; blanks before the label set it under the
    /// one before.
    Figures(String, Vec<String>),
}

/// A horizontal rule under the head and nothing else: no frame, no columns' lines.
const RULE_UNDER_HEAD: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

impl Figures {
    /// A table whose columns are headed by these words, after a first column of its own.
    pub(super) fn new(first: &str, heads: &[&str]) -> Self {
        Self {
            first: first.to_owned(),
            heads: heads.iter().map(|head| (*head).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// A row: what it tells, and the figure for each column.
    pub(super) fn row(&mut self, label: &str, figures: impl IntoIterator<Item = String>) {
        let figures = figures.into_iter().collect();
        self.rows.push(Row::Figures(label.to_owned(), figures));
    }

    /// A row of a table that tells of one thing alone.
    pub(super) fn one(&mut self, label: &str, figure: String) {
        self.row(label, [figure]);
    }

    /// A row that heads those after it.
    pub(super) fn heading(&mut self, words: &str) {
        self.rows.push(Row::Heading(words.to_owned()));
    }

    /// The table without a last column that has no head. That is a picture made of letters, for a
    /// terminal; a page draws its own.
    #[must_use]
    pub fn without_picture_of_letters(mut self) -> Self {
        if self.heads.pop_if(|head| head.is_empty()).is_some() {
            for row in &mut self.rows {
                if let Row::Figures(_, figures) = row {
                    figures.pop();
                }
            }
        }
        self
    }

    /// The table as text, no blanks at the ends of lines.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        for line in self.table().to_string().lines() {
            text.push_str(line.strip_prefix(' ').unwrap_or(line).trim_end());
            text.push('\n');
        }
        text
    }

    fn table(&self) -> Table {
        let mut table = Table::new();
        table.load_style(RULE_UNDER_HEAD);
        let heads: Vec<String> = self.heads.iter().map(|words| folded(words)).collect();
        table.set_header(cells(&self.first, &heads));
        for row in &self.rows {
            match row {
                Row::Figures(label, figures) => {
                    table.add_row(cells(label, figures));
                }
                Row::Heading(words) => {
                    let blanks = vec![String::new(); self.heads.len()];
                    table.add_row(cells("", &blanks));
                    table.add_row(cells(words, &blanks));
                }
            }
        }
        table
    }
}

/// A label to the left, figures to the right.
fn cells(label: &str, figures: &[String]) -> Vec<Cell> {
    std::iter::once(Cell::new(label))
        .chain(
            figures
                .iter()
                .map(|figure| Cell::new(figure).set_alignment(CellAlignment::Right)),
        )
        .collect()
}

/// A head of many words on lines of its own, so that columns stay narrow.
fn folded(words: &str) -> String {
    /// A figure's usual width; a word longer than this has its line for itself.
    const COLUMN_CHARACTERS: usize = 13;
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < COLUMN_CHARACTERS => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A column without a head is a picture made of letters and left out; others stay.
    #[test]
    fn law_only_a_picture_of_letters_is_left_out() {
        let table = |heads: &[&str]| {
            let mut table = Figures::new("Unknown", heads);
            table.heading("Tyre");
            table.row("grip", ["1.21", "··█··"].map(String::from));
            table.without_picture_of_letters()
        };
        let figures = |count: usize| {
            let all = ["1.21", "··█··"].map(String::from);
            Row::Figures(String::from("grip"), all[..count].to_vec())
        };
        let drawn = table(&["after", ""]);
        assert_eq!(drawn.heads, ["after"]);
        assert_eq!(drawn.rows, [Row::Heading(String::from("Tyre")), figures(1)]);
        assert_eq!(table(&["after", "seen"]).rows[1], figures(2));
    }
}
