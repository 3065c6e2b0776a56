//! `--set KEY=VALUE`: values of the command line laid over a build as written.
//!
//! KEY is the dotted key; a part of the air path is named by its word, the second of a kind with
//! its number (`cooler.2.effectiveness`). VALUE is read as TOML where it is TOML, else as text; an
//! empty one removes the key.

use std::sync::Arc;

use super::document::{Document, Node, Table, Value, option_value};
use super::fault::{Note, Place};
use super::part_words::PART_WORDS;
use super::synonyms;

/// One `--set`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// The dotted key.
    pub key: String,
    /// The value as the shell passed it.
    pub value: String,
    /// The name of the `--beside` that holds it; none for a `--set`.
    pub beside: Option<Arc<str>>,
}

impl Override {
    /// Splits `KEY=VALUE` at its first equals sign; `None` without one or without a key.
    pub fn parse(text: &str) -> Option<Self> {
        let (key, value) = text.split_once('=')?;
        let key = key.trim();
        (!key.is_empty()).then(|| Self {
            key: key.to_owned(),
            value: value.to_owned(),
            beside: None,
        })
    }

    fn place(&self, number: usize) -> Place {
        match &self.beside {
            None => Place::Set(number, self.key.as_str().into()),
            Some(name) => Place::Beside(number, Arc::clone(name)),
        }
    }
}

/// What options replaced, by the option's number: the value that stood there before.
pub(super) type Replaced = Vec<Option<Node>>;

/// What came of laying options over a document.
pub(super) struct Applied {
    /// What does not fit it.
    pub faults: Vec<Note>,
    /// What each option replaced.
    pub replaced: Replaced,
}

/// Lays the values over the document, left to right.
pub(super) fn apply(document: &mut Document, overrides: &[Override]) -> Applied {
    let mut faults = Vec::new();
    let mut replaced = Replaced::with_capacity(overrides.len());
    for (number, one) in overrides.iter().enumerate() {
        let place = one.place(number);
        let old = set(&mut document.root, one, &place);
        replaced.push(old.unwrap_or_else(|text| {
            faults.push(Note::new(place, &one.key, text));
            None
        }));
    }
    Applied { faults, replaced }
}

/// Sets one value and returns what stood there before.
fn set(root: &mut Table, one: &Override, place: &Place) -> Result<Option<Node>, String> {
    let value = one.value.trim();
    let node = Node {
        place: place.clone(),
        value: if value.is_empty() {
            Value::Removed
        } else {
            option_value(value, place)
        },
    };
    let steps: Vec<&str> = one.key.split('.').map(str::trim).collect();
    if steps.iter().any(|step| step.is_empty()) {
        return Err("the key has an empty part: write it like site.altitude".to_owned());
    }
    let (first, rest) = (steps[0], &steps[1..]);
    // A section of that name in the file is meant, right or wrong.
    if root.get(first).is_none() {
        if let Some(word) = synonyms::part(first, &PART_WORDS) {
            return set_in_part(root, word, rest, node);
        }
        if let Some(place) = synonyms::place(first) {
            return set_by_short_name(root, place, rest, node);
        }
    }
    set_in_section(root, first, rest, node)
}

/// `wastegate.boost_limit` for `turbine.wastegate.boost_limit`.
fn set_by_short_name(
    root: &mut Table,
    place: &str,
    rest: &[&str],
    node: Node,
) -> Result<Option<Node>, String> {
    let (section, inner) = place.split_once('.').unwrap_or((place, ""));
    if section == "air_path" {
        let text = format!("belongs to a part: put the part's name first, as in cooler.{inner}");
        return Err(text);
    }
    match root.get(section).map(|node| &node.value) {
        Some(Value::List(items)) if items.len() > 1 => {
            let count = items.len();
            return Err(format!(
                "this build has {count} [[{section}]]: say which, as in {section}.{count}.{inner}"
            ));
        }
        None if section == "turbine" => return Err("this build has no [turbine]".to_owned()),
        _ => {}
    }
    let steps = [&[inner], rest].concat();
    set_in_section(root, section, &steps, node)
}

