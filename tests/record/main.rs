//! The record: what every command says today, of every car in the tree, so that nothing moves
//! unnoticed. A change that is meant is taken over with
//! `INSTA_UPDATE=always cargo test --test record`, and read in the diff.
//!
//! Texts of the demo cars stand in full. Everything else (documents, tables, charts, pages) stands
//! as its length in lines and a digest, its numbers rounded: their last digits belong to the
//! processor and its library of functions.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test stops at the first thing that is not there"
)]

use assert_cmd::cargo::cargo_bin_cmd;
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// Digits that numbers keep in a digest.
const DIGITS: usize = 5;
/// Letters of a digest that are written down: 64 bits tell any two apart.
const DIGEST_LETTERS: usize = 16;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Sheets in a folder, by name.
fn sheets(folder: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(root().join(folder)).expect("a folder");
    let mut sheets: Vec<PathBuf> = entries
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    sheets.sort();
    sheets
}

fn name(path: &Path) -> String {
    path.file_stem()
        .expect("a name")
        .to_string_lossy()
        .into_owned()
}

/// What a command prints; the exit status, where it fails.
fn said(words: &str, sheet: &Path) -> String {
    let mut words = words.split_whitespace();
    let output = cargo_bin_cmd!("flyheft")
        .arg(words.next().expect("a command"))
        .arg(sheet)
        .args(words)
        .arg("--quiet")
        .current_dir(root())
        .output()
        .expect("the program runs");
    let text = String::from_utf8(output.stdout).expect("text");
    match output.status.code() {
        Some(0) => text,
        code => format!(
            "{text}ends with {code:?}: {}",
            String::from_utf8_lossy(&output.stderr).replace(&*root().to_string_lossy(), ".")
        ),
    }
}

/// A text with its numbers rounded.
fn rounded(text: &str) -> String {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let mut rounded = String::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(start);
        let (number, after) = from.split_at(from.find(|c| !is_part(c)).unwrap_or(from.len()));
        rounded.push_str(before);
        match number.parse::<f64>() {
            Ok(value) if number.len() > DIGITS => {
                write!(rounded, "{value:.*e}", DIGITS - 1).expect("room");
            }
            _ => rounded.push_str(number),
        }
        rest = after;
    }
    rounded + rest
}

/// A text in one line: how many lines it has, and a digest.
fn digest(text: &str) -> String {
    let digest = Sha256::digest(rounded(text));
    let letters = digest.iter().fold(String::new(), |mut letters, byte| {
        write!(letters, "{byte:02x}").expect("room");
        letters
    });
    let (told, _) = letters.split_at(DIGEST_LETTERS);
    format!("{} lines, {told}", text.lines().count())
}

/// What a command does with a file option, as a digest of the file.
fn file(words: &str, option: &str, sheet: &Path) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("made");
    let words = format!("{words} {option} {}", path.display());
    let text = said(&words, sheet);
    match std::fs::read_to_string(&path) {
        Ok(made) => digest(&made),
        Err(_) => text.replace(&*folder.path().to_string_lossy(), "FOLDER"),
    }
}

#[test]
fn regression_demo_cars_in_words() {
    for sheet in sheets("demo-data") {
        let mut record = String::new();
        for words in [
            "check",
            "check --units imperial",
            "inertia",
            "launch --to 60",
            "window",
            "gearing --final 3.9,4.3",
            "cut",
            "swing",
            "practice",
        ] {
            let text = said(words, &sheet);
            write!(record, "## {words}\n\n{}\n\n", text.trim_end()).expect("room");
        }
        insta::assert_snapshot!(name(&sheet), record);
    }
}

/// The dear commands, with few draws and sheets: what they say is not to be believed, only to
/// stay.
#[test]
fn regression_the_choice_in_words() {
    let sheet = root().join("demo-data/bogger.toml");
    for (name, words) in [
        ("compare", "compare --draws 128"),
        ("decide", "decide --sheets 32"),
    ] {
        insta::assert_snapshot!(name, said(words, &sheet).trim_end());
    }
}

