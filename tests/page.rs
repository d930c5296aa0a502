//! The driver's page: its figures are those of `compare --json`, its words are text.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::car::Flywheel;
use flyheft::sheet::starter::{SHEET, TORQUE, TORQUE_FILE};
use flyheft::sheet::{Reading, read_text};
use flyheft::shown::json;
use flyheft::shown::page::{CardWork, card};
use flyheft::study::Unwatched;
use flyheft::study::card::study_card;
use flyheft::study::compare::study_wheels;
use flyheft::study::scatter::draws::Draws;
use flyheft::study::scatter::study::study_scatter;
use flyheft::units::System;
use serde_json::Value;

fn reading(sheet: &str) -> Reading {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(TORQUE_FILE), TORQUE).unwrap();
    read_text(&folder.path().join("car.toml"), sheet).unwrap()
}

/// The page without sliders, and the document of the same studies.
fn page_and_document(sheet: &str) -> (String, Value) {
    let reading = reading(sheet);
    let car = &reading.car;
    let wheels: Vec<&Flywheel> = car.flywheels.all().iter().collect();
    let studies = study_wheels(car, &wheels, &Unwatched).unwrap();
    let scatter = study_scatter(car, &studies, Draws::new(64, 1), &Unwatched).unwrap();
    let studied = study_card(&studies, &scatter, &Unwatched).unwrap();
    let page = card(&CardWork {
        reading: &reading,
        studies: &studies,
        scatter: &scatter,
        card: studied.as_ref(),
        play: None,
        plans: &[],
        system: System::Metric,
    })
    .unwrap();
    let document = json::compare(&reading, &studies, &scatter);
    (page, serde_json::from_str(&document).unwrap())
}

/// The first number of a text, and its decimals.
fn first_number(text: &str) -> (f64, i32) {
    let start = text.find(|c: char| c.is_ascii_digit()).unwrap();
    let number: String = text[start..]
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    let decimals = number.split_once('.').map_or(0, |(_, after)| after.len());
    (number.parse().unwrap(), i32::try_from(decimals).unwrap())
}

/// Every figure that names its place in the document equals the number there, to half its
/// last digit.
#[test]
fn law_figures_equal_those_of_compare() {
    let (page, document) = page_and_document(SHEET);
    let mut figures = 0;
    for piece in page.split("data-json=\"").skip(1) {
        let (path, rest) = piece.split_once('"').unwrap();
        let text = rest.split_once('>').unwrap().1;
        let text = text
            .strip_prefix("<span class=\"metric\">")
            .unwrap_or(text)
            .split('<')
            .next()
            .unwrap();
        let (shown, decimals) = first_number(text);
        let pointer = format!("/{}", path.replace('.', "/"));
        let value = document.pointer(&pointer).unwrap().as_f64().unwrap();
        // Half a last digit, and round-off of the difference.
        let most = 0.500_001 * 10_f64.powi(-decimals);
        assert!(
            (shown - value).abs() <= most,
            "{path}: {text} against {value}"
        );
        figures += 1;
    }
    assert!(figures >= 30, "{figures}");
}

#[test]
fn law_words_of_a_sheet_are_shown_not_run() {
    let sheet = SHEET
        .replacen("title = \"", "title = \"<script>alert(1)</script> ", 1)
        .replacen(
            "name = \"machined\"",
            "name = \"<img src=x onerror=alert(1)>\"",
            1,
        );
    let (page, _) = page_and_document(&sheet);
    assert!(!page.contains("<script>alert"));
    assert!(!page.contains("<img"));
    assert!(page.contains("onerror=alert"), "the name is on the page");
}

/// No address outside the page: nothing to fetch. The name space of SVG is a name, not a place.
#[test]
fn law_a_page_names_nothing_outside_itself() {
    let (page, _) = page_and_document(SHEET);
    let page = page.replace("http://www.w3.org/2000/svg", "");
    for outside in ["http:", "https:", "src=", "href=", "@import", "url("] {
        assert!(!page.contains(outside), "{outside}");
    }
    assert!(page.contains("default-src 'none'"));
}