fn set_in_section(
    root: &mut Table,
    first: &str,
    rest: &[&str],
    node: Node,
) -> Result<Option<Node>, String> {
    match root.get_mut(first).map(|section| &mut section.value) {
        Some(Value::List(items)) if is_list_of_tables(items) => {
            if first == "air_path" {
                return Err(format!(
                    "a part is named by its word: {}",
                    PART_WORDS.join(", ")
                ));
            }
            let (index, rest) = numbered(rest);
            let count = items.len();
            let item = items
                .get_mut(index)
                .ok_or_else(|| too_few(first, index, count))?;
            set_in_item(item, first, rest, node)
        }
        _ => {
            // A single table can be numbered too: `turbine.1.efficiency`.
            let rest = if rest.len() > 1 && rest[0] == "1" {
                &rest[1..]
            } else {
                rest
            };
            set_in_table(root, first, rest, node)
        }
    }
}

/// How many parts of a word stand in the air path.
pub(super) fn count_parts(root: &Table, word: &str) -> usize {
    match root.get("air_path").map(|node| &node.value) {
        Some(Value::List(parts)) => parts
            .iter()
            .filter(|part| part_word(part) == Some(word))
            .count(),
        _ => 0,
    }
}

fn set_in_part(
    root: &mut Table,
    word: &str,
    rest: &[&str],
    node: Node,
) -> Result<Option<Node>, String> {
    let (index, rest) = numbered(rest);
    let Some(Node {
        value: Value::List(parts),
        ..
    }) = root.get_mut("air_path")
    else {
        return Err("this build has no [[air_path]]".to_owned());
    };
    let of_kind: Vec<usize> = (0..parts.len())
        .filter(|at| part_word(&parts[*at]) == Some(word))
        .collect();
    let at = *of_kind
        .get(index)
        .ok_or_else(|| too_few(word, index, of_kind.len()))?;
    if rest.is_empty() && node.value == Value::Removed {
        return Ok(Some(parts.remove(at)));
    }
    set_in_item(&mut parts[at], word, rest, node)
}

fn set_in_item(
    item: &mut Node,
    word: &str,
    rest: &[&str],
    node: Node,
) -> Result<Option<Node>, String> {
    match (&mut item.value, rest) {
        (_, []) if node.value == Value::Removed => {
            item.value = Value::Removed;
            Ok(None)
        }
        (Value::Table(table), [key, rest @ ..]) => set_in_table(table, key, rest, node),
        _ => Err(format!("name a key of it, as in {word}.efficiency")),
    }
}

fn set_in_table(
    table: &mut Table,
    key: &str,
    rest: &[&str],
    node: Node,
) -> Result<Option<Node>, String> {
    let [next, further @ ..] = rest else {
        let old = table.get(key).cloned();
        table.insert(key, node);
        return Ok(old);
    };
    if matches!(
        table.get(key),
        None | Some(Node {
            value: Value::Removed,
            ..
        })
    ) {
        let empty = Node {
            place: node.place.clone(),
            value: Value::Table(Table::default()),
        };
        table.insert(key, empty);
    }
    match table.get_mut(key).map(|inner| &mut inner.value) {
        Some(Value::Table(inner)) => set_in_table(inner, next, further, node),
        Some(other) => Err(format!("{key} is {}, it has no key {next}", other.name())),
        None => Err(format!("{key} has no key {next}")),
    }
}

/// The number behind a word, counted from 0 (absent: the first), and the steps after it.
fn numbered<'s, 'k>(steps: &'s [&'k str]) -> (usize, &'s [&'k str]) {
    match steps.first().and_then(|step| step.parse::<usize>().ok()) {
        Some(number) => (number.wrapping_sub(1), &steps[1..]),
        None => (0, steps),
    }
}

fn too_few(word: &str, index: usize, count: usize) -> String {
    let has = match count {
        0 => "none".to_owned(),
        1 => "one".to_owned(),
        more => more.to_string(),
    };
    format!(
        "there is no {word} number {}: this build has {has}",
        index.wrapping_add(1)
    )
}

fn part_word(part: &Node) -> Option<&'static str> {
    let Value::Table(table) = &part.value else {
        return None;
    };
    match table.get("part").map(|node| &node.value) {
        Some(Value::Text(word)) => synonyms::part(word, &PART_WORDS),
        _ => None,
    }
}