#[test]
fn regression_documents_tables_charts_and_pages() {
    let mut record = String::new();
    for sheet in sheets("demo-data") {
        for words in ["check", "inertia", "launch --to 60", "window", "practice"] {
            let text = said(&format!("{words} --json"), &sheet);
            writeln!(record, "{} {words} --json: {}", name(&sheet), digest(&text)).expect("room");
        }
        for (words, option) in [
            ("launch --to 60", "--plot"),
            ("launch --to 60", "--csv"),
            ("window", "--plot"),
            ("window", "--csv"),
            ("window", "--page"),
            ("inertia", "--plot"),
            ("cut", "--page"),
        ] {
            let made = file(words, option, &sheet);
            writeln!(record, "{} {words} {option}: {made}", name(&sheet)).expect("room");
        }
    }
    let bogger = root().join("demo-data/bogger.toml");
    for (words, option) in [
        ("compare --draws 128", "--plot"),
        ("compare --draws 128", "--page"),
        ("decide --sheets 32", "--page"),
    ] {
        let made = file(words, option, &bogger);
        writeln!(record, "bogger {words} {option}: {made}").expect("room");
    }
    insta::assert_snapshot!("documents", record);
}

#[test]
fn regression_reference_cars() {
    let mut record = String::new();
    for sheet in sheets("tests/reference/cars") {
        for words in ["check", "inertia", "launch --to 60"] {
            for form in ["", " --json"] {
                let text = said(&format!("{words}{form}"), &sheet);
                writeln!(record, "{} {words}{form}: {}", name(&sheet), digest(&text))
                    .expect("room");
            }
        }
    }
    insta::assert_snapshot!("reference_cars", record);
}

/// Programs look for identifiers, readers for words: where a value of a document has a blank, its
/// key is one of those that hold names or words.
#[test]
fn law_what_programs_look_for_is_never_a_sentence() {
    /// Keys of names and values as the user's own sheet has them, and of words for readers.
    const WORDS: [&str; 22] = [
        "title",
        "name",
        "flywheel",
        "flywheels",
        "fitted",
        "lighter",
        "heavier",
        "cut_from",
        "start_with",
        "runner_up",
        "reachable",
        "beaten_on_both_by",
        "counts",
        "bolt_circles",
        "key",
        "value",
        "reason",
        "words",
        "notes",
        "cautions",
        "doubts",
        "why",
    ];
    let mut sentences = Vec::new();
    for (sheet, commands) in [
        (
            "demo-data/bogger.toml",
            &[
                "check",
                "inertia",
                "launch --to 60",
                "window",
                "gearing --final 4.3",
                "cut",
                "practice",
                "compare --draws 128",
                "decide --sheets 32",
            ][..],
        ),
        (
            "tests/reference/cars/g-imperial.toml",
            &["check", "inertia", "launch --to 60", "swing", "cut"][..],
        ),
    ] {
        for words in commands {
            let text = said(&format!("{words} --json"), &root().join(sheet));
            let document = serde_json::from_str(&text).unwrap_or(serde_json::Value::Null);
            assert!(document.is_object(), "{sheet} {words}: {text}");
            collect("", &document, &mut |key, value| {
                let known = WORDS.contains(&key) || key.ends_with("_in_words");
                if value.contains(' ') && !known && value != "did not finish" {
                    sentences.push(format!("{sheet} {words}: {key} = {value}"));
                }
            });
        }
    }
    assert!(sentences.is_empty(), "{sentences:#?}");
}

/// Hands out every text of a document, under the key that it stands at.
fn collect(key: &str, value: &serde_json::Value, found: &mut impl FnMut(&str, &str)) {
    match value {
        serde_json::Value::String(text) => found(key, text),
        serde_json::Value::Array(values) => {
            for value in values {
                collect(key, value, found);
            }
        }
        serde_json::Value::Object(fields) => {
            for (key, value) in fields {
                collect(key, value, found);
            }
        }
        _ => {}
    }
}
