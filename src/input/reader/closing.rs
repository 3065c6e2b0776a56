//! Keys that do not go together, and keys that nobody asked for.

use super::{Missing, Reader};
use crate::input::document::Value;
use crate::input::keys::relations::{IDLE, NEEDS, Weight, When};
use crate::input::keys::row::Section;
use crate::input::nearest::nearest;
use crate::input::part_words::PART_WORDS;
use crate::input::synonyms;

impl Reader<'_> {
    /// Whether something holds of the section as written.
    fn holds(&self, when: When) -> bool {
        let written = |key: &str| {
            let node = self.table.get(key);
            node.filter(|node| node.value != Value::Removed)
        };
        match when {
            When::Given(key) => written(key).is_some(),
            When::AnyGiven(keys) => keys.iter().any(|key| written(key).is_some()),
            When::Absent(key) => written(key).is_none(),
            When::Word(key, word) => {
                let value = written(key).map(|node| &node.value);
                matches!(value, Some(Value::Text(text))
                    if synonyms::choice(text, &[(word, ())]).is_some())
            }
        }
    }

    /// Keys that have no effect beside what was chosen, and keys that are missing beside it.
    fn relate(&self, section: &Section) {
        let all = |when: &[When]| when.iter().all(|one| self.holds(*one));
        let mut said: Vec<&str> = Vec::new();
        let idle = IDLE.iter().filter(|row| row.section == section.path);
        for row in idle.filter(|row| all(row.when)) {
            for key in row.keys {
                if self.holds(When::Absent(key)) || said.contains(key) {
                    continue;
                }
                said.push(key);
                match row.weight {
                    Weight::Refused => self.fault(key, format!("has no effect here: {}", row.why)),
                    Weight::NotUsed => self.remark(key, format!("not used: {}", row.why)),
                }
            }
        }
        let needed = NEEDS.iter().filter(|row| row.section == section.path);
        for key in needed
            .filter(|row| all(row.when))
            .filter_map(|row| section.key(row.key))
        {
            self.has_to_have(key);
        }
    }

    /// Closes the section: what was never asked for is unknown.
    pub(in crate::input) fn finish(&self) {
        if let Some(section) = self.section {
            self.relate(section);
        }
        let asked = self.asked.borrow();
        let known = self.known(&asked);
        let mut missing = self.missing.take();
        let wanted = |missing: &[Missing]| -> Vec<&'static str> {
            let keys = missing.iter().flat_map(|entry| entry.keys.iter());
            keys.copied().collect()
        };
        let unknown = self.table.entries().filter(|(key, _)| !known.contains(key));
        for (key, node) in unknown {
            // A key that is wanted and not there is the likelier meaning.
            let needed = wanted(&missing);
            let meant = synonyms::key(key, &needed)
                .or_else(|| nearest(key, needed))
                .or_else(|| self.meant(key, &known));
            missing.retain(|entry| meant.is_none_or(|name| !entry.keys.contains(&name)));
            let text = match (meant, self.home(key)) {
                (_, Some(home)) => format!("is not a section of its own: write {home}"),
                (Some(name), None) => format!("is unknown, did you mean {name}?"),
                (None, None) => format!("is unknown; known here: {}", known.join(", ")),
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

    /// The keys of the section: those of its table; of a list without one, those asked for.
    fn known(&self, asked: &[&'static str]) -> Vec<&'static str> {
        match self.section {
            Some(section) => section.keys.iter().map(|key| key.name).collect(),
            None => asked.to_vec(),
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
        let rows = self.section.map_or(&[][..], |section| section.keys);
        let now = rows.iter().find(|row| row.once == Some(written));
        now.map(|row| row.name)
            .or_else(|| synonyms::key(written, &free))
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
        if self
            .meant(written, &self.known(&self.asked.borrow()))
            .is_some()
        {
            return None;
        }
        if let Some(place) = synonyms::near_place(written) {
            return Some(format!("[{place}]"));
        }
        let part = synonyms::part(written, &PART_WORDS)?;
        Some(format!("[[air_path]] with part = \"{part}\""))
    }
}
