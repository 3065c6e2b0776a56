//! Names with their types: those of a schema, and those that a result has.

use std::collections::BTreeSet;

use serde_json::Value;

/// One row a name: path, type, and `?` where not every result has it.
pub fn of_schema(schema: &Value) -> Vec<String> {
    let mut rows = Vec::new();
    walk(schema, "", &mut rows);
    let mut seen = BTreeSet::new();
    rows.retain(|row| seen.insert(row.clone()));
    rows
}

fn walk(schema: &Value, path: &str, rows: &mut Vec<String>) {
    for form in schema["anyOf"].as_array().into_iter().flatten() {
        walk(form, path, rows);
    }
    let Some(properties) = schema["properties"].as_object() else {
        return;
    };
    let required = schema["required"].as_array().unwrap();
    for (key, inner) in properties {
        let path = if path.is_empty() {
            key.clone()
        } else {
            format!("{path}.{key}")
        };
        let form = match inner["type"].as_str() {
            Some("array") => format!(
                "array of {}",
                inner["items"]["type"].as_str().unwrap_or("object")
            ),
            other => other.unwrap_or("object").to_owned(),
        };
        let maybe = if required.iter().any(|name| name == key) {
            ""
        } else {
            " ?"
        };
        rows.push(format!("{path} {form}{maybe}"));
        walk(inner, &path, rows);
        walk(&inner["items"], &format!("{path}[]"), rows);
    }
}

/// The paths that a result has.
pub fn of_value(value: &Value, path: &str, seen: &mut BTreeSet<String>) {
    match value {
        Value::Object(entries) => {
            for (key, inner) in entries {
                let path = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}.{key}")
                };
                of_value(inner, &path, seen);
                seen.insert(path);
            }
        }
        Value::Array(items) => {
            for item in items {
                of_value(item, &format!("{path}[]"), seen);
            }
        }
        _ => {}
    }
}
