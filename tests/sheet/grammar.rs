//! Breaks in the grammar are told in plain words, and do not hide what else is wrong.

use crate::{edited, read, refused, refused_text, words};

#[test]
fn law_what_a_beginner_writes_is_told_in_plain_words() {
    refused(
        "mass = \"1120 kg\"",
        "mass = 1120 kg",
        "mass = |1120 kg",
        &["stands without quotes", "mass = \"1120 kg\""],
    );
    refused(
        "final = 3.9",
        "final = 3,9",
        "final = 3|,9",
        &["comma in its number", "decimal mark is a point: 3.9"],
    );
    refused(
        "final = 3.9",
        "final = .9",
        "final = |.9",
        &["a digit on both sides of the point"],
    );
    refused(
        "final = 3.9",
        "final =",
        "final =|\n",
        &["final has no value"],
    );
    refused("final = 3.9", "final 3.9", "final |3.9", &["has no ="]);
    refused(
        "drive = \"rear\"",
        "drive = rear",
        "drive = |rear\n",
        &["words stand in quotes: drive = \"rear\""],
    );
    refused(
        "drive = \"rear\"",
        "drive = “rear”",
        "drive = |“rear”",
        &["plain quotes"],
    );
    refused(
        "drive = \"rear\"",
        "drive = \"rear",
        "drive = \"rear|\n",
        &["a quote is missing"],
    );
    refused(
        "final = 3.9",
        "final = 3.9\nflat_shift = True",
        "flat_shift = |True",
        &["flat_shift = true"],
    );
    refused(
        "[gearbox]",
        "[gearbox",
        "|[gearbox\n",
        &["no section's header", "[engine]"],
    );
    refused(
        "1.13, 0.92]",
        "1.13, 0.92",
        "ratios = |[",
        &["this list is never closed", "]"],
    );
}

#[test]
fn law_a_key_or_section_twice_points_at_both() {
    refused(
        "final = 3.9",
        "final = 3.9\nfinal = 4.1",
        "|final = 4.1",
        &["the key final is there twice", "keep one"],
    );
    let shown = read(&edited(&[("final = 3.9", "final = 3.9\nfinal = 4.1")]))
        .unwrap_err()
        .render(false);
    assert!(
        shown.contains("first here") && shown.contains("again"),
        "{shown}"
    );
    refused(
        "[driver]",
        "[clutch]\n[driver]",
        "[|clutch]\n[driver]",
        &["the section [clutch] is there twice"],
    );
}

/// A broken line here, a bad value there, a broken line elsewhere: all told at once, and what the
/// broken lines held is not told as missing.
#[test]
fn law_a_broken_line_hides_nothing_else() {
    let text = edited(&[
        ("final = 3.9", "final 3.9"),
        ("mass = \"1120 kg\"", "mass = 1120 kg"),
        ("grip = 1.30", "grip = -1"),
    ]);
    let refusal = read(&text).unwrap_err();
    let all: Vec<String> = refusal.problems().iter().map(words).collect();
    assert_eq!(all.len(), 3, "{refusal}");
    assert!(all[2].contains("grip = -1 is out of range"), "{refusal}");
}

/// What is no sheet at all ends soon, however long it is.
#[test]
fn law_a_text_that_is_no_sheet_ends_soon() {
    let text = "900,178\n".repeat(50_000);
    let refusal = read(&text).unwrap_err();
    assert!(!refusal.problems().is_empty());
    assert!(refusal.render(false).len() < 50_000);
}

#[test]
fn law_line_ends_of_any_sort_read_alike() {
    let text = edited(&[]).replace('\n', "\r\n");
    assert_eq!(
        read(&text).map(|r| r.car),
        read(&edited(&[])).map(|r| r.car)
    );
    refused_text(
        &text.replace("final = 3.9", "final = 0"),
        "final = |0",
        &["from 0.1 to 50"],
    );
}
