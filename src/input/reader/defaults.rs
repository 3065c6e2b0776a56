//! What is taken where a key is not written, said and listed.

use super::{CONVENTION, Reader};
use crate::quantity::{Words, words};

impl Reader<'_> {
    /// Says that a default is used, in words of its own.
    pub(in crate::input) fn default(&self, key: &str, said: impl Into<Words>) {
        self.default_from(key, said, CONVENTION);
    }

    /// The same with its source.
    pub(in crate::input) fn default_from(
        &self,
        key: &str,
        said: impl Into<Words>,
        source: &'static str,
    ) {
        let said = said.into();
        self.absent(key, said.clone());
        self.taken(key, said.without_ending(" is taken"), source);
    }

    /// Says that a usual value is taken, with its source.
    pub(in crate::input) fn usual(&self, key: &str, value: impl Into<Words>, source: &'static str) {
        let value = value.into();
        let said = words![value.clone(), format!(" is taken ({source})")];
        self.absent(key, said);
        self.taken(key, value, source);
    }

    /// Says what follows from a key that is not there, where nothing is taken in its place.
    pub(in crate::input) fn absent(&self, key: &str, said: impl Into<Words>) {
        self.remark(key, words!["not given: ", said]);
    }

    /// Lists a value that was taken, without a remark of its own.
    pub(in crate::input) fn taken(&self, key: &str, value: impl Into<Words>, source: &'static str) {
        self.context
            .taken(&self.place_of(key), &self.key(key), value, source);
    }
}
