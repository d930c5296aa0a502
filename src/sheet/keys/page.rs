//! A key's row in the tables of the page on the sheet (`docs/sheet.md`).

use super::header_of;
use super::key::{Form, Key, WhenAbsent};
use super::of_table;
use crate::units::System;

/// What heads each table.
const HEAD: &str =
    "| key | what it is | takes | default | how to come by it |\n| --- | --- | --- | --- | --- |\n";

/// The table of a table's keys, for the page on the sheet. A flywheel's own keys alone stand in
/// its table: those it shares with every part stand in that of the parts.
pub fn page_table(path: &str) -> String {
    let shared: Vec<&Key> = match path {
        "flywheel" => of_table("crank_side").collect(),
        _ => Vec::new(),
    };
    let own = of_table(path).filter(|key| !shared.contains(key));
    own.fold(HEAD.to_owned(), |table, key| table + &row(key) + "\n")
}

fn row(key: &Key) -> String {
    format!(
        "| `{}` | {} | {} | {} | {} |",
        key.name,
        key.words,
        takes(key),
        default(key),
        key.how
    )
}

fn takes(key: &Key) -> String {
    let range = key.hard.map_or(String::new(), |hard| {
        format!(", {}", hard.shown(key.form.kind(), System::Metric))
    });
    match key.form {
        Form::Quantity(kind) => format!("{}{range}", without_article(kind.with_article())),
        Form::Number => format!("number{range}"),
        Form::Count => format!("whole number{range}"),
        Form::Text => "text".into(),
        Form::File(_) => "file name, beside the sheet".into(),
        Form::Choice(words) => quoted(words),
        Form::Flag => "true or false".into(),
        Form::Numbers => format!(
            "list of bare numbers, each{}",
            range.trim_start_matches(',')
        ),
        Form::Between(kind) => {
            format!(
                "list of two, each a {}{range}",
                without_article(kind.with_article())
            )
        }
        Form::Points => "[[time, share], …]".into(),
        Form::Metal(names) => format!("{}, or a table, below", quoted(names)),
        Form::Table => "table, below".into(),
        Form::Tables => "list of tables, below".into(),
        Form::Section => format!("`{}`", header_of(key.name)),
        Form::Sections => format!("`{}`, one for each", header_of(key.name)),
    }
}

fn without_article(kind: &str) -> &str {
    kind.split_once(' ').map_or(kind, |(_, name)| name)
}

fn quoted(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    let quoted: Vec<&str> = quoted.iter().map(String::as_str).collect();
    crate::sheet::words::either(&quoted)
}

fn default(key: &Key) -> String {
    match key.when_absent {
        WhenAbsent::Needed => "needed".into(),
        WhenAbsent::ThisOr(words) | WhenAbsent::None(words) => words.into(),
        _ => key.default_in_words().unwrap_or_default(),
    }
}
