//! The key table as others see it: plain words and numbers, in the reader's units where there are any.

use super::row::{self, Form, Key, Range, Section, Without};
use super::spec::Spec;
use super::table::SECTIONS;
use crate::quantity::{Kind, UnitSystem};

/// A section of a build in words.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionDescription {
    /// Its dotted path without numbers, a part by its word; empty for the file itself.
    pub path: &'static str,
    /// How it is opened in a file.
    pub heading: &'static str,
    /// One sentence about it.
    pub about: &'static str,
    /// Its keys.
    pub keys: Vec<KeyDescription>,
}

/// A key in words.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyDescription {
    /// Its name within its section.
    pub name: &'static str,
    /// Its dotted path.
    pub path: String,
    /// What it is written as: "volume, or table".
    pub written: String,
    /// A whole line of a build.
    pub example: Option<String>,
    /// What holds without it; nothing where nothing follows.
    pub without: Option<String>,
    /// Where a value that is taken comes from.
    pub source: Option<&'static str>,
    /// One sentence about it.
    pub about: &'static str,
    /// The words that it can be; empty where it is none.
    pub words: &'static [&'static str],
    /// A name that it had before.
    pub once: Option<&'static str>,
    /// What is built, in the unit of the example; an end that is open is left out.
    pub usual: Option<String>,
}

/// All sections in words, in a reader's units.
pub fn sections(system: UnitSystem) -> Vec<SectionDescription> {
    SECTIONS
        .into_iter()
        .map(|section| SectionDescription {
            path: section.path,
            heading: section.heading,
            about: section.doc,
            keys: section
                .keys
                .iter()
                .map(|key| described(section, key, system))
                .collect(),
        })
        .collect()
}

fn described(section: &Section, key: &Key, system: UnitSystem) -> KeyDescription {
    let (without, source) = without(key, system);
    KeyDescription {
        name: key.name,
        path: section.path_of(key),
        written: written(key),
        example: example(key, system),
        without,
        source,
        about: key.doc,
        words: match key.form {
            Form::Choice(words) => words,
            _ => &[],
        },
        once: key.once,
        usual: key.spec().and_then(|spec| usual(key, &spec, system)),
    }
}

fn measure(key: &Key, spec: &Spec) -> &'static str {
    let name = match (key.of_water, spec.kind()) {
        (Some(water), _) => water.kind().name(),
        (None, Kind::Number) if spec.is_count() => "a count",
        (None, kind) => kind.name(),
    };
    name.strip_prefix("an ")
        .or_else(|| name.strip_prefix("a "))
        .unwrap_or(name)
}

fn written(key: &Key) -> String {
    match key.form {
        Form::Quantity(spec) => measure(key, &spec).to_owned(),
        Form::Table(spec) => format!("{}, or table over engine speed", measure(key, &spec)),
        Form::Choice(words) => words.join(", "),
        Form::Text => "text".to_owned(),
        Form::File => "file".to_owned(),
        Form::Section | Form::Sections => "section".to_owned(),
        Form::Switch => "1 or 0, or [[rpm, 1 or 0], …]".to_owned(),
        Form::FanCurve => "[[volume flow, pressure rise], …]".to_owned(),
    }
}

fn example(key: &Key, system: UnitSystem) -> Option<String> {
    let value = match key.form {
        Form::Quantity(spec) | Form::Table(spec) => spec.example().in_units(system),
        Form::Choice(words) => format!("\"{}\"", words.first()?),
        Form::Text => "\"my truck\"".to_owned(),
        Form::File => "\"my_map.csv\"".to_owned(),
        Form::Switch => "[[1000, 1], [3000, 0]]".to_owned(),
        Form::FanCurve => "[[\"0.2 m3/s\", \"250 Pa\"], [\"0.6 m3/s\", \"0 Pa\"]]".to_owned(),
        Form::Section | Form::Sections => return None,
    };
    Some(format!("{} = {value}", key.name))
}

fn without(key: &Key, system: UnitSystem) -> (Option<String>, Option<&'static str>) {
    match key.without {
        Without::Needed("") => (Some("needed".to_owned()), None),
        Without::Needed(or) => (Some(format!("needed {or}")), None),
        Without::Open => (None, None),
        Without::Holds(words) => (Some(words.to_owned()), None),
        Without::Value { source, .. } => {
            let shown = key.shown_default().map(|words| words.in_units(system));
            (
                shown,
                Some(source).filter(|source| *source != row::CONVENTION),
            )
        }
    }
}

/// "usually 0.5 to 1.3", or one end of it.
fn usual(key: &Key, spec: &Spec, system: UnitSystem) -> Option<String> {
    // What hangs on other keys has no range of its own that says anything.
    if !key.built.beside.is_empty() {
        return None;
    }
    let Range { low, high } = key.built.usual;
    let show = |si: f64| spec.in_example_unit(si, system);
    match (low.is_finite(), high.is_finite()) {
        (true, true) => Some(format!("{} to {}", show(low), show(high))),
        _ => None,
    }
}
