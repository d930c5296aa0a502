//! What time slips say, and what becomes of the decision.

use super::answers::fragment;
use super::part::{Fragment, Part};
use crate::sheet::Reading;
use crate::shown::FitWork;
use crate::shown::page::error::PageError;
use crate::shown::page::report::{PageBlock, PageSection, sections};
use crate::shown::text;
use crate::units::System;
use askama::Template;

#[derive(Template)]
#[template(path = "bench/slips.html", config = "src/shown/page/askama.toml")]
struct Slips {
    answers: Vec<PageSection>,
    details: Vec<PageSection>,
    refused: String,
}

/// What they say, or why nothing can be made of them.
///
/// # Errors
/// See [`PageError`]; no slips cause any of them.
pub fn slips(reading: &Reading, work: Result<&FitWork, String>) -> Result<Fragment, PageError> {
    let (slips, said) = match work {
        Ok(work) => {
            let told = |system| text::fit(reading, work, system).sections;
            let (answers, details) = sections(told(System::Metric), told(System::Imperial));
            let slips = Slips {
                answers,
                details,
                refused: String::new(),
            };
            (
                slips,
                String::from("What the slips say has been worked out."),
            )
        }
        Err(refused) => {
            let slips = Slips {
                answers: vec![],
                details: vec![],
                refused: refused.clone(),
            };
            (slips, refused)
        }
    };
    fragment(Part::Slips, &slips, said)
}
