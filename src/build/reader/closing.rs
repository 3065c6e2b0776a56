//! Keys that do not go together, and keys that nobody asked for.

use super::Reader;
use crate::build::nearest::nearest;

impl Reader<'_> {
    /// Refuses keys that mean nothing beside what was chosen.
    pub(in crate::build) fn means_nothing(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.fault(key, format!("means nothing here: {why}"));
            }
        }
    }

    /// Remarks on keys that are there and not used beside what was chosen.
    pub(in crate::build) fn set_aside(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.remark(key, format!("is set aside: {why}"));
            }
        }
    }

    /// Closes the section: what was never asked for is unknown.
    pub(in crate::build) fn finish(&self) {
        let asked = self.asked.borrow();
        let mut missing = self.missing.take();
        let unknown = self.table.entries().filter(|(key, _)| !asked.contains(key));
        for (key, node) in unknown {
            // A key that is wanted and not there is the likelier meaning.
            let wanted = nearest(key, missing.iter().map(|entry| entry.0));
            let free = asked
                .iter()
                .copied()
                .filter(|name| self.table.get(name).is_none());
            let meant = wanted
                .or_else(|| nearest(key, free))
                .or_else(|| nearest(key, asked.iter().copied()));
            missing.retain(|entry| Some(entry.0) != meant);
            let text = match meant {
                Some(name) => format!("is unknown, did you mean {name}?"),
                None => format!("is unknown; known here: {}", asked.join(", ")),
            };
            self.context.fault(&node.place, &self.key(key), text);
        }
        if self.context.broken.is_empty() {
            for (key, place, text) in missing {
                self.context.fault(&place, &self.key(key), text);
            }
        }
    }
}