fn is_list_of_tables(items: &[Node]) -> bool {
    !items.is_empty()
        && items
            .iter()
            .all(|item| matches!(item.value, Value::Table(_) | Value::Removed))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BUILD: &str = r#"
title = "t"
[engine]
rpm = { from = 1000, to = 3000, step = 500 }
[[air_path]]
part = "cooler"
effectiveness = 0.7
[[air_path]]
part = "supercharger"
[[air_path]]
part = "cooler"
effectiveness = 0.8
[turbine]
efficiency = 0.7
"#;

    fn with(options: &[&str]) -> (Document, Vec<String>) {
        let mut document = Document::from_text("t", BUILD);
        let overrides: Vec<Override> = options
            .iter()
            .map(|text| Override::parse(text).unwrap())
            .collect();
        let faults = apply(&mut document, &overrides).faults;
        (document, faults.iter().map(Note::to_string).collect())
    }

    fn at<'d>(document: &'d Document, steps: &[&str]) -> &'d Value {
        let mut table = &document.root;
        for step in &steps[..steps.len() - 1] {
            let node = table.get(step).unwrap();
            table = match &node.value {
                Value::Table(inner) => inner,
                other => panic!("{other:?}"),
            };
        }
        &table.get(steps[steps.len() - 1]).unwrap().value
    }

    fn cooler(document: &Document, index: usize) -> Value {
        let Value::List(parts) = at(document, &["air_path"]) else {
            panic!()
        };
        let Value::Table(part) = &parts[index].value else {
            panic!()
        };
        part.get("effectiveness").unwrap().value.clone()
    }

    #[test]
    fn a_value_that_is_no_toml_is_text() {
        let (document, faults) = with(&[
            "site.altitude=2400 m",
            "engine.rpm.step=250",
            "fuel.kind=diesel",
        ]);
        assert!(faults.is_empty());
        assert_eq!(
            *at(&document, &["site", "altitude"]),
            Value::Text("2400 m".into())
        );
        assert_eq!(
            *at(&document, &["engine", "rpm", "step"]),
            Value::Number("250".into(), 250.0)
        );
        assert_eq!(
            *at(&document, &["fuel", "kind"]),
            Value::Text("diesel".into())
        );
    }

    #[test]
    fn the_second_of_a_kind_is_named_by_its_number() {
        let (document, faults) = with(&["cooler.2.effectiveness=0.9", "cooler.effectiveness=0.6"]);
        assert!(faults.is_empty());
        assert_eq!(cooler(&document, 0), Value::Number("0.6".into(), 0.6));
        assert_eq!(cooler(&document, 2), Value::Number("0.9".into(), 0.9));
    }

    #[test]
    fn the_later_option_wins() {
        let (document, _) = with(&["cooler.effectiveness=0.6", "cooler.effectiveness=0.5"]);
        assert_eq!(cooler(&document, 0), Value::Number("0.5".into(), 0.5));
    }

    #[test]
    fn an_empty_value_removes() {
        let (document, faults) = with(&["cooler=", "turbine=", "cooler.effectiveness="]);
        assert!(faults.is_empty(), "{faults:?}");
        let Value::List(parts) = at(&document, &["air_path"]) else {
            panic!()
        };
        assert_eq!(parts.len(), 2);
        assert_eq!(*at(&document, &["turbine"]), Value::Removed);
        assert_eq!(cooler(&document, 1), Value::Removed);
    }

    #[test]
    fn what_the_build_does_not_have_is_said_at_the_option() {
        let (_, faults) = with(&[
            "cooler.3.effectiveness=0.9",
            "throttle.at_flow=1 kg/s",
            "air_path.1.effectiveness=0.5",
            "title.x=1",
            "cooler=0.5",
            "cooler.0.effectiveness=0.5",
        ]);
        assert_eq!(
            faults[0],
            "--set cooler.3.effectiveness: there is no cooler number 3: this build has 2"
        );
        assert_eq!(
            faults[1],
            "--set throttle.at_flow: there is no throttle number 1: this build has none"
        );
        assert!(
            faults[2].starts_with("--set air_path.1.effectiveness: a part is named by its word")
        );
        assert_eq!(faults[3], "--set title.x: title is text, it has no key x");
        assert!(faults[4].contains("name a key of it"));
        assert_eq!(faults.len(), 6);
    }

    #[test]
    fn an_option_without_equals_sign_is_none() {
        assert_eq!(Override::parse("site.altitude"), None);
        assert_eq!(Override::parse("=3"), None);
        let one = Override::parse("a=b=c").unwrap();
        assert_eq!((one.key.as_str(), one.value.as_str()), ("a", "b=c"));
    }
}
