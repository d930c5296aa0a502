//! What the page says of the sheet itself: what is wrong with it, what was taken as read.

use crate::sheet::{Reading, Refusal};
use crate::shown::page::assumed::{Assumed, assumed, warnings};
use crate::shown::page::error::PageError;
use crate::shown::page::key_figure::Both;
use askama::Template;

/// A problem as it is told beside the form.
struct Told {
    place: String,
    title: String,
    help: Vec<String>,
}

#[derive(Template)]
#[template(path = "bench/problems.html", config = "src/shown/page/askama.toml")]
struct Problems {
    problems: Vec<Told>,
}

#[derive(Template)]
#[template(path = "bench/assumed.html", config = "src/shown/page/askama.toml")]
struct AssumedPart {
    assumed: Vec<Assumed>,
    warnings: Vec<Both>,
}

/// Everything wrong with a sheet, in the words of `check`; empty where nothing is.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn problems_part(refusal: Option<&Refusal>) -> Result<String, PageError> {
    let problems = refusal.map_or_else(Vec::new, |refusal| {
        let told = refusal.problems().iter().map(|problem| {
            let location = refusal.location(problem);
            let place = match location.line {
                Some(line) => format!("{}, line {line}", file_name(&location.file)),
                None => file_name(&location.file).to_owned(),
            };
            Told {
                place,
                title: problem.title().to_owned(),
                help: std::iter::once(problem.mark_text().to_owned())
                    .filter(|text| !text.is_empty())
                    .chain(problem.help_texts().iter().cloned())
                    .collect(),
            }
        });
        told.collect()
    });
    Ok(Problems { problems }.render()?)
}

/// What was assumed, and what is worth a second look.
///
/// # Errors
/// See [`PageError`]; no sheet causes any of them.
pub fn assumed_part(reading: Option<&Reading>) -> Result<String, PageError> {
    let part = AssumedPart {
        assumed: reading.map(assumed).unwrap_or_default(),
        warnings: reading.map(warnings).unwrap_or_default(),
    };
    Ok(part.render()?)
}

fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}
