//! The sections of a document by the words that name them.

use super::super::document::{Node, Table, Value};
use super::super::fault::{Note, Place};
use super::super::overrides::Replaced;
use super::super::part_words::PART_WORDS;
use super::age::Age;

/// One section of a document.
pub(super) struct Section<'t> {
    /// Its dotted key, as options name it: `cooler.2.rated`.
    pub path: String,
    /// The same without numbers: `cooler.rated`.
    pub word: String,
    table: &'t mut Table,
}

/// Hands every section of a document to `visit`, outer ones first.
pub(super) fn each(root: &mut Table, visit: &mut dyn FnMut(&mut Section<'_>)) {
    let keys: Vec<String> = root.entries().map(|(key, _)| key.to_owned()).collect();
    for key in keys {
        match root.get_mut(&key).map(|node| &mut node.value) {
            Some(Value::Table(table)) => within(table, key.clone(), key, visit),
            Some(Value::List(items)) if key == "air_path" => parts(items, visit),
            Some(Value::List(items)) => {
                let tables = items.iter_mut().filter_map(table_of);
                for (number, table) in tables.enumerate() {
                    within(table, numbered(&key, number + 1), key.clone(), visit);
                }
            }
            _ => {}
        }
    }
}

fn parts(items: &mut [Node], visit: &mut dyn FnMut(&mut Section<'_>)) {
    let mut seen = [0; PART_WORDS.len()];
    for table in items.iter_mut().filter_map(table_of) {
        let Some(Value::Text(word)) = table.get("part").map(|node| &node.value) else {
            continue;
        };
        let word = word.trim().to_lowercase().replace([' ', '-'], "_");
        if let Some(which) = PART_WORDS.iter().position(|known| *known == word) {
            seen[which] += 1;
            within(table, numbered(&word, seen[which]), word, visit);
        }
    }
}

fn within(table: &mut Table, path: String, word: String, visit: &mut dyn FnMut(&mut Section<'_>)) {
    let mut section = Section { path, word, table };
    visit(&mut section);
    let Section { path, word, table } = section;
    let keys: Vec<String> = table.entries().map(|(key, _)| key.to_owned()).collect();
    for key in keys {
        if let Some(inner) = table.get_mut(&key).and_then(table_of) {
            within(
                inner,
                format!("{path}.{key}"),
                format!("{word}.{key}"),
                visit,
            );
        }
    }
}

fn table_of(node: &mut Node) -> Option<&mut Table> {
    match &mut node.value {
        Value::Table(table) => Some(table),
        _ => None,
    }
}

/// The first of a kind keeps the bare word.
fn numbered(word: &str, number: usize) -> String {
    match number {
        1 => word.to_owned(),
        more => format!("{word}.{more}"),
    }
}

impl Section<'_> {
    /// What is written for a key.
    pub fn node(&self, key: &str) -> Option<&Node> {
        let node = self.table.get(key)?;
        (node.value != Value::Removed).then_some(node)
    }

    pub fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    /// When a key was set; what is not there counts as the file's.
    pub fn age(&self, key: &str) -> Age {
        self.node(key).map_or(Age::File, Age::of)
    }

    pub fn place(&self, key: &str) -> Option<&Place> {
        self.table.get(key).map(|node| &node.place)
    }

    /// A note on a key that is there.
    pub fn note(&self, key: &str, text: String) -> Note {
        let place = self.place(key).cloned().unwrap_or(Place::File("".into()));
        Note::new(place, format!("{}.{key}", self.path), text)
    }

    /// An option as its user knows it, or the key of the file.
    pub fn who(&self, key: &str) -> String {
        match self.node(key).map(|node| innermost(node).place.clone()) {
            Some(place @ Place::Set(..)) => place.to_string(),
            Some(place @ Place::Beside(..)) => format!("{}.{key} of {place}", self.path),
            _ => key.to_owned(),
        }
    }

    pub fn remove(&mut self, key: &str) {
        if let Some(node) = self.table.get_mut(key) {
            node.value = Value::Removed;
        }
    }

    /// Gives a key another name, in its place.
    pub fn rename(&mut self, key: &str, name: &str) {
        self.table.rename(key, name);
    }

    pub fn insert(&mut self, key: &str, node: Node) {
        self.table.insert(key, node);
    }

    /// What the file says for a key, whatever options say since.
    pub fn old(&self, key: &str, replaced: &Replaced) -> Option<Node> {
        let mut node = self.table.get(key)?;
        while let Place::Set(number, _) | Place::Beside(number, _) = &node.place {
            node = replaced.get(*number)?.as_ref()?;
        }
        (node.value != Value::Removed).then(|| node.clone())
    }
}

/// The newest node within one.
fn innermost(node: &Node) -> &Node {
    let Value::Table(table) = &node.value else {
        return node;
    };
    let entries = table.entries().map(|(_, inner)| innermost(inner));
    let newest = entries.max_by_key(|inner| Age::of(inner));
    newest
        .filter(|inner| Age::of(inner) >= Age::of(node))
        .unwrap_or(node)
}
