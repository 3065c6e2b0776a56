//! Topics: half a screen each, in Markdown.

use crate::report::wrap::wrapped;

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

/// The names of all topics.
pub fn topic_names() -> impl Iterator<Item = &'static str> {
    TOPICS.iter().map(|(name, _)| *name)
}

/// The topic that a word names: its name and its Markdown.
pub(super) fn topic(word: &str) -> Option<(&'static str, &'static str)> {
    let named = |name: &str| TOPICS.iter().find(|(topic, _)| *topic == name);
    let also = || {
        let (_, name) = ALSO.iter().find(|(also, _)| *also == word)?;
        named(name)
    };
    named(word).or_else(also).copied()
}

/// Markdown for a terminal: the heading as it is, formulas as they stand, the rest wrapped.
pub(super) fn paragraphs(markdown: &str) -> String {
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
