//! The facts of a run's output, a fact a line; texts for people are left out.

use std::fmt::Write;

use serde_json::Value;

use crate::run::Ran;

/// Keys whose values are texts for people.
const TEXTS: [&str; 8] = [
    "what", "advice", "caution", "error", "text", "value", "source", "key",
];
/// What is left of a balance is rounding, and no fact.
const ROUNDING: &str = ".residuals.";

/// Exit code and standard output of a run.
pub fn result(ran: &Ran) -> String {
    let mut facts = format!("exit {}\n", ran.code);
    if let Ok(value) = serde_json::from_str::<Value>(&ran.out) {
        add(&mut facts, "", &value);
    }
    facts
}

/// Place and key of each note.
pub fn notes(said: &str) -> String {
    let mut facts = String::new();
    for line in said.lines() {
        let line = line.replace(env!("CARGO_MANIFEST_DIR"), "");
        let parts: Vec<&str> = line.splitn(3, ": ").collect();
        if let [place, key, _] = parts[..] {
            let _ = writeln!(facts, "{place}: {key}");
        }
    }
    facts
}

fn add(facts: &mut String, path: &str, value: &Value) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                add(facts, &format!("{path}.{key}"), value);
            }
        }
        Value::Array(items) => {
            for (place, item) in items.iter().enumerate() {
                add(facts, &format!("{path}.{place}"), item);
            }
        }
        Value::Number(number) if !path.contains(ROUNDING) => {
            let _ = writeln!(facts, "{path} {:.5e}", number.as_f64().unwrap_or(f64::NAN));
        }
        Value::String(text) if !TEXTS.contains(&path.rsplit('.').next().unwrap_or_default()) => {
            let _ = writeln!(facts, "{path} {text}");
        }
        _ => {
            let _ = writeln!(facts, "{path}");
        }
    }
}
