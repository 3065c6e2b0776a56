//! Words, texts and sections.

use super::Reader;
use crate::input::document::{Node, Table, Value};
use crate::input::fault::Place;
use crate::input::keys::row::Key;
use crate::input::synonyms;

impl<'a> Reader<'a> {
    /// One of several words.
    pub(in crate::input) fn word<T: Copy>(
        &self,
        key: &'static Key,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let key = key.name;
        let node = self.node(key)?;
        let words: Vec<&'static str> = choices.iter().map(|choice| choice.0).collect();
        let Value::Text(written) = &node.value else {
            self.fault(
                key,
                format!(
                    "is {}; expected one of {}",
                    node.value.name(),
                    quoted(&words)
                ),
            );
            return None;
        };
        let found = synonyms::choice(written, choices);
        if found.is_none() {
            let meant = match synonyms::meant_choices(written, &words).as_slice() {
                [] => String::new(),
                meant => format!(" (did you mean {}?)", either(meant)),
            };
            self.fault(
                key,
                format!(
                    "\"{written}\" is not known{meant}; expected one of {}",
                    quoted(&words)
                ),
            );
        }
        found
    }

    /// Free text.
    pub(in crate::input) fn text(&self, key: &'static str) -> Option<&'a str> {
        let node = self.node(key)?;
        match &node.value {
            Value::Text(text) => Some(text),
            other => {
                self.fault(key, format!("is {}; expected text in quotes", other.name()));
                None
            }
        }
    }

    /// A section within this one.
    pub(in crate::input) fn section(&self, key: &'static str) -> Option<Reader<'a>> {
        let node = self.node(key)?;
        let Value::Table(table) = &node.value else {
            let full = self.key(key);
            self.fault(
                key,
                format!(
                    "is {}; expected a section: [{full}] and its keys below",
                    node.value.name()
                ),
            );
            return None;
        };
        Some(Reader::new(
            table,
            node.place.clone(),
            &self.key(key),
            self.context,
        ))
    }

    /// A list of sections, each written under `[[key]]`.
    pub(in crate::input) fn sections(&self, key: &'static str) -> Option<Vec<(&'a Table, Place)>> {
        let node = self.node(key)?;
        let wrong = |node: &Node| {
            let text = format!(
                "is {}; expected sections, each under its own [[{key}]]",
                node.value.name()
            );
            self.context.fault(&node.place, &self.key(key), text);
        };
        let Value::List(items) = &node.value else {
            wrong(node);
            return None;
        };
        let mut sections = Vec::new();
        for item in items {
            match &item.value {
                Value::Table(table) => sections.push((table, item.place.clone())),
                Value::Removed => {}
                _ => wrong(item),
            }
        }
        Some(sections)
    }
}

fn either(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    quoted.join(" or ")
}

fn quoted(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    quoted.join(", ")
}
