//! What is wrong with a sheet, where, and what would be right.

use super::words::counted;
use crate::units::unshowable;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use std::fmt;
use std::ops::Range;

/// Problems of one file that a refusal lists; a file with more is wrong from the ground up.
const MOST_SHOWN_PER_FILE: usize = 40;

/// One file's text, with the path it was asked for by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SourceText {
    pub(super) path: String,
    pub(super) text: String,
}

/// Which of the files read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct FileId(pub(super) usize);

/// A place in a file: bytes from and to, or the file as a whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) file: FileId,
    pub(super) span: Option<Range<usize>>,
}

impl Place {
    pub(super) const fn at(file: FileId, span: Range<usize>) -> Self {
        Self {
            file,
            span: Some(span),
        }
    }

    pub(super) const fn whole(file: FileId) -> Self {
        Self { file, span: None }
    }

    pub(super) fn start(&self) -> usize {
        self.span.as_ref().map_or(0, |span| span.start)
    }
}

/// File, line and column of a place, counted from 1; columns count characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Location {
    /// Path of the file, as it was asked for.
    pub file: String,
    /// Line, or `None` where the file as a whole is meant.
    pub line: Option<usize>,
    /// Column.
    pub column: Option<usize>,
}

impl Location {
    pub(super) fn of(place: &Place, sources: &[SourceText]) -> Self {
        let source = sources.get(place.file.0);
        let head = source
            .zip(place.span.as_ref())
            .map(|(source, span)| source.text.get(..span.start).unwrap_or(&source.text));
        Self {
            file: source.map(|s| s.path.clone()).unwrap_or_default(),
            line: head.map(|head| head.matches('\n').count() + 1),
            column: head.map(|head| {
                let line = head.rsplit('\n').next().unwrap_or_default();
                line.chars().count() + 1
            }),
        }
    }
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
        }
        if let Some(column) = self.column {
            write!(f, ":{column}")?;
        }
        Ok(())
    }
}

/// How sure it is that a problem is one of its own: where the sheet's grammar is broken, what
/// seems missing may only have been lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    /// The grammar is broken.
    Grammar,
    /// Something is not there.
    Missing,
    /// Anything else.
    Value,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    pub(super) title: String,
    pub(super) place: Place,
    pub(super) sort: Sort,
    /// Boxed, so that a problem is light enough to hand back as an error.
    more: Box<More>,
}

#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct More {
    label: String,
    help: Vec<String>,
    also: Option<(Place, String)>,
    lacks: Vec<&'static str>,
}

impl Problem {
    pub(super) fn new(place: Place, title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            place,
            sort: Sort::Value,
            more: Box::default(),
        }
    }

    /// Words under the mark.
    pub(super) fn label(mut self, label: impl Into<String>) -> Self {
        self.more.label = label.into();
        self
    }

    /// What would be right.
    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.more.help.push(help.into());
        self
    }

    /// A second place that has to do with it.
    pub(super) fn also(mut self, place: Place, label: impl Into<String>) -> Self {
        self.more.also = Some((place, label.into()));
        self
    }

    /// The keys that are missing, where that is the problem.
    pub(super) fn lacking(mut self, keys: &[&'static str]) -> Self {
        self.more.lacks = keys.to_vec();
        self
    }

    pub(super) fn lacking_keys(&self) -> &[&'static str] {
        &self.more.lacks
    }

    pub(super) const fn sort(mut self, sort: Sort) -> Self {
        self.sort = sort;
        self
    }

    /// What is wrong, with what was read.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The words under the mark; empty where there are none.
    pub fn mark_text(&self) -> &str {
        &self.more.label
    }

    /// What would be right, a sentence each.
    pub fn help_texts(&self) -> &[String] {
        &self.more.help
    }
}

/// The problem of a text that could make a screen show something else, if it is one.
pub(super) fn unshowable_problem(what: &str, text: &str, place: Place) -> Option<Problem> {
    let sign = unshowable(text)?;
    Some(
        Problem::new(place, format!("{what} holds {sign}"))
            .label("it cannot be seen, and a screen would show another text")
            .help("type the text anew, without it"),
    )
}

/// A sheet that cannot be used: everything wrong with it and with the files it names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    sources: Vec<SourceText>,
    problems: Vec<Problem>,
}

