//! A section that remembers what was asked for, so that what was not asked for is unknown.
//!
//! One reader per section. Every getter returns the value, or notes what is wrong and returns
//! `None`; nothing stops at the first fault. [`Reader::finish`] closes the section: unknown keys get
//! the nearest of the asked ones, and a key that was only misspelt is not reported as missing too.

mod closing;
mod defaults;
mod shapes;
#[cfg(test)]
mod tests;

use std::cell::RefCell;

use super::context::Context;
use super::document::{Node, Table, Value};
use super::fault::Place;
use super::inputs::Source;
use super::keys;
use super::keys::row::{Key, Section};
use super::keys::spec::{Measured, Spec};
use super::sense::{Given, without_numbers};
use crate::quantity::Words;

/// A needed key, or one of several, that is not there.
struct Missing {
    /// The key that is said to be missing, and what could stand in its place.
    keys: Vec<&'static str>,
    place: Place,
    text: Words,
}

/// A reader of one section.
pub(super) struct Reader<'a> {
    table: &'a Table,
    place: Place,
    path: String,
    section: Option<&'static Section>,
    context: &'a Context,
    asked: RefCell<Vec<&'static str>>,
    missing: RefCell<Vec<Missing>>,
}

impl<'a> Reader<'a> {
    /// A reader of a section at a place; `path` is its dotted key, empty for the whole file.
    pub(super) fn new(table: &'a Table, place: Place, path: &str, context: &'a Context) -> Self {
        Self {
            table,
            place,
            path: path.to_owned(),
            section: keys::section(&without_numbers(path)),
            context,
            asked: RefCell::default(),
            missing: RefCell::default(),
        }
    }

    pub(super) const fn context(&self) -> &'a Context {
        self.context
    }

    /// The section's own place: its heading.
    pub(super) const fn place(&self) -> &Place {
        &self.place
    }

    /// The dotted key of a key of this section.
    pub(super) fn key(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// Where a key stands, or the section where it does not.
    pub(super) fn place_of(&self, key: &str) -> Place {
        self.table
            .get(key)
            .map_or_else(|| self.place.clone(), |node| node.place.clone())
    }

    /// Whether a key was written, right or wrong.
    pub(super) fn has(&self, key: &'static str) -> bool {
        self.node(key).is_some()
    }

    /// Makes a key known that is read under a condition only.
    pub(super) fn knows(&self, key: &'static str) {
        let mut asked = self.asked.borrow_mut();
        if !asked.contains(&key) {
            asked.push(key);
        }
    }

    /// The node of a key; an option with an empty value has taken it out.
    pub(super) fn node(&self, key: &'static str) -> Option<&'a Node> {
        self.knows(key);
        self.table
            .get(key)
            .filter(|node| node.value != Value::Removed)
    }

    pub(super) fn fault(&self, key: &str, text: impl Into<Words>) {
        self.context
            .fault(&self.place_of(key), &self.key(key), text);
    }

    pub(super) fn remark(&self, key: &str, text: impl Into<Words>) {
        self.context
            .remark(&self.place_of(key), &self.key(key), text);
    }

    /// Says that a needed key is not there, unless it turns out to be only misspelt.
    pub(super) fn is_missing(&self, key: &'static str, text: impl Into<Words>) {
        self.is_missing_one_of(&[key], text);
    }

    /// The same in the words of the key's row.
    pub(super) fn has_to_have(&self, key: &'static Key) {
        if !self.has(key.name) {
            self.is_missing(key.name, key.missing());
        }
    }

    /// Says that none of several keys is there, of which one is needed, at the first of them; unless
    /// one turns out to be only misspelt.
    pub(super) fn is_missing_one_of(&self, keys: &[&'static str], text: impl Into<Words>) {
        let entry = Missing {
            keys: keys.to_vec(),
            place: self.place_of(keys.first().copied().unwrap_or_default()),
            text: text.into(),
        };
        self.missing.borrow_mut().push(entry);
    }

    /// A value where it is written.
    pub(super) fn value(&self, key: &'static Key) -> Option<f64> {
        let node = self.node(key.name)?;
        let read = key.spec()?.read(node, self.context.site_pressure.get());
        let mut values = [read.map_err(|text| self.fault(key.name, text)).ok()?];
        self.take(key, key.spec()?, node, &mut values)?;
        Some(values[0].value)
    }

    /// Notes what was read as `spec` says as an input, and moves it where that is asked for.
    pub(super) fn take(
        &self,
        key: &Key,
        spec: Spec,
        node: &Node,
        values: &mut [Measured],
    ) -> Option<()> {
        self.note(key, spec, node, values, || as_written(node))
            .map_err(|text| self.fault(key.name, text))
            .ok()
    }

    /// A default that a key could be written for, moved where that is asked for.
    pub(super) fn assume(&self, key: &Key, default: f64) -> f64 {
        let nowhere = Node {
            place: self.place.clone(),
            value: Value::Removed,
        };
        let mut values = [Measured {
            value: default,
            uncertainty: None,
        }];
        if let Some(spec) = key.spec()
            && let Err(text) =
                self.note(key, spec, &nowhere, &mut values, || "by default".to_owned())
        {
            self.fault(key.name, text);
        }
        values[0].value
    }

    fn note(
        &self,
        key: &Key,
        spec: Spec,
        node: &Node,
        values: &mut [Measured],
        written: impl FnOnce() -> String,
    ) -> Result<(), String> {
        let is_default = node.value == Value::Removed;
        self.context.keep(|| Given {
            key: self.key(key.name),
            spec,
            node: node.clone(),
            values: values.iter().map(|measured| measured.value).collect(),
            is_default,
        });
        let source = Source {
            key: self.key(key.name),
            place: &node.place,
            spec,
            is_default,
        };
        self.context.inputs.take(&source, values, written)
    }

    /// A value that has to be there.
    pub(super) fn needed(&self, key: &'static Key) -> Option<f64> {
        self.has_to_have(key);
        self.value(key)
    }
}

/// What was written, short: a value as it stands, a table by its first and last value.
fn as_written(node: &Node) -> String {
    match &node.value {
        Value::Text(text) | Value::Number(text, _) => text.trim().to_owned(),
        Value::List(rows) => {
            let value = |row: Option<&Node>| match row.map(|row| &row.value) {
                Some(Value::List(pair)) => pair.last().map(as_written),
                _ => None,
            };
            match (value(rows.first()), value(rows.last())) {
                (Some(first), Some(last)) if rows.len() > 1 => format!("{first} … {last}"),
                (first, _) => first.unwrap_or_default(),
            }
        }
        other => other.name().to_owned(),
    }
}
