//! A sheet written beside the old one, with what time slips have taught in it.

use crate::units::{Kind, System};
use thiserror::Error;
use toml_edit::{DocumentMut, Item, Table, Value};

/// A value that was learnt.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// Its key: `tyre.grip`.
    pub key: String,
    /// What it measures; `None` for a bare number.
    pub kind: Option<Kind>,
    /// The value, SI.
    pub value: f64,
    /// Half-width of what one would bet on 19 to 1, SI.
    pub half_width: f64,
}

/// Why no sheet could be written.
#[derive(Debug, Error)]
pub enum FittedSheetError {
    /// The old sheet is no TOML.
    #[error("the sheet cannot be taken apart: {0}")]
    Parse(#[from] toml_edit::TomlError),
    /// A section is not there or is no section.
    #[error("the sheet has no section [{0}]")]
    NoSection(String),
}

/// The old sheet's text with learnt values in place of its own and a `[fitted]` section that
/// names the file of draws; comments, order and everything else stay as they are.
///
/// # Errors
/// When the old sheet cannot be taken apart, or lacks a section that a key belongs to.
pub fn fitted_sheet(
    sheet: &str,
    learnt: &[Learnt],
    draws_file: &str,
    source: &str,
) -> Result<String, FittedSheetError> {
    let mut document: DocumentMut = sheet.parse()?;
    for learnt in learnt {
        put(&mut document, learnt)?;
    }
    let mut fitted = Table::new();
    fitted.insert("draws", toml_edit::value(draws_file));
    fitted
        .decor_mut()
        .set_prefix(format!("\n# Learnt from {source}\n"));
    // A new table would print at its first mention; it belongs at the end.
    document.remove("fitted");
    document.insert("fitted", Item::Table(fitted));
    Ok(document.to_string())
}

fn put(document: &mut DocumentMut, learnt: &Learnt) -> Result<(), FittedSheetError> {
    let Some((section, key)) = learnt.key.rsplit_once('.') else {
        return Err(FittedSheetError::NoSection(learnt.key.clone()));
    };
    let lacking = || FittedSheetError::NoSection(section.to_owned());
    let mut table = document.as_table_mut() as &mut dyn toml_edit::TableLike;
    for name in section.split('.') {
        table = table
            .get_mut(name)
            .and_then(Item::as_table_like_mut)
            .ok_or_else(lacking)?;
    }
    let mut value = Value::from(written(learnt));
    if let Some(old) = table.get(key).and_then(Item::as_value) {
        *value.decor_mut() = old.decor().clone();
    }
    table.insert(key, Item::Value(value));
    Ok(())
}

/// The value with its doubt as a sheet has it: the doubt in two figures, the value as far.
fn written(learnt: &Learnt) -> String {
    let (value, half, unit) = match learnt.kind {
        Some(kind) => {
            let unit = System::Metric.unit(kind);
            let value = unit.of_si(learnt.value);
            // The half-width is a difference: a unit with an offset must not shift it.
            let half = unit.of_si(learnt.value + learnt.half_width) - value;
            (value, half, format!(" {}", unit.symbol))
        }
        None => (learnt.value, learnt.half_width, String::new()),
    };
    let decimals = decimals_for(half);
    format!("{value:.decimals$} ± {half:.decimals$}{unit}")
}

/// Decimals that show a positive number in two figures.
fn decimals_for(number: f64) -> usize {
    (0..MOST_DECIMALS)
        .find(|decimals| {
            let scale = 10_f64.powi(i32::try_from(*decimals).unwrap_or(0));
            number * scale >= LEAST_OF_TWO_FIGURES
        })
        .unwrap_or(MOST_DECIMALS)
}

/// Decimals of any value at most.
const MOST_DECIMALS: usize = 9;
/// The least number that has two figures before its point.
const LEAST_OF_TWO_FIGURES: f64 = 10.0;

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: &str = "title = \"a car\"   # mine\n\n[tyre]\n# the slicks\nradius = \"286 mm\"\ngrip = 1.45   # guessed\n\n[clutch]\nrelease_time = \"0.25 s\"\n";

    fn learnt(key: &str, kind: Option<Kind>, value: f64, half_width: f64) -> Learnt {
        Learnt {
            key: key.into(),
            kind,
            value,
            half_width,
        }
    }

    #[test]
    fn law_everything_but_the_learnt_values_stays_byte_for_byte() {
        let values = [
            learnt("tyre.grip", None, 1.3812, 0.0533),
            learnt("clutch.release_time", Some(Kind::Time), 0.2312, 0.021),
        ];
        let sheet = fitted_sheet(SHEET, &values, "a-fitted.csv", "slips.csv").expect("a sheet");
        let expected = SHEET
            .replace("grip = 1.45 ", "grip = \"1.381 ± 0.053\" ")
            .replace("\"0.25 s\"", "\"0.231 ± 0.021 s\"");
        assert!(sheet.starts_with(&expected), "{sheet}");
        assert!(
            sheet.ends_with("# Learnt from slips.csv\n[fitted]\ndraws = \"a-fitted.csv\"\n"),
            "{sheet}"
        );
    }

    #[test]
    fn law_a_key_that_the_sheet_left_out_is_put_into_its_section() {
        let values = [learnt("tyre.sliding_share", None, 0.76, 0.04)];
        let sheet = fitted_sheet(SHEET, &values, "a.csv", "s.csv").expect("a sheet");
        let parsed: DocumentMut = sheet.parse().expect("a sheet");
        assert_eq!(
            parsed["tyre"]["sliding_share"].as_str(),
            Some("0.760 ± 0.040")
        );
    }

    #[test]
    fn law_a_section_that_is_not_there_is_said() {
        let values = [learnt("car.drag_area", None, 0.6, 0.04)];
        let error = fitted_sheet(SHEET, &values, "a.csv", "s.csv").expect_err("no section");
        assert!(error.to_string().contains("[car]"), "{error}");
    }
}
