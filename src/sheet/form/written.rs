//! Values as a builder writes them on paper, and as they stand in a sheet: `10 1/4 in` and
//! `"10 1/4 in"`, `3.20, 1.95` and `[3.20, 1.95]`.
//!
//! What the declared form decides is whether and how a value is quoted. Whether it is right is
//! for the reader to say: what cannot be what it should be goes into the sheet as a text, and the
//! reader refuses it in its own words.

use crate::sheet::keys::Form;
use std::fmt::Write as _;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The bytes that stand in the sheet for what was written on paper.
pub fn to_sheet(paper: &str, form: Form) -> String {
    let paper = paper.trim();
    let listed = match form {
        Form::Number | Form::Count if is_bare_number(paper) => Some(paper.to_owned()),
        Form::Flag => flag(paper),
        Form::Numbers => numbers(paper),
        Form::Between(_) => between(paper),
        Form::Points => points(paper),
        Form::Metal(_) | Form::Table | Form::Section => raw(paper, '{'),
        Form::Tables | Form::Sections => raw(paper, '['),
        _ => None,
    };
    listed.unwrap_or_else(|| quoted(paper))
}

/// A value of the sheet as it would be written on paper.
///
/// `written` are its bytes. Tables, and lists that are no plain row of values, stay as they are.
pub fn to_paper(written: &str, form: Form) -> String {
    with_value(written, |value| match (value, form) {
        (DeValue::String(text), _) => Some(text.trim().to_owned()),
        (DeValue::Array(_), Form::Between(_)) => {
            Some(items(value)?.join(" to ")).filter(|paper| between(paper).is_some())
        }
        (DeValue::Array(_), Form::Numbers) => {
            Some(items(value)?.join(", ")).filter(|paper| numbers(paper).is_some())
        }
        (DeValue::Array(points), Form::Points) => {
            let points = points
                .iter()
                .map(|point| Some(items(point.get_ref())?.join(" ")));
            let paper = points.collect::<Option<Vec<_>>>()?.join(", ");
            Some(paper).filter(|paper| self::points(paper).is_some())
        }
        _ => None,
    })
    .unwrap_or_else(|| written.to_owned())
}

