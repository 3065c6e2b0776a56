//! `--compare "NAME: KEY=VALUE; KEY=VALUE"`: the same build with other values, whose line is compared
//! with the build's own.

use std::sync::Arc;

use super::failure::Failure;
use super::set::not_too_deep;
use crate::input::{Note, Override, Place};
use crate::quantity::UnitSystem;
use crate::report::THE_BUILD;

/// Lines compared with the build's own. A drawing with more could not be read.
const MOST: usize = 3;
const EXAMPLE: &str =
    "--compare \"at the pass: site.altitude=2900 m; supercharger.drive_ratio=2.4\"";

/// One line to be compared with the build's own.
#[derive(Debug, Clone)]
pub(super) struct Comparison {
    /// Its name; without one its settings.
    pub name: Arc<str>,
    /// What it changes, on top of every `--set`.
    pub overrides: Vec<Override>,
}

impl Comparison {
    /// What it changes, as written: `KEY=VALUE`.
    pub fn settings(&self) -> Vec<String> {
        let written = |one: &Override| format!("{}={}", one.key, one.value.trim());
        self.overrides.iter().map(written).collect()
    }

    /// A note about it; one that stands elsewhere came up through it.
    pub fn said(&self, note: &Note, system: UnitSystem) -> String {
        let text = note.in_units(system);
        match note.place {
            Place::Beside(..) => text,
            _ => format!("--compare {}: {text}", self.name),
        }
    }
}

/// All `--compare` of a command line, each with a name of its own.
pub(super) fn read(texts: &[String]) -> Result<Vec<Comparison>, Failure> {
    if texts.len() > MOST {
        return Err(Failure::usage(&format!(
            "--compare can be given at most {MOST} times, not {}",
            texts.len()
        )));
    }
    let mut all: Vec<Comparison> = Vec::new();
    for text in texts {
        let one = one(text).ok_or_else(|| {
            Failure::usage(&format!(
                "--compare: expected NAME: KEY=VALUE; KEY=VALUE (the name may be left out), as in \
                 {EXAMPLE}; got {text:?}"
            ))
        })?;
        for setting in &one.overrides {
            not_too_deep("--compare", setting)?;
        }
        if *one.name == *THE_BUILD || all.iter().any(|other| other.name == one.name) {
            return Err(Failure::usage(&format!(
                "--compare {}: two lines have this name, give each its own",
                one.name
            )));
        }
        all.push(one);
    }
    Ok(all)
}

fn one(text: &str) -> Option<Comparison> {
    // A colon behind the first equals sign belongs to a value.
    let (name, rest) = match (text.find(':'), text.find('=')) {
        (Some(colon), Some(equals)) if colon < equals => (text[..colon].trim(), &text[colon + 1..]),
        _ => ("", text),
    };
    let mut overrides = Vec::new();
    for setting in settings(rest) {
        overrides.push(Override::parse(setting)?);
    }
    let mut comparison = Comparison {
        name: name.into(),
        overrides,
    };
    if name.is_empty() {
        comparison.name = comparison.settings().join(", ").into();
    }
    for one in &mut comparison.overrides {
        one.beside = Some(Arc::clone(&comparison.name));
    }
    (!comparison.overrides.is_empty()).then_some(comparison)
}

/// Cuts at semicolons outside quotes; what is empty between them is passed over.
fn settings(text: &str) -> Vec<&str> {
    let mut quoted = false;
    let cut = |letter: char| {
        quoted ^= letter == '"';
        letter == ';' && !quoted
    };
    text.split(cut)
        .map(str::trim)
        .filter(|setting| !setting.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(text: &str) -> Option<(String, Vec<String>)> {
        one(text).map(|one| (one.name.to_string(), one.settings()))
    }

    #[test]
    fn a_name_stands_before_a_colon_and_settings_between_semicolons() {
        let (name, settings) = parts("at the pass: site.altitude=2900 m; a.b=2.4;").unwrap();
        assert_eq!(name, "at the pass");
        assert_eq!(settings, ["site.altitude=2900 m", "a.b=2.4"]);
    }

    #[test]
    fn without_a_name_the_settings_are_the_name() {
        let (name, settings) = parts("site.altitude=2900 m;a.b=2.4").unwrap();
        assert_eq!(name, "site.altitude=2900 m, a.b=2.4");
        assert_eq!(settings.len(), 2);
    }

    #[test]
    fn a_colon_or_semicolon_within_a_value_stays_in_it() {
        let (name, settings) = parts("title=\"a: b; c\"").unwrap();
        assert_eq!(name, "title=\"a: b; c\"");
        assert_eq!(settings, ["title=\"a: b; c\""]);
    }

    #[test]
    fn what_sets_nothing_is_refused() {
        for text in ["", ";", "name:", "name: key", "name: =3", "a=1; b"] {
            assert!(parts(text).is_none(), "{text}");
        }
    }

    #[test]
    fn names_differ_and_are_few() {
        let texts = |list: &[&str]| list.iter().map(ToString::to_string).collect::<Vec<_>>();
        assert!(read(&texts(&["a: x=1", "b: x=1"])).is_ok());
        assert!(read(&texts(&["a: x=1", "a: x=2"])).is_err());
        assert!(read(&texts(&["the build: x=1"])).is_err());
        assert!(read(&texts(&["a=1", "a=2", "a=3", "a=4"])).is_err());
    }
}
