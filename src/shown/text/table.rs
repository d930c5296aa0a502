//! Tables: what is told down the left, one column for each thing it is told of.

use comfy_table::{Cell, CellAlignment, LineStyle, Table, TableStyle};

/// A table with a head line and one row a figure.
pub(super) struct Figures {
    table: Table,
    columns: usize,
}

/// A horizontal rule under the head and nothing else: no frame, no columns' lines.
const RULE_UNDER_HEAD: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

impl Figures {
    /// A table whose columns are headed by these words, after a first column of its own.
    pub(super) fn new(first: &str, heads: &[&str]) -> Self {
        let mut table = Table::new();
        table.load_style(RULE_UNDER_HEAD);
        let mut head = vec![Cell::new(first)];
        head.extend(
            heads
                .iter()
                .map(|word| Cell::new(folded(word)).set_alignment(CellAlignment::Right)),
        );
        table.set_header(head);
        Self {
            table,
            columns: heads.len(),
        }
    }

    /// A row: what it tells, and the figure for each column.
    pub(super) fn row(&mut self, label: &str, figures: impl IntoIterator<Item = String>) {
        let mut row = vec![Cell::new(label)];
        row.extend(
            figures
                .into_iter()
                .map(|figure| Cell::new(figure).set_alignment(CellAlignment::Right)),
        );
        self.table.add_row(row);
    }

    /// A row that heads those after it.
    pub(super) fn heading(&mut self, words: &str) {
        let blanks = vec![String::new(); self.columns];
        self.row("", blanks.clone());
        self.row(words, blanks);
    }

    /// The table as text, no blanks at the ends of lines.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        for line in self.table.to_string().lines() {
            text.push_str(line.strip_prefix(' ').unwrap_or(line).trim_end());
            text.push('\n');
        }
        text
    }
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
