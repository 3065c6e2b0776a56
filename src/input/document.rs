//! A build as written: a tree of values, each with its place.
//!
//! TOML is read by the `toml` crate, which goes on after a syntax fault; everything about meaning
//! is left to the readers of the sections.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeFloat, DeInteger, DeTable, DeValue};

use super::fault::{Note, Place};
use super::{bad_toml, typography};

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Where it begins; for a section, its heading.
    pub place: Place,
    /// What was written.
    pub value: Value,
}

/// What can be written.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Text in quotes.
    Text(String),
    /// A number: as written, and its value (not a finite one for `nan`, `inf`, `1e999`).
    Number(String, f64),
    /// `true` or `false`.
    Flag(bool),
    /// A date or time, as written: no key wants one.
    Date(String),
    /// A list.
    List(Vec<Node>),
    /// A section or a `{ … }`.
    Table(Table),
    /// Taken out by an option with an empty value.
    Removed,
}

impl Value {
    /// What it is, with the article.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Text(_) => "text",
            Self::Number(..) => "a number",
            Self::Flag(_) => "true or false",
            Self::Date(_) => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a section",
            Self::Removed => "nothing",
        }
    }
}

/// Entries in the order in which they were written.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    entries: Vec<(String, Node)>,
}

impl Table {
    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&Node> {
        let entry = self.entries.iter().find(|(name, _)| name == key);
        entry.map(|(_, node)| node)
    }

    /// The value of a key, to change.
    pub fn get_mut(&mut self, key: &str) -> Option<&mut Node> {
        let entry = self.entries.iter_mut().find(|(name, _)| name == key);
        entry.map(|(_, node)| node)
    }

    /// Sets a key, in its old place where it has one.
    pub fn insert(&mut self, key: &str, node: Node) {
        match self.get_mut(key) {
            Some(old) => *old = node,
            None => self.entries.push((key.to_owned(), node)),
        }
    }

    /// Gives a key another name, in its place; a key that had that name is gone.
    pub(super) fn rename(&mut self, key: &str, name: &str) {
        self.entries.retain(|entry| entry.0 != name);
        if let Some(entry) = self.entries.iter_mut().find(|entry| entry.0 == key) {
            name.clone_into(&mut entry.0);
        }
    }

    /// Leaves away what comes after the first so many entries.
    pub(super) fn keep_first(&mut self, most: usize) {
        self.entries.truncate(most);
    }

    /// All entries in order, to change.
    pub(super) fn entries_mut(&mut self) -> impl Iterator<Item = (&str, &mut Node)> {
        let entries = self.entries.iter_mut();
        entries.map(|(key, node)| (key.as_str(), node))
    }

    /// All entries in order.
    pub fn entries(&self) -> impl Iterator<Item = (&str, &Node)> {
        self.entries.iter().map(|(key, node)| (key.as_str(), node))
    }
}

/// A build as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// The file's name as it is to be reported.
    pub file: Arc<str>,
    /// Everything in it.
    pub root: Table,
    /// Faults of writing: bad TOML, not text. What could still be read stands in `root`.
    pub faults: Vec<Note>,
}

impl Document {
    /// Reads a build from a file's bytes. `file` is the name to report.
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Self {
        match super::text::decode(file, bytes) {
            Ok(text) => Self::from_text(file, &text),
            Err(fault) => Self {
                file: file.into(),
                root: Table::default(),
                faults: vec![fault],
            },
        }
    }

    /// Reads a build from text. `file` is the name to report.
    pub fn from_text(file: &str, text: &str) -> Self {
        let file: Arc<str> = file.into();
        let text = &*typography::plain_blanks(text);
        let source = Source::new(Arc::clone(&file), text);
        let blank = text.lines().all(|line| {
            let line = line.trim();
            line.is_empty() || line.starts_with('#')
        });
        if blank {
            let text = "the file is empty; `airpath new PATH.toml` writes a build to start from";
            let fault = Note::new(Place::Line(Arc::clone(&file), 1), "", text);
            return Self {
                file,
                root: Table::default(),
                faults: vec![fault],
            };
        }
        let (root, mut errors) = DeTable::parse_recoverable(text);
        let more = errors.len().saturating_sub(MOST_ERRORS);
        errors.truncate(MOST_ERRORS);
        let mut faults: Vec<Note> = errors
            .iter()
            .filter(|error| !source.follows_from_its_section(error, &errors))
            .map(|error| source.fault(error))
            .collect();
        // Several syntax errors on one line have one cause.
        faults.dedup_by(|later, earlier| later.place == earlier.place);
        if more > 0 {
            let text = format!("{more} more errors follow: fix these first");
            faults.extend(
                faults
                    .last()
                    .map(|last| Note::new(last.place.clone(), "", text)),
            );
        }
        Self {
            root: source.table(root.get_ref()),
            file,
            faults,
        }
    }
}

