//! A section that remembers what was asked for, so that what was not asked for is unknown.
//!
//! One reader per section. Every getter returns the value, or notes what is wrong and returns
//! `None`; nothing stops at the first fault. [`Reader::finish`] closes the section: unknown keys get
//! the nearest of the asked ones, and a key that was only misspelt is not reported as missing too.

use std::cell::RefCell;

use super::context::Context;
use super::document::{Node, Table, Value};
use super::fault::Place;
use super::input::{Measured, Source};
use super::nearest::nearest;
use super::want::Want;

/// Source of a default that follows from what the key means.
pub const CONVENTION: &str = "what its absence means";
/// Source of a rule of thumb.
pub(super) const COMMON_PRACTICE: &str = "common practice";

/// A reader of one section.
pub(super) struct Reader<'a> {
    table: &'a Table,
    place: Place,
    path: String,
    context: &'a Context,
    asked: RefCell<Vec<&'static str>>,
    missing: RefCell<Vec<(&'static str, Place, String)>>,
}

impl<'a> Reader<'a> {
    /// A reader of a section at a place; `path` is its dotted key, empty for the whole file.
    pub(super) fn new(table: &'a Table, place: Place, path: &str, context: &'a Context) -> Self {
        Self {
            table,
            place,
            path: path.to_owned(),
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

    pub(super) fn fault(&self, key: &str, text: impl Into<String>) {
        self.context
            .fault(&self.place_of(key), &self.key(key), text);
    }

    pub(super) fn remark(&self, key: &str, text: impl Into<String>) {
        self.context
            .remark(&self.place_of(key), &self.key(key), text);
    }

    /// Says that a needed key is not there, unless it turns out to be only misspelt.
    pub(super) fn is_missing(&self, key: &'static str, text: String) {
        let entry = (key, self.place_of(key), text);
        self.missing.borrow_mut().push(entry);
    }

    /// A value where it is written.
    pub(super) fn value(&self, key: &'static str, want: Want) -> Option<f64> {
        let node = self.node(key)?;
        let read = want.read(node, self.context.site_pressure.get());
        let mut values = [read.map_err(|text| self.fault(key, text)).ok()?];
        self.take(key, node, want, &mut values)?;
        Some(values[0].value)
    }

    /// Notes what was read as an input and moves it where that is asked for.
    pub(super) fn take(
        &self,
        key: &str,
        node: &Node,
        want: Want,
        values: &mut [Measured],
    ) -> Option<()> {
        let source = Source {
            key: self.key(key),
            place: &node.place,
            want,
            is_default: false,
        };
        let taken = self
            .context
            .inputs
            .take(&source, values, || as_written(node));
        taken.map_err(|text| self.fault(key, text)).ok()
    }

    /// A default that a key could be written for, moved where that is asked for.
    pub(super) fn assume(&self, key: &'static str, want: Want, default: f64) -> f64 {
        let source = Source {
            key: self.key(key),
            place: &self.place,
            want,
            is_default: true,
        };
        let mut values = [Measured {
            value: default,
            uncertainty: None,
        }];
        let taken = self
            .context
            .inputs
            .take(&source, &mut values, || "by default".to_owned());
        if let Err(text) = taken {
            self.fault(key, text);
        }
        values[0].value
    }

    /// A value that has to be there.
    pub(super) fn needed(&self, key: &'static str, want: Want) -> Option<f64> {
        if !self.has(key) {
            self.is_missing(key, want.missing(key));
        }
        self.value(key, want)
    }

    /// A value, or its default where it is not written; the default is said.
    pub(super) fn value_or(
        &self,
        key: &'static str,
        want: Want,
        default: f64,
        said: &str,
    ) -> Option<f64> {
        if !self.has(key) {
            self.default(key, said);
            return Some(self.assume(key, want, default));
        }
        self.value(key, want)
    }

    /// Says that a default is used, in words of its own.
    pub(super) fn default(&self, key: &str, said: &str) {
        self.default_from(key, said, CONVENTION);
    }

    /// The same with its source.
    pub(super) fn default_from(&self, key: &str, said: &str, source: &'static str) {
        self.absent(key, said);
        let value = said.strip_suffix(" is taken").unwrap_or(said);
        self.taken(key, value, source);
    }

    /// Says that a usual value is taken, with its source.
    pub(super) fn usual(&self, key: &str, value: &str, source: &'static str) {
        self.absent(key, &format!("{value} is taken ({source})"));
        self.taken(key, value, source);
    }

    /// Says what follows from a key that is not there, where nothing is taken in its place.
    pub(super) fn absent(&self, key: &str, said: &str) {
        self.remark(key, format!("not given: {said}"));
    }

    /// Lists a value that was taken, without a remark of its own.
    pub(super) fn taken(&self, key: &str, value: &str, source: &'static str) {
        self.context
            .taken(&self.place_of(key), &self.key(key), value, source);
    }

    /// One of several words.
    pub(super) fn word<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let node = self.node(key)?;
        let words: Vec<&'static str> = choices.iter().map(|choice| choice.0).collect();
        let Value::Text(written) = &node.value else {
            self.fault(
                key,
                format!(
                    "is {}, but one of these words is wanted: {}",
                    node.value.name(),
                    quoted(&words)
                ),
            );
            return None;
        };
        let plain = written.trim().to_lowercase();
        let found = choices.iter().find(|choice| choice.0 == plain);
        if found.is_none() {
            let meant = nearest(&plain, words.iter().copied());
            let meant =
                meant.map_or_else(String::new, |word| format!(", did you mean \"{word}\"?"));
            self.fault(
                key,
                format!(
                    "\"{written}\" is not known{meant}; it is one of {}",
                    quoted(&words)
                ),
            );
        }
        found.map(|choice| choice.1)
    }

    /// Free text.
    pub(super) fn text(&self, key: &'static str) -> Option<&'a str> {
        let node = self.node(key)?;
        match &node.value {
            Value::Text(text) => Some(text),
            other => {
                self.fault(
                    key,
                    format!("is {}, but text in quotes is wanted", other.name()),
                );
                None
            }
        }
    }

    /// A section within this one.
    pub(super) fn section(&self, key: &'static str) -> Option<Reader<'a>> {
        let node = self.node(key)?;
        let Value::Table(table) = &node.value else {
            let full = self.key(key);
            self.fault(
                key,
                format!(
                    "is {}, but a section is wanted: [{full}] and its keys below",
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
    pub(super) fn sections(&self, key: &'static str) -> Option<Vec<(&'a Table, Place)>> {
        let node = self.node(key)?;
        let wrong = |node: &Node| {
            let text = format!(
                "is {}, but sections are wanted, each under its own [[{key}]]",
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

    /// Refuses the later of two keys that say the same thing.
    pub(super) fn not_both(&self, one: &'static str, other: &'static str) {
        if self.has(one) && self.has(other) {
            let (first, second) = if self.place_of(one) <= self.place_of(other) {
                (one, other)
            } else {
                (other, one)
            };
            self.fault(
                second,
                format!("stands beside {first}: they say the same thing, write one of them"),
            );
        }
    }

    /// Refuses keys that mean nothing beside what was chosen.
    pub(super) fn means_nothing(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.fault(key, format!("means nothing here: {why}"));
            }
        }
    }

    /// Remarks on keys that are there and not used beside what was chosen.
    pub(super) fn set_aside(&self, keys: &[&'static str], why: &str) {
        for key in keys {
            if self.has(key) {
                self.remark(key, format!("is set aside: {why}"));
            }
        }
    }

    /// Closes the section: what was never asked for is unknown.
    pub(super) fn finish(&self) {
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

fn quoted(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    quoted.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::document::Document;
    use crate::build::fault::Note;
    use crate::quantity::Kind;

    fn notes(text: &str, ask: impl Fn(&Reader<'_>)) -> Vec<String> {
        let document = Document::from_text("t", text);
        let context = Context::default();
        let reader = Reader::new(&document.root, Place::Line("t".into(), 1), "", &context);
        ask(&reader);
        reader.finish();
        context.into_notes().0.iter().map(Note::to_string).collect()
    }

    const VOLUME: Want = Want::of(Kind::Volume, "\"4.5 L\"").above(0.0);
    const FILLING: Want = Want::of(Kind::Share, "0.9").at_least(0.1).at_most(3.0);

    #[test]
    fn a_misspelt_key_is_reported_once() {
        let said = notes("dispalcement = \"4.5 L\"\n", |r| {
            r.needed("displacement", VOLUME);
            r.value("bore", VOLUME);
        });
        assert_eq!(
            said,
            ["t:1: dispalcement: is unknown, did you mean displacement?"]
        );
    }

    #[test]
    fn all_faults_come_in_line_order() {
        let said = notes("b = \"x\"\nq = 1\na = 4\n", |r| {
            r.needed("a", VOLUME);
            r.needed("b", VOLUME);
            r.needed("volume_of_air", VOLUME);
        });
        assert_eq!(said.len(), 4, "{said:?}");
        assert!(
            said[0].starts_with("t:1: b: ")
                || said[0].starts_with("t:1: volume_of_air: is missing")
        );
        assert!(said[2].starts_with("t:2: q: is unknown; known here: a, b"));
        assert_eq!(
            said[3],
            "t:3: a: 4 has no unit; a volume is wanted, write for example \"4 L\" (or cc, in3)"
        );
    }

    #[test]
    fn a_percentage_without_its_sign_is_asked_about() {
        let said = notes("ve = 85\n", |r| {
            assert_eq!(r.value("ve", FILLING), None);
        });
        assert_eq!(
            said,
            [
                "t:1: ve: 85 makes no sense here: it has to be between 0.1 and 3; did you mean 0.85 (or \"85 %\")?"
            ]
        );
        assert!(
            notes("ve = \"85 %\"\n", |r| assert_eq!(
                r.value("ve", FILLING),
                Some(0.85)
            ))
            .is_empty()
        );
    }

    #[test]
    fn a_table_that_does_not_rise_is_named_with_its_row_and_line() {
        let said = notes(
            "ve = [\n [1000, 0.8],\n [2000, 0.9],\n [1500, 0.9],\n]\n",
            |r| {
                r.schedule("ve", FILLING);
            },
        );
        assert_eq!(
            said,
            [
                "t:4: ve: row 3: 1500 rpm does not rise above the 2000 rpm of the row before; sort the rows by rising rpm, one row a speed"
            ]
        );
    }

    #[test]
    fn every_bad_row_of_a_table_is_named() {
        let said = notes("ve = [[1000, 85], [nan, 0.8], [3000]]\n", |r| {
            r.schedule("ve", FILLING);
        });
        assert_eq!(said.len(), 3, "{said:?}");
        assert!(said[0].contains("row 1: 85 makes no sense"));
        assert!(said[1].contains("row 2: \"nan\" is not a finite number"));
        assert!(said[2].contains("row 3: a row is written [rpm, value], this one has 1 entries"));
        for flat in ["ve = [1000, 0.85]\n", "ve = []\n", "ve = [[]]\n"] {
            assert_eq!(
                notes(flat, |r| assert!(r.schedule("ve", FILLING).is_none())).len(),
                1
            );
        }
    }

    #[test]
    fn a_word_gets_the_nearest_choice() {
        let said = notes("bypass = \"chek\"\n", |r| {
            r.word("bypass", &[("none", 0), ("check", 1), ("regulated", 2)]);
        });
        assert_eq!(
            said,
            [
                "t:1: bypass: \"chek\" is not known, did you mean \"check\"?; it is one of \"none\", \"check\", \"regulated\""
            ]
        );
    }

    #[test]
    fn a_value_of_the_wrong_shape_says_what_it_is() {
        let said = notes("a = true\nb = [1]\nc = 1\nd = 1979-05-27\n", |r| {
            r.value("a", VOLUME);
            r.value("b", VOLUME);
            r.section("c");
            r.text("d");
        });
        assert!(
            said[0].contains("is true or false, but a volume is wanted, for example \"4.5 L\"")
        );
        assert!(said[1].contains("is a list, but"));
        assert!(said[2].contains("is a number, but a section is wanted: [c]"));
        assert!(said[3].contains("is a date, but text in quotes is wanted"));
    }
}
