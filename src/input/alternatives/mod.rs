//! Several keys that say one thing: which of them counts.
//!
//! One table, read twice. Of keys that an option sets, the one set last wins over what says the same
//! thing and is older: the file's, or an earlier option's; the loser is taken out of the document
//! before any section is read, with a remark ([`settle`]). Two keys of the file that say one thing are
//! a fault ([`conflicts`]). Keys of which each follows from the others ([`equation`]) are held to each
//! other as written, in [`super::sense`].

mod age;
mod equation;
mod sections;

use super::document::{Node, Table};
use super::fault::Note;
use super::keys;
use super::keys::relations::{Alternative, Both, CHOICES, Choice, NAMED, Named};
use super::overrides::Replaced;
use age::Age;
use sections::Section;

/// Takes out of a document what a later option says in another way, and says so.
pub(super) fn settle(root: &mut Table, replaced: &Replaced) -> Vec<Note> {
    let mut notes = Vec::new();
    sections::each(root, &mut |section| {
        let word = section.word.clone();
        call_by_new_names(section, &mut notes);
        for choice in CHOICES.iter().filter(|it| it.section == word) {
            choose(choice, section, &mut notes);
        }
        if section.word == NAMED.section {
            rename(&NAMED, section, replaced, &mut notes);
        }
        equation::settle(section, replaced, &mut notes);
    });
    notes
}

/// Keys under a name that they had before get the one that they have now.
fn call_by_new_names(section: &mut Section<'_>, notes: &mut Vec<Note>) {
    let rows = keys::section(&section.word).map_or(&[][..], |section| section.keys);
    for row in rows {
        let Some(once) = row.once.filter(|once| section.has(once)) else {
            continue;
        };
        if !section.has(row.name) || section.age(once) > section.age(row.name) {
            let text = format!("is now called {}", row.name);
            notes.push(section.note(once, text));
            section.rename(once, row.name);
        }
    }
}

/// Of every choice the ways that are given beside another one.
pub(super) fn conflicts(root: &mut Table) -> Vec<Note> {
    let mut notes = Vec::new();
    sections::each(root, &mut |section| {
        let refused = |it: &&Choice| it.section == section.word && it.both == Both::Refused;
        for choice in CHOICES.iter().filter(refused) {
            let given: Vec<&str> = (choice.alternatives.iter())
                .filter_map(|way| way.keys.iter().copied().find(|key| section.has(key)))
                .collect();
            for (at, one) in given.iter().enumerate() {
                for other in &given[..at] {
                    notes.push(conflict(section, one, other));
                }
            }
        }
    });
    notes
}

/// The later of two keys is the one that is wrong.
fn conflict(section: &Section<'_>, one: &str, other: &str) -> Note {
    let (first, second) = if section.place(one) <= section.place(other) {
        (one, other)
    } else {
        (other, one)
    };
    let text = format!("conflicts with {first}: they say the same thing, give only one of them");
    section.note(second, text)
}

/// Keeps the way that was set last.
fn choose(choice: &Choice, section: &mut Section<'_>, notes: &mut Vec<Note>) {
    if choice.unless.is_some_and(|key| section.has(key)) {
        return;
    }
    let newest = |section: &Section<'_>, way: &Alternative| {
        let ages = way.keys.iter().map(|key| (section.age(key), *key));
        ages.max_by_key(|(age, _)| *age)
    };
    let Some((age, winner)) = (choice.alternatives.iter())
        .filter_map(|way| newest(section, way))
        .max_by_key(|(age, _)| *age)
        .filter(|(age, _)| *age > Age::File)
    else {
        return;
    };
    let by = section.who(winner);
    for way in choice
        .alternatives
        .iter()
        .filter(|way| !way.keys.contains(&winner))
    {
        for key in way.keys {
            if section.has(key) && section.age(key) < age {
                notes.push(section.note(key, format!("not used: replaced by {by}")));
                section.remove(key);
                set_aside(
                    section,
                    way.beside,
                    age,
                    &format!("{key}, which {by} replaces"),
                    notes,
                );
            }
        }
    }
}

/// Takes out keys that belong to something which is gone.
fn set_aside(
    section: &mut Section<'_>,
    keys: &[&'static str],
    before: Age,
    to: &str,
    notes: &mut Vec<Note>,
) {
    for key in keys {
        if section.has(key) && section.age(key) < before {
            notes.push(section.note(key, format!("not used: it belongs to {to}")));
            section.remove(key);
        }
    }
}

/// A new word leaves the file's own numbers of the old one behind.
fn rename(named: &Named, section: &mut Section<'_>, replaced: &Replaced, notes: &mut Vec<Note>) {
    if section.age(named.word) == Age::File || !section.has(named.word) {
        return;
    }
    let value = |node: &Node| node.value.clone();
    let old = section.old(named.word, replaced).map(|node| node.value);
    if section.node(named.word).map(value) == old {
        return;
    }
    let by = section.who(named.word);
    for key in named.own {
        if section.has(key) && section.age(key) == Age::File {
            let text = format!("not used: {by} names another fuel; using that fuel's own");
            notes.push(section.note(key, text));
            section.remove(key);
        }
    }
}

#[cfg(test)]
mod tests;
