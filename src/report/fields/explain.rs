//! Finds rows by their name in JSON, column or label, for people who ask what a figure is.

use super::output::Output;
use super::schema::si_unit;
use super::shape::{Form, Shape};
use crate::quantity::{UnitSystem, label};

/// What a figure is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldExplained {
    /// Its key in JSON.
    pub key: &'static str,
    /// Its name in text.
    pub label: &'static str,
    /// Its unit in the reader's text; empty for a plain number or a text.
    pub unit: &'static str,
    /// Its unit in JSON and CSV; empty for a plain number or a text.
    pub json_unit: &'static str,
    /// What it is, in one sentence.
    pub about: &'static str,
    /// Where it appears: output and path in JSON, as "point: stages[].power_w".
    pub places: Vec<String>,
}

/// The figures that a word means: a key of the JSON (`power_w`), a path of it or a column of the CSV
/// (`stages.supercharger.power_w`), or a label of the text ("compression power").
pub fn explain_field(word: &str, system: UnitSystem) -> Vec<FieldExplained> {
    let mut found = Vec::new();
    for output in Output::ALL {
        let mut path = Vec::new();
        search(&output.shapes(), &mut path, &mut |shape, path| {
            if is_meant(word, shape, path) {
                let place = format!("{}: {}", output.name(), path.join("."));
                add(&mut found, shape, place, system);
            }
        });
    }
    found
}

fn search(shapes: &[Shape], path: &mut Vec<String>, visit: &mut impl FnMut(&Shape, &[String])) {
    for shape in shapes {
        let list = if matches!(shape.form, Form::List(_)) {
            "[]"
        } else {
            ""
        };
        path.push(format!("{}{list}", shape.key));
        visit(shape, path);
        for form in shape.form.inner() {
            search(form, path, visit);
        }
        path.pop();
    }
}

fn is_meant(word: &str, shape: &Shape, path: &[String]) -> bool {
    let plain = |text: &str| text.to_lowercase().replace(['\n', '_', '-', ' '], "");
    let names = [shape.key, shape.label, shape.short];
    let word_plain = plain(word);
    if !word_plain.is_empty() && names.iter().any(|name| plain(name) == word_plain) {
        return true;
    }
    let steps: Vec<&str> = word.split('.').collect();
    let last = steps.last().map(|step| step.trim_end_matches("[]"));
    steps.len() > 1 && last == Some(shape.key) && ends_with(path, &steps)
}

/// Whether a path ends with these steps; in a column, the name of an item follows its list.
fn ends_with(path: &[String], steps: &[&str]) -> bool {
    let (Some((last, before)), Some((step, others))) = (path.split_last(), steps.split_last())
    else {
        return steps.is_empty();
    };
    let key = last.trim_end_matches("[]");
    if key == *step || last.as_str() == *step {
        return ends_with(before, others);
    }
    // The step may be an item's name.
    last.ends_with("[]") && others.last().is_some_and(|list| *list == key) && {
        ends_with(before, &others[..others.len() - 1])
    }
}

fn add(found: &mut Vec<FieldExplained>, shape: &Shape, place: String, system: UnitSystem) {
    let kind = shape.form.kind();
    let one = FieldExplained {
        key: shape.key,
        label: shape.label,
        unit: kind.map_or("", |kind| label(kind, system)),
        json_unit: kind.and_then(si_unit).unwrap_or_default(),
        about: shape.about,
        places: vec![place.clone()],
    };
    let same = |other: &&mut FieldExplained| other.key == one.key && other.about == one.about;
    match found.iter_mut().find(same) {
        Some(known) if known.places.contains(&place) => {}
        Some(known) => known.places.push(place),
        None => found.push(one),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_a_path_a_column_and_a_label_find_the_same_row() {
        for word in [
            "stages.power_w",
            "stages[].power_w",
            "stages.supercharger.power_w",
            "compression power",
            "Compression_Power",
        ] {
            let found = explain_field(word, UnitSystem::Us);
            assert_eq!(found.len(), 1, "{word}: {found:?}");
            assert_eq!((found[0].unit, found[0].json_unit), ("hp", "W"), "{word}");
            let place = "point: stages[].power_w".to_owned();
            assert!(found[0].places.contains(&place), "{word}");
        }
    }

    #[test]
    fn a_key_of_several_subjects_finds_each_and_a_strange_word_none() {
        let found = explain_field("power_w", UnitSystem::Si);
        let labels: Vec<_> = found.iter().map(|one| one.label).collect();
        assert!(labels.contains(&"compression power") && labels.contains(&"power"));
        for word in [
            "",
            "turnips",
            "stages.turnips",
            "turnips.power_w",
            "engine.power_w",
        ] {
            assert_eq!(explain_field(word, UnitSystem::Si), [], "{word}");
        }
    }
}
