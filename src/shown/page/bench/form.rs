//! The sheet's form: every key a field to fill in, what the reader says of it beside it.

use crate::sheet::form::{Entry, Field, Said, Section, SheetForm, State, Weight};
use crate::sheet::keys::Form;
use crate::shown::page::error::PageError;
use askama::Template;

/// The whole form.
#[derive(Template)]
#[template(path = "bench/form.html", config = "src/shown/page/askama.toml")]
struct FormPart<'f> {
    is_broken: bool,
    said: Vec<Line>,
    sections: Vec<SectionPart<'f>>,
}

struct SectionPart<'f> {
    section: &'f Section,
    /// What its fold is known by.
    id: String,
    path: &'static str,
    repeats: bool,
    is_open: bool,
    wrong: usize,
    said: Vec<Line>,
    entries: Vec<EntryPart>,
}

/// A table of the sheet: those of its fields that are asked for, and the rest.
struct EntryPart {
    path: String,
    title: String,
    said: Vec<Line>,
    html: String,
}

#[derive(Template)]
#[template(path = "bench/entry.html", config = "src/shown/page/askama.toml")]
struct EntryFields<'f> {
    id: String,
    asked: Vec<FieldPart<'f>>,
    more: Vec<FieldPart<'f>>,
    more_open: bool,
}

/// What a field is filled in with.
enum Control {
    /// One of a few words; the empty one leaves it out.
    Choice(Vec<(String, String)>),
    /// A line of text.
    Text,
    /// Nothing of its own: it holds tables.
    Tables,
}

struct FieldPart<'f> {
    field: &'f Field,
    path: String,
    control: Control,
    help: String,
    said: Vec<Line>,
    is_wrong: bool,
    /// The tables it holds.
    inner: Vec<EntryPart>,
    /// Whether more of them may be added.
    is_list: bool,
    /// Whether its tables are shown unfolded.
    inner_open: bool,
}

/// One thing said, and whether it keeps the sheet from being used.
struct Line {
    is_error: bool,
    words: String,
}

/// The form as HTML.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn form_part(form: &SheetForm) -> Result<String, PageError> {
    let sections = form.sections.iter().map(section_part);
    let part = FormPart {
        is_broken: form.is_broken,
        said: lines(&form.said),
        sections: sections.collect::<Result<_, _>>()?,
    };
    Ok(part.render()?)
}

fn section_part(section: &Section) -> Result<SectionPart<'_>, PageError> {
    let repeats = section.blank.is_some();
    let wrong = section.entries.iter().map(errors_in).sum::<usize>() + errors(&section.said);
    let missing = section.entries.iter().any(lacks);
    let entries = section.entries.iter().map(entry_part);
    Ok(SectionPart {
        id: format!("s-{}", section.name),
        path: section.name,
        repeats,
        is_open: wrong > 0 || missing,
        wrong,
        said: lines(&section.said),
        entries: entries.collect::<Result<_, _>>()?,
        section,
    })
}

fn entry_part(entry: &Entry) -> Result<EntryPart, PageError> {
    let (asked, more): (Vec<&Field>, Vec<&Field>) = entry
        .fields
        .iter()
        .partition(|field| comes_first(entry, field));
    let more_open = asked.is_empty()
        || more
            .iter()
            .any(|field| !field.said.is_empty() || field.inner.iter().any(|e| errors_in(e) > 0));
    let path = entry.path.to_string();
    let html = EntryFields {
        id: format!("m-{path}"),
        asked: field_parts(asked)?,
        more: field_parts(more)?,
        more_open,
    }
    .render()?;
    Ok(EntryPart {
        title: entry.title.clone(),
        said: lines(&entry.said),
        path,
        html,
    })
}

fn field_parts(fields: Vec<&Field>) -> Result<Vec<FieldPart<'_>>, PageError> {
    fields.into_iter().map(field_part).collect()
}

/// Whether a field stands above the fold: it is asked for, filled in, or one way of several to
/// say what is asked for and the one taken.
fn comes_first(entry: &Entry, field: &Field) -> bool {
    let name = field.key.name;
    let in_way = entry.choices.iter().any(|choice| {
        let any = choice.ways.iter().any(|way| way.is_used);
        let usual = choice.ways.first();
        choice
            .ways
            .iter()
            .any(|way| way.keys.contains(&name) && (way.is_used || (!any && Some(way) == usual)))
    });
    let in_choice = entry
        .choices
        .iter()
        .flat_map(|choice| &choice.ways)
        .any(|way| way.keys.contains(&name));
    match field.state {
        State::Given | State::Unknown | State::Missing => true,
        State::Default | State::Open => in_way || (!in_choice && field.key.is_asked_for()),
    }
}

fn field_part(field: &Field) -> Result<FieldPart<'_>, PageError> {
    let inner = field.inner.iter().map(entry_part);
    Ok(FieldPart {
        path: field.path.to_string(),
        control: control(field),
        help: help(field),
        said: lines(&field.said),
        is_wrong: errors(&field.said) > 0,
        inner: inner.collect::<Result<_, _>>()?,
        is_list: field.blank.is_some(),
        inner_open: field.inner.iter().any(|entry| entry.is_there),
        field,
    })
}

