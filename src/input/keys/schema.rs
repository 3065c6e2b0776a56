//! The key table as a JSON Schema, for editors that complete keys and mark slips while one types.
//!
//! Draft 7 of JSON Schema, the one that TOML language servers read. A part of the air path is told
//! by its word. The reader takes a few more spellings of units and words than the schema knows, and
//! `airpath check` judges sizes, which the schema does for plain numbers alone.

use serde_json::{Map, Value, json};

use super::file::FILE;
use super::row::{Form, Key, Section};
use super::spec::Spec;
use super::table::section;
use crate::input::part_words::PART_WORDS;
use crate::input::synonyms;
use crate::quantity::{Dimension, Kind, units_of};

/// A number as a build may hold it in text.
const NUMBER: &str = r"[-+−]?\s*([0-9][0-9_ ]*\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?";
/// What may stand behind a value: its uncertainty.
const SPREAD: &str = r"(\s*(\+-|\+/-|±).*)?";
/// What may stand behind a unit of pressure.
const PRESSURE_ENDING: &str = r"\s*[_(]?(absolute|abs|a|gauge|gage|g|boost|difference|diff|d)?\)?";

/// The schema of a build file.
pub fn schema() -> Value {
    let mut whole = json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "airpath build",
        "description": "One engine and its air path, as airpath reads it.",
    });
    if let (Value::Object(whole), Value::Object(mut file)) = (&mut whole, of_section(&FILE)) {
        whole.append(&mut file);
        whole.insert("definitions".into(), definitions());
    }
    whole
}

/// The text of every kind of quantity, by its name.
fn definitions() -> Value {
    let kinds = Kind::ALL.into_iter();
    let texts = kinds.map(|kind| (kind.name().to_owned(), of_text(kind)));
    Value::Object(texts.collect())
}

/// Text with a number and one of the units of a kind.
fn text(kind: Kind) -> Value {
    json!({ "$ref": format!("#/definitions/{}", kind.name()) })
}

/// A section's keys as properties.
fn of_section(section: &Section) -> Value {
    let mut properties = Map::new();
    for key in section.keys {
        properties.insert(key.name.to_owned(), of_key(section, key));
        if let Some(once) = key.once {
            let mut old = of_key(section, key);
            old["description"] = format!("Now called {}.", key.name).into();
            old["deprecated"] = true.into();
            properties.insert(once.to_owned(), old);
        }
    }
    json!({ "type": "object", "additionalProperties": false, "properties": properties })
}

fn of_key(section: &Section, key: &Key) -> Value {
    let mut value = match key.form {
        Form::Quantity(spec) => of_value(key, &spec),
        Form::Table(spec) => {
            let one = of_value(key, &spec);
            let row = json!([speed(), one]);
            json!({ "anyOf": [one, rows(&row)] })
        }
        Form::Choice(words) => of_words(words),
        Form::Text | Form::File => json!({ "type": "string" }),
        Form::Switch => {
            let switch = json!({ "enum": [0, 1, true, false] });
            let row = json!([speed(), switch]);
            json!({ "anyOf": [switch, rows(&row)] })
        }
        Form::FanCurve => {
            let row = json!([text(Kind::VolumeFlow), text(Kind::PressureDifference),]);
            rows(&row)
        }
        Form::Sections => json!({ "type": "array", "items": part() }),
        Form::Section => of_subsection(&section.path_of(key)),
    };
    value["description"] = key.doc.into();
    value
}

/// A section within another; several turbines stand in a list.
fn of_subsection(path: &str) -> Value {
    let one = section(path).map_or_else(|| json!({ "type": "object" }), of_section);
    match path {
        "turbine" => json!({ "anyOf": [one, { "type": "array", "items": one }] }),
        _ => one,
    }
}

/// One part of the air path: its word decides which keys it has.
fn part() -> Value {
    let cases: Vec<Value> = PART_WORDS
        .iter()
        .filter_map(|word| {
            let then = of_section(section(word)?);
            Some(json!({
                "if": { "properties": { "part": of_words(&[word]) }, "required": ["part"] },
                "then": then,
            }))
        })
        .collect();
    json!({
        "type": "object",
        "required": ["part"],
        "properties": { "part": of_words(&PART_WORDS) },
        "allOf": cases,
    })
}

