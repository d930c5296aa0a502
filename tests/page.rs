//! Pages: their figures are those of `compare --json` and of the terminal, their words are text.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use flyheft::sheet::starter::{SHEET, TORQUE, TORQUE_FILE};
use flyheft::sheet::{Reading, read_text};
use flyheft::shown::json;
use flyheft::shown::page::{self, CardWork, card};
use flyheft::shown::text::{self, Block, Report, Row};
use flyheft::study::card::study_card;
use flyheft::study::{Options, Unwatched, compare};
use flyheft::units::System;
use serde_json::Value;

/// Few draws: the page is held against the document of the same comparison.
const OPTIONS: Options = Options { draws: 64, seed: 1 };

fn reading(sheet: &str) -> Reading {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(TORQUE_FILE), TORQUE).unwrap();
    read_text(&folder.path().join("car.toml"), sheet).unwrap()
}

/// The page without sliders, and the document of the same studies.
fn page_and_document(sheet: &str) -> (String, Value) {
    let reading = reading(sheet);
    let car = &reading.car;
    let comparison = compare(car, &OPTIONS, &Unwatched).unwrap();
    let studied = study_card(&comparison, None, &Unwatched).unwrap();
    let page = card(&CardWork {
        reading: &reading,
        comparison: &comparison,
        decision: None,
        card: studied.as_ref(),
        play: None,
        plans: &[],
        system: System::Metric,
    })
    .unwrap();
    let document = json::compare(&reading, &comparison, None);
    (page, serde_json::from_str(&document).unwrap())
}

/// The first number of a text, commas between thousands, and its decimals.
fn first_number(text: &str) -> (f64, i32) {
    let text = text.replace(',', "");
    let start = text.find(|c: char| c.is_ascii_digit()).unwrap();
    let number: String = text[start..]
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    let decimals = number.split_once('.').map_or(0, |(_, after)| after.len());
    (number.parse().unwrap(), i32::try_from(decimals).unwrap())
}

/// Every figure that names its place in the document equals the number there, to half its
/// last digit; where to aim, to the nearest fifty rpm: no driver holds a needle to less.
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
        let step = if path.ends_with("aim.launch_rpm") {
            50.0
        } else {
            10_f64.powi(-decimals)
        };
        let most = 0.500_001 * step;
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
    // Links within the page name a place in it.
    let page = page
        .replace("http://www.w3.org/2000/svg", "")
        .replace("href=\"#", "");
    for outside in ["http:", "https:", "src=", "href=", "@import", "url("] {
        assert!(!page.contains(outside), "{outside}");
    }
    assert!(page.contains("default-src 'none'"));
}

/// What lies round the aim: the band holds it, a miss on top never pays, the unsteadier driver is
/// never quicker, and more grip never slower.
#[test]
fn law_round_the_aim() {
    /// Means are integrals over one table, good to far less than a tenth of a millisecond;
    /// tables of other tracks have launches of their own.
    const ERROR_S: f64 = 0.000_1;
    let reading = reading(SHEET);
    let comparison = compare(&reading.car, &OPTIONS, &Unwatched).unwrap();
    let card = study_card(&comparison, None, &Unwatched).unwrap().unwrap();
    let (round, aim) = (&card.round, &card.wheel.scatter.aim);
    assert!((round.here.aim_rad_s - aim.launch_speed_rad_s).abs() < 1e-9);
    assert!(round.here.band_rad_s.contains(round.here.aim_rad_s));
    assert!(round.off.iter().all(|off| off.costs_s >= -ERROR_S));
    for pair in round.steadiness.windows(2) {
        let [steadier, looser] = pair else { continue };
        let quickest_s = |at: &flyheft::study::round_aim::Steadiness| at.wheels[0].1.mean_s;
        assert!(quickest_s(steadier) <= quickest_s(looser) + ERROR_S);
    }
    let means: Vec<f64> = round.tracks.iter().map(|track| track.aim.mean_s).collect();
    assert_eq!(means.len(), 3);
    assert!(means[0] > means[1] && means[1] > means[2], "{means:?}");
}

/// Every word and figure of a report, in its own order.
fn told(report: &Report) -> Vec<String> {
    let mut told = Vec::new();
    for block in report.sections.iter().flat_map(|section| &section.blocks) {
        match block {
            Block::Said(words) | Block::Stop(words) => told.push(words.clone()),
            Block::Table(table) => {
                told.extend(table.heads.iter().cloned());
                for row in &table.rows {
                    match row {
                        Row::Heading(words) => told.push(words.clone()),
                        Row::Figures(label, figures) => {
                            told.push(label.trim().to_owned());
                            told.extend(figures.iter().cloned());
                        }
                    }
                }
            }
        }
    }
    told
}

/// A page's words without its markup.
fn words_of(page: &str) -> String {
    let mut words = String::new();
    let mut inside = true;
    for c in page.chars() {
        match c {
            '<' => inside = false,
            '>' => inside = true,
            c if inside => words.push(c),
            _ => {}
        }
    }
    words
        .replace("&#34;", "\"")
        .replace("&#39;", "'")
        .replace("&#60;", "<")
        .replace("&#62;", ">")
        .replace("&#38;", "&")
}

/// The bench page of a comparison tells all that the terminal tells, in both systems of units,
/// and its means are those of the document.
#[test]
fn law_the_page_of_a_comparison_tells_what_the_terminal_tells() {
    let reading = reading(&SHEET.replacen("title = \"", "title = \"<script>alert(1)</script> ", 1));
    let car = &reading.car;
    let comparison = compare(car, &OPTIONS, &Unwatched).unwrap();
    let page = page::compare(&reading, &comparison, None, &[], System::Metric).unwrap();
    assert!(!page.contains("<script>") && page.contains("default-src 'none'"));
    let words = words_of(&page);
    for system in [System::Metric, System::Imperial] {
        for said in told(&text::compare(&comparison, None, system)) {
            assert!(words.contains(&said), "not on the page: {said}");
        }
    }
    let document: Value =
        serde_json::from_str(&json::compare(&reading, &comparison, None)).unwrap();
    let (_, means) = page.split_once("Mean sixty-foot time, s</th>").unwrap();
    let cells = means.split("<td>").skip(1);
    for (cell, flywheel) in cells.zip(document["flywheels"].as_array().unwrap()) {
        let mean_s = flywheel["aim"]["mean_s"].as_f64().unwrap();
        let shown_s: f64 = cell.split('<').next().unwrap().parse().unwrap();
        // Half of the last digit shown.
        assert!((shown_s - mean_s).abs() <= 0.000_500_001, "{shown_s}");
    }
}
