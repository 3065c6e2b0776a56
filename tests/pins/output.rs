//! A run's output apart into facts and texts.

use std::fmt::Write;

use serde_json::Value;

use crate::pin::Output;
use crate::run::Ran;

/// Keys whose values are texts for people.
const TEXTS: [&str; 7] = [
    "what",
    "advice",
    "caution",
    "error",
    "text",
    "value_taken",
    "source",
];

/// Standard output in its form, the exit code, and standard error.
pub fn result(ran: &Ran, format: &str) -> Output {
    let mut output = Output::default();
    let _ = writeln!(output.facts, "exit {}", ran.code);
    match serde_json::from_str::<Value>(&ran.out) {
        Ok(value) if format == "json" => add(&mut output, "", &value),
        _ => output
            .facts
            .push_str(&ran.out.replace(env!("CARGO_MANIFEST_DIR"), "")),
    }
    notes(&mut output, &ran.err);
    output
}

/// Notes: place and key are facts, the rest of the line is text.
pub fn notes(output: &mut Output, said: &str) {
    for line in said.lines() {
        let line = line.replace(env!("CARGO_MANIFEST_DIR"), "");
        let parts: Vec<&str> = line.splitn(4, ": ").collect();
        let kept = if parts.len() > 2 { 2 } else { 0 };
        if kept > 0 {
            let _ = writeln!(output.facts, "{}", parts[..kept].join(": "));
        }
        let _ = writeln!(output.texts, "{}", parts[kept..].join(": "));
    }
}

fn add(output: &mut Output, path: &str, value: &Value) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                add(output, &format!("{path}.{key}"), value);
            }
        }
        Value::Array(items) => {
            for (place, item) in items.iter().enumerate() {
                add(output, &format!("{path}.{place}"), item);
            }
        }
        _ => {
            let last = path.rsplit('.').next().unwrap_or_default();
            let line = format!("{path} {value}").replace(env!("CARGO_MANIFEST_DIR"), "");
            if TEXTS.contains(&last) {
                let _ = writeln!(output.texts, "{line}");
                let _ = writeln!(output.facts, "{path}");
            } else {
                let _ = writeln!(output.facts, "{line}");
            }
        }
    }
}
