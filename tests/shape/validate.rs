//! As much of JSON Schema as the published schemas use.

use serde_json::Value;

/// What of a value its schema does not permit, each with its path.
pub fn faults(schema: &Value, value: &Value, path: &str) -> Vec<String> {
    if let Some(forms) = schema["anyOf"].as_array() {
        let found: Vec<_> = forms.iter().map(|form| faults(form, value, path)).collect();
        return found.into_iter().min_by_key(Vec::len).unwrap_or_default();
    }
    match (schema["type"].as_str(), value) {
        (Some("object"), Value::Object(entries)) => {
            assert_eq!(schema["additionalProperties"], false);
            let properties = schema["properties"].as_object().unwrap();
            let required = schema["required"].as_array().unwrap();
            let missing = required.iter().map(|key| key.as_str().unwrap());
            let missing = missing.filter(|key| !entries.contains_key(*key));
            let mut all: Vec<String> = missing.map(|key| format!("{path}.{key} lacks")).collect();
            for (key, inner) in entries {
                let path = format!("{path}.{key}");
                match properties.get(key) {
                    Some(property) => all.extend(faults(property, inner, &path)),
                    None => all.push(format!("{path} is not published")),
                }
            }
            all
        }
        (Some("array"), Value::Array(items)) => {
            let end = |key: &str| {
                schema[key]
                    .as_u64()
                    .map(|end| usize::try_from(end).unwrap())
            };
            let count = items.len();
            if count < end("minItems").unwrap_or(0) || count > end("maxItems").unwrap_or(count) {
                return vec![format!("{path} has {count} items")];
            }
            let items = items.iter().enumerate();
            items
                .flat_map(|(at, item)| faults(&schema["items"], item, &format!("{path}[{at}]")))
                .collect()
        }
        (Some("number"), Value::Number(_))
        | (Some("string"), Value::String(_))
        | (Some("boolean"), Value::Bool(_)) => Vec::new(),
        (Some("integer"), Value::Number(number)) if number.is_u64() => Vec::new(),
        (wanted, found) => vec![format!("{path} is {found}, not {wanted:?}")],
    }
}

#[test]
fn each_kind_of_fault_is_seen() {
    use serde_json::json;
    let inner = json!({"type": "object", "properties": {"a": {"type": "number"}},
        "required": ["a"], "additionalProperties": false});
    let pair = json!({"type": "array", "items": {"type": "integer"}, "minItems": 2, "maxItems": 2});
    for (schema, value, count) in [
        (&inner, json!({"a": 1.5}), 0),
        (&inner, json!({}), 1),
        (&inner, json!({"a": "1.5"}), 1),
        (&inner, json!({"a": null}), 1),
        (&inner, json!({"a": 1.5, "b": 2}), 1),
        (&pair, json!([1, 2]), 0),
        (&pair, json!([1]), 1),
        (&pair, json!([1, 2, 3]), 1),
        (&pair, json!([1, 2.5]), 1),
        (&json!({"anyOf": [inner, pair]}), json!([1, 2]), 0),
        (&json!({"anyOf": [inner, pair]}), json!(true), 1),
    ] {
        assert_eq!(faults(schema, &value, "").len(), count, "{value}");
    }
}
