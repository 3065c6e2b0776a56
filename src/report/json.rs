//! JSON, always SI.

use serde::Serialize;
use serde_json::Value;

use super::view::NotFinite;

/// A result as JSON text with a line break at its end.
pub fn write(result: &impl Serialize) -> Result<String, NotFinite> {
    let value = to_value(result)?;
    let mut text =
        serde_json::to_string_pretty(&value).map_err(|fault| NotFinite(fault.to_string()))?;
    text.push('\n');
    Ok(text)
}

/// A result as a tree. The JSON crate turns what is not finite into null, which no result holds
/// otherwise; such a null is refused.
pub(super) fn to_value(result: &impl Serialize) -> Result<Value, NotFinite> {
    let value = serde_json::to_value(result).map_err(|fault| NotFinite(fault.to_string()))?;
    match null_in(&value, "") {
        Some(path) => Err(NotFinite(path)),
        None => Ok(value),
    }
}

/// Refuses a result with a number that is not finite.
pub(super) fn check_finite(result: &impl Serialize) -> Result<(), NotFinite> {
    to_value(result).map(|_| ())
}

/// Path of the first null.
fn null_in(value: &Value, path: &str) -> Option<String> {
    match value {
        Value::Null => Some(path.to_owned()),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .find_map(|(i, item)| null_in(item, &format!("{path}[{i}]"))),
        Value::Object(entries) => entries.iter().find_map(|(key, item)| {
            let inner = if path.is_empty() {
                key.clone()
            } else {
                format!("{path}.{key}")
            };
            null_in(item, &inner)
        }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Serialize)]
    struct Sample {
        pressures: Vec<f64>,
    }

    #[test]
    fn a_number_that_is_not_finite_is_refused_with_its_place() {
        let sample = Sample {
            pressures: vec![1.0, f64::NAN],
        };
        assert_eq!(write(&sample), Err(NotFinite("pressures[1]".to_owned())));
        let sample = Sample {
            pressures: vec![1.0, f64::INFINITY],
        };
        assert!(write(&sample).is_err());
    }
}