fn control(field: &Field) -> Control {
    let choices = |words: &[&str]| {
        let left_out = match &field.default {
            Some(default) => format!("left out: {}", default.value),
            None => String::from("left out"),
        };
        let mut all = vec![(String::new(), left_out)];
        all.extend(
            words
                .iter()
                .map(|word| ((*word).to_owned(), (*word).to_owned())),
        );
        if !field.value.is_empty() && !words.contains(&field.value.as_str()) {
            all.push((field.value.clone(), field.value.clone()));
        }
        Control::Choice(all)
    };
    match field.key.form {
        Form::Choice(words) => choices(words),
        Form::Flag => choices(&["true", "false"]),
        Form::Table | Form::Tables | Form::Section | Form::Sections => Control::Tables,
        _ => Control::Text,
    }
}

/// What is to be known before filling it in.
fn help(field: &Field) -> String {
    let mut told = Vec::new();
    if !field.help.is_empty() {
        told.push(field.help.replace('`', ""));
    }
    let holds_tables = matches!(control(field), Control::Tables);
    if !field.example.is_empty() && !holds_tables {
        told.push(format!("such as {}", field.example));
    }
    if let Some(hard) = &field.hard {
        told.push(format!("must be from {hard}"));
    }
    if let Some(usual) = &field.usual {
        told.push(format!("usually {usual}"));
    }
    if let Some(default) = &field.default {
        told.push(match default.reason.as_str() {
            "" => format!("left out: {}", default.value),
            reason => format!("left out: {} ({reason})", default.value),
        });
    }
    told.join(" · ")
}

/// Whether anything asked for is not there.
fn lacks(entry: &Entry) -> bool {
    entry
        .fields
        .iter()
        .any(|field| field.state == State::Missing || field.inner.iter().any(lacks))
}

fn errors(said: &[Said]) -> usize {
    said.iter()
        .filter(|said| said.weight == Weight::Error)
        .count()
}

fn errors_in(entry: &Entry) -> usize {
    let of_fields = entry
        .fields
        .iter()
        .map(|field| errors(&field.said) + field.inner.iter().map(errors_in).sum::<usize>());
    errors(&entry.said) + of_fields.sum::<usize>()
}

/// What is said, in the words of `check`.
fn lines(said: &[Said]) -> Vec<Line> {
    let line = |said: &Said| {
        let place = match (&said.file, said.line) {
            (Some(file), Some(line)) => format!(" ({}, line {line})", file_name(file)),
            (Some(file), None) => format!(" ({})", file_name(file)),
            (None, _) => String::new(),
        };
        let mark = Some(&said.mark).filter(|mark| !mark.is_empty());
        let more: Vec<&str> = mark
            .into_iter()
            .chain(&said.help)
            .map(String::as_str)
            .collect();
        let more = more.join("; ");
        Line {
            is_error: said.weight == Weight::Error,
            words: if more.is_empty() {
                format!("{}{place}", said.title)
            } else {
                format!("{}{place}: {more}", said.title)
            },
        }
    };
    said.iter().map(line).collect()
}

fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::form::form;
    use crate::sheet::read_text;
    use crate::sheet::starter::SHEET;
    use crate::units::System;
    use std::path::Path;

    fn html(text: &str) -> String {
        let path = Path::new("car.toml");
        let read = read_text(path, text);
        form_part(&form(path, text, read.as_ref(), System::Metric)).unwrap()
    }

    /// Every field of the form can be filled in by its path, and says what it is.
    #[test]
    fn law_every_value_of_a_sheet_is_in_its_field() {
        let html = html(SHEET);
        let text = form(
            Path::new("car.toml"),
            SHEET,
            read_text(Path::new("car.toml"), SHEET).as_ref(),
            System::Metric,
        );
        let mut seen = 0;
        for field in text.fields() {
            if field.value.is_empty()
                || matches!(control(field), Control::Tables | Control::Choice(_))
            {
                continue;
            }
            let named = format!("name=\"{}\"", field.path);
            let at = html.find(&named).unwrap_or_else(|| panic!("{named}"));
            let control = &html[at..html[at..].find('>').unwrap() + at];
            let value = field
                .value
                .replace('&', "&#38;")
                .replace('"', "&#34;")
                .replace('\'', "&#39;");
            assert!(control.contains(&format!("value=\"{value}\"")), "{control}");
            seen += 1;
        }
        assert!(seen > 60, "{seen}");
    }

    #[test]
    fn law_words_of_a_sheet_are_shown_and_not_run() {
        let html = html("title = \"<script>alert(1)</script>\"\n");
        assert!(!html.contains("<script"));
    }

    /// An empty sheet asks for what it lacks, section by section.
    #[test]
    fn law_what_is_missing_is_asked_for_unfolded() {
        let html = html("");
        for needed in [
            "name=\"car.mass\"",
            "name=\"engine.torque_curve\"",
            "value=\"add:flywheel\"",
        ] {
            assert!(html.contains(needed), "{needed}");
        }
    }

    /// A section in which something is wrong says so, and is unfolded.
    #[test]
    fn law_what_is_wrong_is_counted_at_its_section() {
        let html = html(&SHEET.replace("mass = \"1120 kg\"", "mass = \"heavy\""));
        assert!(html.contains("1 to put right"));
    }
}