/// Reads the bytes of one value.
fn with_value<T>(written: &str, read: impl FnOnce(&DeValue<'_>) -> Option<T>) -> Option<T> {
    const NAME: &str = "x = ";
    let line = format!("{NAME}{written}");
    let table: Spanned<DeTable<'_>> = DeTable::parse(&line).ok()?;
    let value = table.get_ref().get("x")?;
    (value.span() == (NAME.len()..line.len()) && table.get_ref().len() == 1).then_some(())?;
    read(value.get_ref())
}

/// Texts and numbers of a list.
fn items(list: &DeValue<'_>) -> Option<Vec<String>> {
    let DeValue::Array(list) = list else {
        return None;
    };
    list.iter()
        .map(|item| match item.get_ref() {
            DeValue::String(text) => Some(text.trim().to_owned()),
            DeValue::Integer(number) if number.radix() == DECIMAL => {
                Some(number.as_str().to_owned())
            }
            DeValue::Float(number) => Some(number.as_str().to_owned()),
            _ => None,
        })
        .collect()
}

const DECIMAL: u32 = 10;

/// A text in the quotes that need least around it.
pub(super) fn quoted(text: &str) -> String {
    let upset = text.chars().any(char::is_control);
    if text.contains(['"', '\\']) && !text.contains('\'') && !upset {
        return format!("'{text}'");
    }
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// Whether a text is a number as a sheet takes it without quotes.
fn is_bare_number(text: &str) -> bool {
    let ordinary = text
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E'));
    let is_one = |value: &DeValue<'_>| {
        matches!(value, DeValue::Integer(_) | DeValue::Float(_)).then_some(())
    };
    ordinary && with_value(text, is_one).is_some()
}

fn flag(text: &str) -> Option<String> {
    let word = text.to_ascii_lowercase();
    match word.as_str() {
        "true" | "yes" => Some("true".to_owned()),
        "false" | "no" => Some("false".to_owned()),
        _ => None,
    }
}

/// A list or table written as the sheet has it.
fn raw(text: &str, opening: char) -> Option<String> {
    let is_it = |value: &DeValue<'_>| (value.is_table() || value.is_array()).then_some(());
    (text.starts_with(opening) && with_value(text, is_it).is_some()).then(|| text.to_owned())
}

/// `3.20, 1.95, 1.38` or `3,20 1,95 1,38` or `3,20; 1,95`.
fn numbers(text: &str) -> Option<String> {
    if let Some(list) = raw(text, '[') {
        return Some(list);
    }
    let pieces: Vec<String> = if text.contains(';') {
        text.split(';').map(with_point).collect()
    } else if text.contains('.') || !text.contains(',') {
        let parts = text.split(|c: char| c == ',' || c.is_whitespace());
        parts.map(str::to_owned).collect()
    } else {
        // Commas alone: between digits a decimal mark, where blanks part the numbers.
        let parts: Vec<&str> = text.split_whitespace().collect();
        let inside = |part: &&str| part.trim_end_matches(',').contains(',');
        if !parts.iter().any(inside) {
            text.split(',').map(str::to_owned).collect()
        } else if parts.len() > 1 {
            let parts = parts.iter().map(|part| part.trim_end_matches(','));
            parts.map(with_point).collect()
        } else {
            return None;
        }
    };
    let pieces = pieces.iter().map(|piece| piece.trim());
    let pieces: Vec<&str> = pieces.filter(|piece| !piece.is_empty()).collect();
    let good = !pieces.is_empty() && pieces.iter().all(|piece| is_bare_number(piece));
    good.then(|| format!("[{}]", pieces.join(", ")))
}

fn with_point(number: &str) -> String {
    number.trim().replacen(',', ".", 1)
}

/// `2500 to 7000 rpm`: the unit behind the last goes for both.
fn between(text: &str) -> Option<String> {
    if let Some(list) = raw(text, '[') {
        return Some(list);
    }
    let at = text.to_ascii_lowercase().find(" to ")?;
    let (low, high) = (
        text.get(..at)?.trim(),
        text.get(at + " to ".len()..)?.trim(),
    );
    if low.is_empty() || high.is_empty() || high.to_ascii_lowercase().contains(" to ") {
        return None;
    }
    let unit = high.trim_start_matches(|c: char| !c.is_alphabetic() && c != '°');
    let has_unit = low.contains(|c: char| c.is_alphabetic() || c == '°');
    let low = if has_unit || unit.is_empty() {
        low.to_owned()
    } else {
        format!("{low} {unit}")
    };
    Some(format!("[{}, {}]", quoted(&low), quoted(high)))
}

/// `0 s 0, 0.08 s 0.6, 0.5 s 1`: each a time and a share.
fn points(text: &str) -> Option<String> {
    if let Some(list) = raw(text, '[') {
        return Some(list);
    }
    let parting = if text.contains(';') { ';' } else { ',' };
    let point = |piece: &str| {
        let (time, share) = piece.trim().rsplit_once(char::is_whitespace)?;
        is_bare_number(share).then(|| format!("[{}, {share}]", quoted(time.trim())))
    };
    let pieces = text.split(parting).filter(|piece| !piece.trim().is_empty());
    let points: Vec<String> = pieces.map(point).collect::<Option<_>>()?;
    (!points.is_empty()).then(|| format!("[{}]", points.join(", ")))
}

/// Signs that a doubt begins with.
const DOUBT_SIGNS: [&str; 4] = ["±", "+/-", "+/−", "+-"];
const EXACTLY: &str = "exactly";

/// What is written of a value, parted into the value and its doubt: `310 N·m` and `± 5 %`,
/// `0.70` and `to 0.90`, `7.40 kg` and `exactly`. The doubt is empty where none is written.
pub fn split_doubt(paper: &str) -> (String, String) {
    let paper = paper.trim();
    let lower = paper.to_ascii_lowercase();
    let cut = |at: usize| {
        let (value, doubt) = paper.split_at_checked(at)?;
        let (value, doubt) = (value.trim(), doubt.trim());
        (!value.is_empty()).then(|| (value.to_owned(), doubt.to_owned()))
    };
    let sign = DOUBT_SIGNS.iter().filter_map(|sign| paper.find(sign)).min();
    let to = lower.find(" to ");
    let exactly = lower
        .ends_with(EXACTLY)
        .then(|| lower.len() - EXACTLY.len());
    let parted = [sign, to, exactly].into_iter().flatten().next();
    if let Some(parted) = parted.and_then(cut) {
        return parted;
    }
    match lower.strip_prefix(EXACTLY) {
        Some(rest) if !rest.trim().is_empty() => {
            let value = paper.get(EXACTLY.len()..).unwrap_or_default();
            (value.trim().to_owned(), EXACTLY.to_owned())
        }
        _ => (paper.to_owned(), String::new()),
    }
}

/// A value and its doubt as they are written together. A doubt without a sign is one to either
/// side: `5 %` is `± 5 %`.
pub fn join_doubt(value: &str, doubt: &str) -> String {
    let (value, doubt) = (value.trim(), doubt.trim());
    let lower = doubt.to_ascii_lowercase();
    let signed = DOUBT_SIGNS.iter().any(|sign| doubt.starts_with(sign))
        || lower.starts_with("to ")
        || lower == EXACTLY;
    match (value.is_empty(), doubt.is_empty()) {
        (_, true) => value.to_owned(),
        (true, false) => doubt.to_owned(),
        (false, false) if signed => format!("{value} {doubt}"),
        (false, false) => format!("{value} ± {doubt}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Kind;

    #[test]
    fn law_what_is_written_on_paper_goes_into_the_sheet_by_its_form() {
        let mass = Form::Quantity(Kind::Mass);
        let length = Form::Quantity(Kind::Length);
        let range = Form::Between(Kind::AngularSpeed);
        for (paper, form, sheet) in [
            ("7,4 kg", mass, r#""7,4 kg""#),
            (" 10 1/4 in ", length, r#""10 1/4 in""#),
            ("8' 6\"", length, r#""8' 6\"""#),
            ("6 1/2\"", length, r#"'6 1/2"'"#),
            ("0.80", Form::Number, "0.80"),
            ("0,80", Form::Number, r#""0,80""#),
            (".8", Form::Number, r#"".8""#),
            ("07", Form::Count, r#""07""#),
            ("54 %", Form::Number, r#""54 %""#),
            ("3.9:1", Form::Number, r#""3.9:1""#),
            ("0.8 ± 0.1", Form::Number, r#""0.8 ± 0.1""#),
            ("unknown", Form::Number, r#""unknown""#),
            ("nan", Form::Number, r#""nan""#),
            ("6", Form::Count, "6"),
            ("six", Form::Count, r#""six""#),
            ("yes", Form::Flag, "true"),
            ("False", Form::Flag, "false"),
            ("perhaps", Form::Flag, r#""perhaps""#),
            ("rear", Form::Choice(&["rear"]), r#""rear""#),
            ("3.20, 1.95, 1", Form::Numbers, "[3.20, 1.95, 1]"),
            ("3.20 1.95,1", Form::Numbers, "[3.20, 1.95, 1]"),
            ("3,20 1,95", Form::Numbers, "[3.20, 1.95]"),
            ("3,20; 1,95", Form::Numbers, "[3.20, 1.95]"),
            ("3, 2, 1", Form::Numbers, "[3, 2, 1]"),
            ("3,20,1", Form::Numbers, r#""3,20,1""#),
            ("[3.2]", Form::Numbers, "[3.2]"),
            ("2500 to 7000 rpm", range, r#"["2500 rpm", "7000 rpm"]"#),
            ("2500 rpm to 7000 rpm", range, r#"["2500 rpm", "7000 rpm"]"#),
            ("2500", range, r#""2500""#),
            (
                "0 s 0, 0.5 s 1.0",
                Form::Points,
                r#"[["0 s", 0], ["0.5 s", 1.0]]"#,
            ),
            ("soon", Form::Points, r#""soon""#),
            ("{ to = 0.5 }", Form::Table, "{ to = 0.5 }"),
            ("steel", Form::Metal(&["steel"]), r#""steel""#),
            ("a \"b\" \\ 'c'\n", Form::Text, r#""a \"b\" \\ 'c'""#),
            ("a\u{1b}b", Form::Text, "\"a\\u001Bb\""),
            ("x\ny = 2", Form::Number, "\"x\\u000Ay = 2\""),
            ("[1]\ny = [2]", Form::Numbers, "\"[1]\\u000Ay = [2]\""),
        ] {
            assert_eq!(to_sheet(paper, form), sheet, "{paper}");
        }
    }

    #[test]
    fn law_a_value_put_on_paper_and_back_is_the_same() {
        let range = Form::Between(Kind::AngularSpeed);
        for (sheet, form, paper) in [
            (r#""7.4 kg""#, Form::Quantity(Kind::Mass), "7.4 kg"),
            ("1.45", Form::Number, "1.45"),
            ("true", Form::Flag, "true"),
            ("[3.40, 2.04]", Form::Numbers, "3.40, 2.04"),
            (r#"["1500 rpm", "7100 rpm"]"#, range, "1500 rpm to 7100 rpm"),
            (
                r#"[["0 s", 0.0], ["0.5 s", 1]]"#,
                Form::Points,
                "0 s 0.0, 0.5 s 1",
            ),
            (r#"{ name = "x" }"#, Form::Metal(&[]), r#"{ name = "x" }"#),
        ] {
            assert_eq!(to_paper(sheet, form), paper);
            assert_eq!(to_sheet(paper, form), sheet);
        }
    }

    #[test]
    fn law_value_and_doubt_are_parted_and_joined() {
        for (paper, value, doubt) in [
            ("310 N·m ± 5 %", "310 N·m", "± 5 %"),
            ("310 Nm +/- 20", "310 Nm", "+/- 20"),
            ("0.70 to 0.90", "0.70", "to 0.90"),
            ("7.40 kg exactly", "7.40 kg", "exactly"),
            ("7.40 kg", "7.40 kg", ""),
            ("unknown", "unknown", ""),
            ("", "", ""),
        ] {
            assert_eq!(split_doubt(paper), (value.to_owned(), doubt.to_owned()));
            assert_eq!(join_doubt(value, doubt), paper);
        }
        assert_eq!(
            split_doubt("Exactly 7 kg"),
            ("7 kg".into(), "exactly".into())
        );
        assert_eq!(join_doubt("310 N·m", "5 %"), "310 N·m ± 5 %");
        // A sign alone is no value with a doubt.
        assert_eq!(split_doubt("± 5").0, "± 5");
    }
}
