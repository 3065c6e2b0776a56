//! What is taken where a key is not written, said and listed.

use super::{CONVENTION, Reader};

impl Reader<'_> {
    /// Says that a default is used, in words of its own.
    pub(in crate::build) fn default(&self, key: &str, said: &str) {
        self.default_from(key, said, CONVENTION);
    }

    /// The same with its source.
    pub(in crate::build) fn default_from(&self, key: &str, said: &str, source: &'static str) {
        self.absent(key, said);
        let value = said.strip_suffix(" is taken").unwrap_or(said);
        self.taken(key, value, source);
    }

    /// Says that a usual value is taken, with its source.
    pub(in crate::build) fn usual(&self, key: &str, value: &str, source: &'static str) {
        self.absent(key, &format!("{value} is taken ({source})"));
        self.taken(key, value, source);
    }

    /// Says what follows from a key that is not there, where nothing is taken in its place.
    pub(in crate::build) fn absent(&self, key: &str, said: &str) {
        self.remark(key, format!("not given: {said}"));
    }

    /// Lists a value that was taken, without a remark of its own.
    pub(in crate::build) fn taken(&self, key: &str, value: &str, source: &'static str) {
        self.context
            .taken(&self.place_of(key), &self.key(key), value, source);
    }
}