impl Refusal {
    pub(super) fn new(sources: Vec<SourceText>, mut problems: Vec<Problem>) -> Self {
        problems.sort_by_key(|problem| (problem.place.file, problem.place.start()));
        Self { sources, problems }
    }

    /// Everything wrong, in the order of the files and their lines.
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// Where a problem of this refusal lies.
    pub fn location(&self, problem: &Problem) -> Location {
        Location::of(&problem.place, &self.sources)
    }

    /// The text a user reads: each problem with its line and a mark under the place.
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let mut out = String::new();
        for (file, source) in self.sources.iter().enumerate() {
            let here = || self.problems.iter().filter(|p| p.place.file.0 == file);
            for problem in here().take(MOST_SHOWN_PER_FILE) {
                out.push_str(&renderer.render(&[self.group(problem)]));
                out.push_str("\n\n");
            }
            let more = here().count().saturating_sub(MOST_SHOWN_PER_FILE);
            if more > 0 {
                out.extend([
                    "… and ",
                    &more.to_string(),
                    " more in ",
                    &source.path,
                    "\n\n",
                ]);
            }
        }
        out.push_str(&self.summary());
        out.push('\n');
        out
    }

    fn summary(&self) -> String {
        let files: Vec<&str> = self
            .sources
            .iter()
            .enumerate()
            .filter(|(file, _)| self.problems.iter().any(|p| p.place.file.0 == *file))
            .map(|(_, source)| source.path.as_str())
            .collect();
        let count = counted(self.problems.len(), "problem");
        format!("{count} in {}; nothing was computed.", files.join(" and "))
    }

    fn group<'a>(&'a self, problem: &'a Problem) -> Group<'a> {
        let mut group = Group::with_title(Level::ERROR.primary_title(problem.title.as_str()));
        let second = problem.more.also.as_ref();
        let together = second.and_then(|(place, label)| {
            self.snippet(&[(&problem.place, &problem.more.label), (place, label)])
        });
        if let Some(snippet) = together {
            group = group.element(snippet);
        } else if let Some(snippet) = self.snippet(&[(&problem.place, &problem.more.label)]) {
            group = group.element(snippet);
        } else if let Some(source) = self.sources.get(problem.place.file.0) {
            group = group.element(Origin::path(source.path.as_str()));
        }
        for help in &problem.more.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        group
    }

    /// The lines from the first to the last of these marks, all in one file.
    fn snippet<'a>(
        &'a self,
        marks: &[(&Place, &'a String)],
    ) -> Option<Snippet<'a, annotate_snippets::Annotation<'a>>> {
        let file = marks.first()?.0.file;
        let source = self.sources.get(file.0)?;
        let mut spans = Vec::new();
        for (place, label) in marks {
            if place.file != file {
                return None;
            }
            spans.push((clipped(&source.text, place.span.as_ref()?), *label));
        }
        let start = spans.iter().map(|(span, _)| span.start).min()?;
        let end = spans.iter().map(|(span, _)| span.end).max()?;
        let from = source.text.get(..start)?.rfind('\n').map_or(0, |at| at + 1);
        let to = source
            .text
            .get(end..)?
            .find('\n')
            .map_or(source.text.len(), |at| end + at);
        let lines = source.text.get(from..to)?.trim_end_matches('\r');
        let line_start = source.text.get(..from)?.matches('\n').count() + 1;
        let mut snippet = Snippet::source(lines)
            .path(source.path.as_str())
            .line_start(line_start);
        for (index, (span, label)) in spans.into_iter().enumerate() {
            let kind = if index == 0 {
                AnnotationKind::Primary
            } else {
                AnnotationKind::Context
            };
            let within = |at: usize| (at - from).min(lines.len());
            let mark = kind.span(within(span.start)..within(span.end));
            snippet = snippet.annotation(if label.is_empty() {
                mark
            } else {
                mark.label(label.as_str())
            });
        }
        Some(snippet)
    }
}

/// A span cut at the end of its first line, with both ends between characters.
fn clipped(text: &str, span: &Range<usize>) -> Range<usize> {
    let floor = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = floor(span.start);
    let end = floor(span.end).max(start);
    let line = text.get(start..end).unwrap_or_default();
    let length = line.find(['\n', '\r']).unwrap_or(line.len());
    start..start + length
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.render(false).trim_end())
    }
}

impl std::error::Error for Refusal {}
