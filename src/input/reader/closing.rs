//! Keys that do not go together, and keys that nobody asked for.

use super::{Missing, Reader};
use crate::input::nearest::nearest;
use crate::input::overrides::PART_WORDS;
use crate::input::synonyms;

impl Reader<'_> {
    /// Refuses keys that mean nothing beside what was chosen.
    pub(in crate::input) fn means_nothing(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.fault(key, format!("means nothing here: {why}"));
            }
        }
    }

    /// Remarks on keys that are there and not used beside what was chosen.
    pub(in crate::input) fn set_aside(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.remark(key, format!("is set aside: {why}"));
            }
        }
    }

    /// Closes the section: what was never asked for is unknown.
    pub(in crate::input) fn finish(&self) {
        let asked = self.asked.borrow();
        let mut missing = self.missing.take();
        let wanted = |missing: &[Missing]| -> Vec<&'static str> {
            let keys = missing.iter().flat_map(|entry| entry.keys.iter());
            keys.copied().collect()
        };
        let unknown = self.table.entries().filter(|(key, _)| !asked.contains(key));
        for (key, node) in unknown {
            // A key that is wanted and not there is the likelier meaning.
            let needed = wanted(&missing);
            let meant = synonyms::key(key, &needed)
                .or_else(|| nearest(key, needed))
                .or_else(|| self.meant(key, &asked));
            missing.retain(|entry| meant.is_none_or(|name| !entry.keys.contains(&name)));
            let text = match (meant, self.home(key)) {
                (_, Some(home)) => format!("is no section of its own: write {home}"),
                (Some(name), None) => format!("is unknown, did you mean {name}?"),
                (None, None) => format!("is unknown; known here: {}", asked.join(", ")),
            };
            self.context.fault(&node.place, &self.key(key), text);
        }
        if self.context.broken.is_empty() {
            for Missing { keys, place, text } in missing {
                let key = keys.first().copied().unwrap_or_default();
                self.context.fault(&place, &self.key(key), text);
            }
        }
    }

    /// Whether a section is not there, but another that was meant for it is.
    pub(in crate::input) fn is_misnamed(&self, key: &'static str) -> bool {
        let meant = |written: &str| {
            let part = key == "air_path" && synonyms::part(written, &PART_WORDS).is_some();
            part || self.meant(written, &[key]).is_some()
        };
        !self.has(key) && self.table.entries().any(|(written, _)| meant(written))
    }

    /// The key that was meant by a word that nobody asked for.
    fn meant(&self, written: &str, known: &[&'static str]) -> Option<&'static str> {
        let free = known.iter().copied();
        let free = free.filter(|name| self.table.get(name).is_none());
        let free: Vec<&'static str> = free.collect();
        synonyms::key(written, &free)
            .or_else(|| nearest(written, free))
            .or_else(|| synonyms::key(written, known))
            .or_else(|| nearest(written, known.iter().copied()))
    }

    /// Where something belongs that stands by itself at the top of the file.
    fn home(&self, written: &str) -> Option<String> {
        if !self.path.is_empty() {
            return None;
        }
        if let Some(place) = synonyms::place(written) {
            return Some(format!("[{place}]"));
        }
        if self.meant(written, &self.asked.borrow()).is_some() {
            return None;
        }
        if let Some(place) = synonyms::near_place(written) {
            return Some(format!("[{place}]"));
        }
        let part = synonyms::part(written, &PART_WORDS)?;
        Some(format!("[[air_path]] with part = \"{part}\""))
    }
}
