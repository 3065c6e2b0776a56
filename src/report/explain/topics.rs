//! One word: a key, a topic, a finding or a figure of the results.

use serde_json::{Value, json};

use super::keys::{key_json, key_text};
use super::wrapped;
use crate::input::SectionDescription;

/// Topics with their text, in the order of a list.
const TOPICS: [(&str, &str); 19] = [
    ("balance", include_str!("topics/balance.md")),
    ("belt", include_str!("topics/belt.md")),
    ("choke", include_str!("topics/choke.md")),
    ("cooler", include_str!("topics/cooler.md")),
    ("files", include_str!("topics/files.md")),
    ("findings", include_str!("topics/findings.md")),
    ("fuel", include_str!("topics/fuel.md")),
    ("hand-over", include_str!("topics/hand-over.md")),
    ("head", include_str!("topics/head.md")),
    ("knock", include_str!("topics/knock.md")),
    ("maps", include_str!("topics/maps.md")),
    ("power", include_str!("topics/power.md")),
    ("pressure", include_str!("topics/pressure.md")),
    ("split", include_str!("topics/split.md")),
    ("supercharger", include_str!("topics/supercharger.md")),
    ("surge", include_str!("topics/surge.md")),
    ("turbine", include_str!("topics/turbine.md")),
    ("uncertainty", include_str!("topics/uncertainty.md")),
    ("wastegate", include_str!("topics/wastegate.md")),
];

/// Other words for a topic.
const ALSO: [(&str, &str); 16] = [
    ("map", "maps"),
    ("handover", "hand-over"),
    ("hand_over", "hand-over"),
    ("intercooler", "cooler"),
    ("effectiveness", "cooler"),
    ("boost", "pressure"),
    ("gauge", "pressure"),
    ("absolute", "pressure"),
    ("slip", "supercharger"),
    ("roots", "supercharger"),
    ("studs", "head"),
    ("detonation", "knock"),
    ("bands", "uncertainty"),
    ("sensitivity", "uncertainty"),
    ("severity", "findings"),
    ("second", "balance"),
];

/// What kind of thing a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryKind {
    /// A key of a build.
    Key,
    /// A figure of the results.
    Figure,
    /// A finding.
    Finding,
    /// A topic.
    Topic,
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

/// The names of all topics.
pub fn topic_names() -> impl Iterator<Item = &'static str> {
    TOPICS.iter().map(|(name, _)| *name)
}

/// Everything that a word names; empty where it names nothing. `sections` is the key table in the
/// reader's units.
pub fn explain(word: &str, sections: &[SectionDescription]) -> Vec<Entry> {
    let word = word.trim().to_lowercase();
    let mut found: Vec<Entry> = topic(&word).into_iter().collect();
    found.extend(keys(&word, sections));
    found
}

fn topic(word: &str) -> Option<Entry> {
    let named = |name: &str| TOPICS.iter().find(|(topic, _)| *topic == name);
    let also = || {
        let (_, name) = ALSO.iter().find(|(also, _)| *also == word)?;
        named(name)
    };
    let (name, text) = named(word).or_else(also)?;
    Some(Entry {
        kind: EntryKind::Topic,
        name: (*name).to_owned(),
        text: paragraphs(text),
        json: json!({ "kind": "topic", "name": name, "text": text.trim_end() }),
    })
}

/// Markdown for a terminal: the heading as it is, formulas as they stand, the rest wrapped.
fn paragraphs(markdown: &str) -> String {
    let mut text = String::new();
    let mut paragraph = String::new();
    let end = |text: &mut String, paragraph: &mut String| {
        if !paragraph.is_empty() {
            text.push_str(&wrapped(paragraph, 0));
            paragraph.clear();
        }
    };
    for line in markdown.lines() {
        let line = line.strip_prefix("# ").unwrap_or(line);
        if line.is_empty() || line.starts_with("    ") {
            end(&mut text, &mut paragraph);
            text.push_str(line);
            text.push('\n');
        } else if text.is_empty() && paragraph.is_empty() {
            text.push_str(&format!("{line}\n"));
        } else {
            if !paragraph.is_empty() {
                paragraph.push(' ');
            }
            paragraph.push_str(line);
        }
    }
    end(&mut text, &mut paragraph);
    text
}

fn keys(word: &str, sections: &[SectionDescription]) -> Vec<Entry> {
    let mut found: Vec<Entry> = Vec::new();
    for section in sections {
        for key in &section.keys {
            let named = key.name == word || key.path == word || key.once == Some(word);
            if !named {
                continue;
            }
            let text = format!("{}\n{}", section.heading, key_text(key));
            let entry = Entry {
                kind: EntryKind::Key,
                name: key.path.clone(),
                text,
                json: json!({ "kind": "key", "name": key.path, "key": key_json(key) }),
            };
            found.push(entry);
        }
    }
    found
}

/// Entries one after the other.
pub fn explain_text(entries: &[Entry]) -> String {
    let texts: Vec<&str> = entries.iter().map(|entry| entry.text.as_str()).collect();
    texts.join("\n")
}
