//! One word: a topic, a key of a build, a finding, or a figure of the results.

use serde_json::{Value, json};

use super::keys::{key_json, key_text};
use super::topics::{paragraphs, topic};
use crate::input::SectionDescription;
use crate::quantity::UnitSystem;
use crate::report::fields::{FieldExplained, explain_field};
use crate::report::words::{self, Explanation};
use crate::report::wrap::wrapped;

/// What kind of thing a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryKind {
    /// A topic.
    Topic,
    /// A key of a build.
    Key,
    /// A finding.
    Finding,
    /// A figure of the results.
    Figure,
}

/// What is said about a word.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// What kind of thing it is.
    pub kind: EntryKind,
    /// Its name.
    pub name: String,
    /// What is said, ready for 80 columns.
    pub text: String,
    /// The same for programs.
    pub json: Value,
}

/// As many entries are shown of one word, and places of one figure.
const MOST: usize = 5;

/// Everything that a word names; empty where it names nothing. `sections` is the key table in the
/// reader's units.
pub fn explain(word: &str, sections: &[SectionDescription], system: UnitSystem) -> Vec<Entry> {
    let plain = word.trim().to_lowercase();
    let mut found: Vec<Entry> = topic(&plain).map(of_topic).into_iter().collect();
    found.extend(keys(&plain, sections));
    let code = plain.replace([' ', '-'], "_");
    found.extend(words::explain(&code, system).as_ref().map(of_finding));
    found.extend(explain_field(word.trim(), system).iter().map(of_figure));
    found
}

fn of_topic((name, markdown): (&'static str, &'static str)) -> Entry {
    Entry {
        kind: EntryKind::Topic,
        name: name.to_owned(),
        text: paragraphs(markdown),
        json: json!({ "kind": "topic", "name": name, "text": markdown.trim_end() }),
    }
}

fn keys<'s>(word: &'s str, sections: &'s [SectionDescription]) -> impl Iterator<Item = Entry> + 's {
    sections.iter().flat_map(move |section| {
        let named = section
            .keys
            .iter()
            .filter(move |key| key.name == word || key.path == word || key.once == Some(word));
        named.map(|key| Entry {
            kind: EntryKind::Key,
            name: key.path.clone(),
            text: format!("Key of {}\n{}", section.heading, key_text(key)),
            json: json!({ "kind": "key", "name": key.path, "key": key_json(key) }),
        })
    })
}

fn of_finding(finding: &Explanation) -> Entry {
    let head = match finding.unit {
        "" => format!("Finding: {} ({})\n", finding.label, finding.code),
        unit => format!("Finding: {} [{unit}] ({})\n", finding.label, finding.code),
    };
    let rows = [
        ("", finding.sentence.to_owned()),
        ("Limit: ", finding.limit.clone()),
        ("Severity: ", finding.severity.clone()),
        ("What to do: ", finding.advice.clone()),
    ];
    let rows = rows.map(|(name, text)| wrapped(&format!("{name}{text}"), 2));
    Entry {
        kind: EntryKind::Finding,
        name: finding.code.to_owned(),
        text: head + &rows.concat(),
        json: json!({ "kind": "finding", "name": finding.code, "finding": finding }),
    }
}

fn of_figure(figure: &FieldExplained) -> Entry {
    let unit = match (figure.unit, figure.json_unit) {
        ("", _) => String::new(),
        (unit, "") => format!(" [{unit}]"),
        (unit, si) => format!(" [{unit}; JSON and CSV: {si}]"),
    };
    let places = figure.places.iter().take(MOST).cloned();
    let mut places = places.collect::<Vec<_>>().join("; ");
    if figure.places.len() > MOST {
        places.push_str(&format!("; and {} more", figure.places.len() - MOST));
    }
    let text = format!(
        "Figure: {}{unit}\n{}{}",
        figure.label,
        wrapped(figure.about, 2),
        wrapped(&format!("In {places}."), 2)
    );
    Entry {
        kind: EntryKind::Figure,
        name: figure.key.to_owned(),
        text,
        json: json!({
            "kind": "figure",
            "name": figure.key,
            "label": figure.label,
            "unit": figure.json_unit,
            "about": figure.about,
            "places": figure.places,
        }),
    }
}

/// Entries one after the other; a topic stands alone, of many others the first are shown.
pub fn explain_text(entries: &[Entry]) -> String {
    let is_topic = entries
        .first()
        .is_some_and(|entry| entry.kind == EntryKind::Topic);
    let most = if is_topic { 1 } else { MOST };
    let shown = entries.iter().take(most).map(|entry| entry.text.as_str());
    let mut text = shown.collect::<Vec<_>>().join("\n");
    let left = entries.iter().skip(most).map(|entry| entry.name.as_str());
    let mut left: Vec<&str> = left.collect();
    left.dedup();
    if !left.is_empty() {
        let names = wrapped(&format!("Also: {}.", left.join(", ")), 0);
        text.push_str(&format!("\n{names}"));
    }
    text
}
