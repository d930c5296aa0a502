//! What editors know of a build sheet: a JSON Schema made from the keys as they are declared.

use super::document;
use crate::sheet::keys::{self, Form, Key, WhenAbsent};
use crate::units::System;
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of a build sheet. Editors that read TOML take it from the
/// `#:schema` line at a sheet's head: they complete keys, show what each is, and mark what is
/// not known.
pub fn sheet_schema() -> String {
    let mut sheet = table("");
    sheet.insert(
        "$schema".into(),
        "https://json-schema.org/draft/2020-12/schema".into(),
    );
    sheet.insert("title".into(), "flyheft build sheet".into());
    document(&Value::Object(sheet))
}

/// A table with all its keys.
fn table(path: &str) -> Map<String, Value> {
    let properties: Map<String, Value> = keys::of_table(path)
        .map(|key| (key.name.to_owned(), property(path, key)))
        .collect();
    let needed: Vec<&str> = keys::of_table(path)
        .filter(|key| key.when_absent == WhenAbsent::Needed && is_always_needed(path))
        .map(|key| key.name)
        .collect();
    let mut table = Map::new();
    table.insert("type".into(), "object".into());
    table.insert("properties".into(), Value::Object(properties));
    table.insert("additionalProperties".into(), false.into());
    if !needed.is_empty() {
        table.insert("required".into(), json!(needed));
    }
    table
}

/// Which keys a pass needs goes by its kind.
fn is_always_needed(path: &str) -> bool {
    path != "flywheel.cut"
}

fn property(path: &str, key: &Key) -> Value {
    let inner = if path.is_empty() {
        key.name.to_owned()
    } else {
        format!("{path}.{}", key.name)
    };
    let mut property = match key.form {
        Form::Table | Form::Section => table(&inner),
        Form::Tables | Form::Sections => of_type(json!({
            "type": "array", "minItems": 1, "items": Value::Object(table(&inner)),
        })),
        Form::Metal(names) => of_type(json!({
            "anyOf": [ { "enum": names }, Value::Object(table(&inner)) ],
        })),
        _ => value(key),
    };
    property.insert("description".into(), description(key).into());
    if let WhenAbsent::Word(word, _) = key.when_absent {
        let default = match key.form {
            Form::Flag => json!(word == "true"),
            _ => json!(word),
        };
        // A word that only stands for leaving the key out is no value of it.
        if matches!(key.form, Form::Flag | Form::Choice(_)) {
            property.insert("default".into(), default);
        }
    }
    Value::Object(property)
}

/// What a single value may be. Numbers may also be written in quotes, with their doubt.
fn value(key: &Key) -> Map<String, Value> {
    let range = |mut number: Map<String, Value>| {
        if let Some(hard) = key.hard {
            number.insert("minimum".into(), json!(hard.low));
            number.insert("maximum".into(), json!(hard.high));
        }
        Value::Object(number)
    };
    let number = || range(of_type(json!({ "type": "number" })));
    let pair =
        json!({ "type": "array", "minItems": 2, "maxItems": 2, "items": { "type": "string" } });
    of_type(match key.form {
        Form::Number => json!({ "anyOf": [ number(), { "type": "string" } ] }),
        Form::Count => range(of_type(json!({ "type": "integer" }))),
        Form::Choice(words) => json!({ "enum": words }),
        Form::Flag => json!({ "type": "boolean" }),
        Form::Numbers => json!({
            "type": "array",
            "minItems": 1,
            "items": { "anyOf": [ number(), { "type": "string" } ] },
        }),
        Form::Between(_) => pair,
        Form::Points => json!({
            "type": "array",
            "minItems": 1,
            "items": { "type": "array", "minItems": 2, "maxItems": 2 },
        }),
        _ => json!({ "type": "string" }),
    })
}

fn of_type(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

/// What it is, how to come by it, what is taken without it.
fn description(key: &Key) -> String {
    let mut told = vec![sentence(key.words)];
    if !key.how.is_empty() {
        told.push(sentence(key.how));
    }
    if let Some(kind) = key.form.kind() {
        told.push(format!("Units: {}.", kind.units_in_words()));
    }
    if let Some(hard) = key.hard {
        told.push(format!(
            "Range: {}.",
            hard.shown(key.form.kind(), System::Metric)
        ));
    }
    if let Some(default) = key.default_in_words() {
        told.push(format!("Without it: {default}."));
    }
    if !key.example.is_empty() {
        told.push(format!("Example: {} = {}", key.name, key.example));
    }
    told.join(" ")
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}