/// Errors of writing that are looked at: a file with more of them is hardly a build, and what is
/// said of the rest has to stand among the faults that are shown.
const MOST_ERRORS: usize = 40;

/// Reads one value of a command line option: as TOML where it is TOML, else as text.
pub(super) fn option_value(text: &str, place: &Place) -> Value {
    let source = Source {
        text,
        lines: Vec::new(),
        place: Some(place.clone()),
        file: "".into(),
    };
    match DeValue::parse(text) {
        Ok(value) => source.value(&value),
        Err(_) => Value::Text(typography::unquoted(text).to_owned()),
    }
}

/// Turns the crate's tree with byte ranges into ours with lines.
struct Source<'t> {
    text: &'t str,
    /// Byte offset of each line's start after the first.
    lines: Vec<usize>,
    /// The one place of everything, for an option.
    place: Option<Place>,
    file: Arc<str>,
}

impl<'t> Source<'t> {
    fn new(file: Arc<str>, text: &'t str) -> Self {
        let newlines = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        Self {
            text,
            lines: newlines.map(|(at, _)| at + 1).collect(),
            place: None,
            file,
        }
    }

    fn line(&self, at: usize) -> usize {
        self.lines.partition_point(|start| *start <= at) + 1
    }

    fn place(&self, at: usize) -> Place {
        let line = || Place::Line(Arc::clone(&self.file), self.line(at));
        self.place.clone().unwrap_or_else(line)
    }

    fn table(&self, table: &DeTable<'_>) -> Table {
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        let entries = entries.into_iter().map(|(key, value)| {
            let node = Node {
                place: self.place(key.span().start),
                value: self.value(value),
            };
            (key.get_ref().to_string(), node)
        });
        Table {
            entries: entries.collect(),
        }
    }

    fn value(&self, value: &Spanned<DeValue<'_>>) -> Value {
        let raw = || self.text.get(value.span()).unwrap_or_default().to_owned();
        match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(integer) => Value::Number(raw(), integer_value(integer)),
            DeValue::Float(float) => Value::Number(raw(), float_value(float)),
            DeValue::Boolean(flag) => Value::Flag(*flag),
            DeValue::Datetime(date) => Value::Date(date.to_string()),
            DeValue::Array(items) => {
                let nodes = items.iter().map(|item| Node {
                    place: self.place(item.span().start),
                    value: self.value(item),
                });
                Value::List(nodes.collect())
            }
            DeValue::Table(table) => Value::Table(self.table(table)),
        }
    }

    fn fault(&self, error: &toml::de::Error) -> Note {
        let line = self.line(error.span().map_or(0, |span| span.start));
        let written = self.text.lines().nth(line - 1).unwrap_or_default();
        let (key, text) = bad_toml::words(written, error.message());
        Note::new(Place::Line(Arc::clone(&self.file), line), &key, text)
    }

    /// Whether an error is only that a key stands in a section which itself stands twice.
    fn follows_from_its_section(&self, error: &toml::de::Error, all: &[toml::de::Error]) -> bool {
        let line_of = |error: &toml::de::Error| self.line(error.span().map_or(0, |s| s.start));
        let at = line_of(error);
        let is_header = |line: &str| line.trim_start().starts_with('[');
        let above = self.text.lines().take(at - 1).collect::<Vec<_>>();
        let Some(header) = above.iter().rposition(|line| is_header(line)) else {
            return false;
        };
        let own = self.text.lines().nth(at - 1).is_some_and(is_header);
        let twice = |error: &&toml::de::Error| bad_toml::is_twice(error.message());
        !own && twice(&error) && all.iter().filter(twice).any(|e| line_of(e) == header + 1)
    }
}