/// One of these words, or of those that mean the same.
fn of_words(words: &[&'static str]) -> Value {
    let others = words.iter().flat_map(|word| synonyms::of(word));
    let all: Vec<&str> = words.iter().copied().chain(others).collect();
    json!({ "enum": all })
}

fn speed() -> Value {
    json!({ "anyOf": [{ "type": "number" }, text(Kind::RotationalSpeed)] })
}

/// A list of rows of two.
fn rows(row: &Value) -> Value {
    json!({
        "type": "array",
        "minItems": 1,
        "items": { "type": "array", "items": row, "minItems": 2, "maxItems": 2 },
    })
}

fn of_value(key: &Key, spec: &Spec) -> Value {
    let kind = key.of_water.map_or(spec.kind(), |water| water.kind());
    let mut forms = vec![text(kind)];
    if spec.takes_bare() {
        let mut number = json!({ "type": if spec.is_count() { "integer" } else { "number" } });
        limit(spec, &mut number);
        forms.insert(0, number);
    }
    json!({ "anyOf": forms, "examples": [plain(spec)] })
}

/// The ends of what the equations bear.
fn limit(spec: &Spec, number: &mut Value) {
    let [low, high] = spec.ends();
    for (end, included, excluded) in [
        (low, "minimum", "exclusiveMinimum"),
        (high, "maximum", "exclusiveMaximum"),
    ] {
        if let Some((at, is_in)) = end {
            number[if is_in { included } else { excluded }] = at.into();
        }
    }
}

/// The example as a value of JSON.
fn plain(spec: &Spec) -> Value {
    let text = spec.example().text;
    text.parse::<f64>()
        .map_or_else(|_| text.trim_matches('"').into(), Value::from)
}

/// Text with a number and one of the units of a kind; plain numbers and speeds need none.
fn of_text(kind: Kind) -> Value {
    let dimensions = kind.dimensions();
    let bare = matches!(kind, Kind::Number | Kind::Share | Kind::RotationalSpeed);
    let mut units: Vec<String> = dimensions
        .iter()
        .flat_map(|dimension| units_of(*dimension))
        .flat_map(|unit| unit.spellings)
        .map(|spelling| escaped(spelling))
        .collect();
    // Longer ones first, so that a short one does not end the match.
    units.sort_by_key(|unit| std::cmp::Reverse(unit.len()));
    let ending = if dimensions.contains(&Dimension::Pressure) {
        PRESSURE_ENDING
    } else {
        ""
    };
    let optional = if bare { "?" } else { "" };
    let unit = format!("({})", units.join("|"));
    json!({
        "type": "string",
        "pattern": format!(r"^\s*{NUMBER}{SPREAD}\s*({unit}{ending}){optional}{SPREAD}\s*$"),
    })
}

/// A spelling for a pattern: any case, optional spaces, marks escaped.
fn escaped(spelling: &str) -> String {
    let mut pattern = String::new();
    let mut rest = spelling;
    if let Some(scale) = spelling.strip_prefix("deg") {
        pattern.push_str("(deg|°)\\s*");
        rest = scale;
    }
    for letter in rest.chars() {
        match letter {
            ' ' => pattern.push_str(r"[\s*·.]?"),
            '-' => pattern.push_str(r"(-)?"),
            letter if letter.is_ascii_alphabetic() => {
                pattern.extend([
                    '[',
                    letter.to_ascii_lowercase(),
                    letter.to_ascii_uppercase(),
                    ']',
                ]);
            }
            '2' => pattern.push_str("[2²]"),
            '3' => pattern.push_str("[3³]"),
            letter if letter.is_ascii_digit() || !letter.is_ascii() => pattern.push(letter),
            other => pattern.extend(['\\', other]),
        }
    }
    pattern
}
