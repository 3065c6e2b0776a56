//! What is wrong or worth saying about what the user wrote, and where it stands.

use std::fmt;
use std::io;
use std::sync::Arc;

use crate::quantity::{UnitSystem, Words};

/// Where something was written. Ordered as it is reported: by line, then by option.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// A file as a whole.
    File(Arc<str>),
    /// A line of a file, counted from 1.
    Line(Arc<str>, usize),
    /// The n-th `--set` of the command line, with its key.
    Set(usize, Arc<str>),
    /// The n-th value of the command line, in the `--beside` of this name.
    Beside(usize, Arc<str>),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File(file) => f.write_str(file),
            Self::Line(file, line) => write!(f, "{file}:{line}"),
            Self::Set(_, key) => write!(f, "--set {key}"),
            Self::Beside(_, name) => write!(f, "--compare {name}"),
        }
    }
}

/// One thing said about one place: a fault (nothing is solved) or a remark.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// Where.
    pub place: Place,
    /// The dotted key, in the words of `--set`; empty where the fault is not about a key.
    pub key: String,
    /// What is wrong and what would be right, in units still to be chosen.
    pub text: Words,
}

impl Note {
    /// A note about a key at a place.
    pub fn new(place: Place, key: impl Into<String>, text: impl Into<Words>) -> Self {
        Self {
            place,
            key: key.into(),
            text: text.into(),
        }
    }

    /// Why a file could not be read, in words.
    pub fn unreadable(file: &str, error: &io::Error) -> Self {
        let why = match error.kind() {
            io::ErrorKind::NotFound => "there is no such file".to_owned(),
            io::ErrorKind::IsADirectory => "this is a folder; expected a file".to_owned(),
            io::ErrorKind::PermissionDenied => "no permission to read it".to_owned(),
            _ => format!("it cannot be read ({error})"),
        };
        Self::new(Place::File(file.into()), "", why)
    }

    /// `FILE:LINE: KEY: text`, `--set KEY: text` or `--beside NAME: KEY: text`, in the reader's units.
    pub fn in_units(&self, system: UnitSystem) -> String {
        let (place, text) = (&self.place, self.text.in_units(system));
        let said = matches!(place, Place::Set(_, key) if **key == *self.key);
        match (place, self.key.as_str()) {
            (Place::Line(..), "") => format!("{place}: {WHOLE_LINE}: {text}"),
            (_, key) if said || key.is_empty() => format!("{place}: {text}"),
            (_, key) => format!("{place}: {key}: {text}"),
        }
    }
}

/// The key of a note on a line that is about no key of its own.
const WHOLE_LINE: &str = "line";

/// In metric units.
impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_units(UnitSystem::Si))
    }
}

/// A value that the build does not give and that was taken all the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// Where the key would stand.
    pub place: Place,
    /// The dotted key.
    pub key: String,
    /// What was taken, in words.
    pub value: Words,
    /// Where it comes from.
    pub source: &'static str,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_names_file_line_and_key() {
        let place = Place::Line("truck.toml".into(), 10);
        let note = Note::new(place, "engine.displacement", "has no unit");
        assert_eq!(
            note.to_string(),
            "truck.toml:10: engine.displacement: has no unit"
        );
    }

    #[test]
    fn a_note_on_an_option_names_its_key_once() {
        let place = Place::Set(0, "site.altitude".into());
        let note = Note::new(place.clone(), "site.altitude", "has no unit");
        assert_eq!(note.to_string(), "--set site.altitude: has no unit");
        let inner = Note::new(place, "site.altitude.x", "is unknown");
        assert_eq!(
            inner.to_string(),
            "--set site.altitude: site.altitude.x: is unknown"
        );
    }

    #[test]
    fn a_note_on_a_line_beside_names_it_and_its_key() {
        let place = Place::Beside(3, "at the pass".into());
        let note = Note::new(place, "site.altitude", "has no unit");
        assert_eq!(
            note.to_string(),
            "--compare at the pass: site.altitude: has no unit"
        );
    }

    #[test]
    fn lines_come_before_options_and_in_number_order() {
        let line = |n| Place::Line("a".into(), n);
        assert!(line(2) < line(10));
        assert!(line(10) < Place::Set(0, "a".into()));
        assert!(Place::Set(0, "z".into()) < Place::Set(1, "a".into()));
    }
}