/// A number too large for 64 bits still has a value; what is none at all becomes NaN, which every
/// reader refuses.
fn integer_value(integer: &DeInteger<'_>) -> f64 {
    let text = integer.as_str();
    match i64::from_str_radix(text, integer.radix()) {
        Ok(value) => value as f64,
        Err(_) if integer.radix() == 10 => text.parse().unwrap_or(f64::NAN),
        Err(_) => f64::NAN,
    }
}

fn float_value(float: &DeFloat<'_>) -> f64 {
    float.as_str().parse().unwrap_or(f64::NAN)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn line_of(node: &Node) -> usize {
        match node.place {
            Place::Line(_, line) => line,
            _ => 0,
        }
    }

    #[test]
    fn every_value_knows_its_line() {
        let text = "a = 1\n\n[b]\nc = [\n  [1, 2],\n  [3, 4],\n]\n[[d]]\ne = 'x'\n[[d]]\ne = 'y'\n[f.g]\nh = 2\n";
        let document = Document::from_text("t", text);
        assert!(document.faults.is_empty());
        assert_eq!(line_of(document.root.get("a").unwrap()), 1);
        let b = document.root.get("b").unwrap();
        assert_eq!(line_of(b), 3);
        let Value::Table(b) = &b.value else { panic!() };
        let Value::List(rows) = &b.get("c").unwrap().value else {
            panic!()
        };
        assert_eq!(rows.iter().map(line_of).collect::<Vec<_>>(), [5, 6]);
        let Value::List(parts) = &document.root.get("d").unwrap().value else {
            panic!()
        };
        assert_eq!(parts.iter().map(line_of).collect::<Vec<_>>(), [8, 10]);
        let Value::Table(f) = &document.root.get("f").unwrap().value else {
            panic!()
        };
        assert_eq!(line_of(f.get("g").unwrap()), 12);
    }

    #[test]
    fn reading_goes_on_after_a_fault_of_writing() {
        let text = "[engine]\ndisplacement = 4.5 L\nstrokes = 4\n= 3\n[fuel]\nkind = \"diesel\"\n";
        let document = Document::from_text("t", text);
        let said: Vec<String> = document.faults.iter().map(Note::to_string).collect();
        assert_eq!(said.len(), 2, "{said:?}");
        assert_eq!(
            said[0],
            "t:2: displacement: text needs quotes: displacement = \"4.5 L\""
        );
        assert!(said[1].starts_with("t:4: "), "{said:?}");
        assert!(document.root.get("fuel").is_some());
    }

    #[test]
    fn an_empty_file_and_one_that_is_no_text_are_said() {
        for (bytes, what) in [
            (&b""[..], "is empty"),
            (&b"\n# only a remark\n"[..], "is empty"),
            (&b"a = 1\nb = \"\xff\"\n"[..], "not UTF-8"),
            (&b"\xff\xfea\0"[..], "UTF-16"),
        ] {
            let document = Document::from_bytes("t", bytes);
            assert!(
                document.faults[0].to_string().contains(what),
                "{:?}",
                document.faults
            );
        }
        assert!(
            Document::from_bytes("t", b"\xef\xbb\xbfa = 1\n")
                .faults
                .is_empty()
        );
    }

    #[test]
    fn what_is_not_finite_keeps_its_text() {
        let document = Document::from_text("t", "a = nan\nb = 1e999\nc = 99999999999999999999\n");
        let number = |key| match &document.root.get(key).unwrap().value {
            Value::Number(text, value) => (text.clone(), value.is_finite()),
            other => panic!("{other:?}"),
        };
        assert_eq!(number("a"), ("nan".to_owned(), false));
        assert_eq!(number("b"), ("1e999".to_owned(), false));
    }

    proptest! {
        #[test]
        fn any_bytes_are_read_or_refused_without_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
            Document::from_bytes("t", &bytes);
        }

        #[test]
        fn toml_like_text_never_panics(text in "([a-c.\\[\\]={}\"',0-9e_#\\n \\-]|air_path|nan){0,80}") {
            Document::from_text("t", &text);
        }
    }
}
