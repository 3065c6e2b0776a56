//! What is taken where a key is not written, said and listed.

use super::Reader;
use crate::input::keys::row::{CONVENTION, Key, Without};
use crate::quantity::{Words, words};

impl Reader<'_> {
    /// A value, or one taken in its place, which is said.
    pub(in crate::input) fn value_or(
        &self,
        key: &'static Key,
        default: f64,
        said: impl Into<Words>,
    ) -> Option<f64> {
        if !self.has(key.name) {
            self.default(key.name, said);
            return Some(self.assume(key, default));
        }
        self.value(key)
    }

    /// A value, or the default of its row, which is said.
    pub(in crate::input) fn value_or_default(&self, key: &'static Key) -> Option<f64> {
        if self.has(key.name) {
            return self.value(key);
        }
        let default = self.say_default(key)?;
        Some(self.assume(key, default))
    }

    /// Says that a default is used: a value with its unit, or what follows.
    pub(in crate::input) fn default(&self, key: &str, value: impl Into<Words>) {
        self.default_from(key, value, CONVENTION);
    }

    /// The same with its source.
    pub(in crate::input) fn default_from(
        &self,
        key: &str,
        value: impl Into<Words>,
        source: &'static str,
    ) {
        let value = value.into();
        let mut said = words!["using ", value.clone()];
        if source != CONVENTION {
            said = words![said, format!(" ({source})")];
        }
        self.absent(key, said);
        self.taken(key, value, source);
    }

    /// Says the default of a key's row, and returns it in SI; none where the row has no such value.
    pub(in crate::input) fn say_default(&self, key: &Key) -> Option<f64> {
        let Without::Value { si, source, .. } = key.without else {
            return None;
        };
        self.default_from(key.name, key.shown_default()?, source);
        Some(si)
    }

    /// Says what follows from a key that is not there, where nothing is taken in its place.
    pub(in crate::input) fn absent(&self, key: &str, said: impl Into<Words>) {
        self.remark(key, words!["not set; ", said]);
    }

    /// Lists a value that was taken, without a remark of its own.
    pub(in crate::input) fn taken(&self, key: &str, value: impl Into<Words>, source: &'static str) {
        self.context
            .taken(&self.place_of(key), &self.key(key), value, source);
    }
}
