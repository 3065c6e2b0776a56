//! Several keys that say one thing: which of them counts.
//!
//! One table, read twice. Of keys that an option sets, the one set last wins over what says the same
//! thing and is older: the file's, or an earlier option's; the loser is taken out of the document
//! before any section is read, with a remark ([`settle`]). Two keys of the file that say one thing are
//! a fault ([`conflicts`]). Keys of which each follows from the others ([`equation`]) are held to each
//! other as written, in [`super::sense`].

mod equation;
mod sections;

use super::document::{Node, Table, Value};
use super::fault::{Note, Place};
use sections::Section;

/// One way to say a thing.
struct Way {
    /// Any of these keys says it.
    keys: &'static [&'static str],
    /// Keys that mean something beside them only.
    beside: &'static [&'static str],
}

/// What two ways are to each other.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Both {
    /// A fault: only one may be given.
    Refused,
    /// One of them serves, which its section says.
    Borne,
}

/// A thing that can be said in several ways.
struct Choice {
    /// The section, a part by its word, without numbers.
    section: &'static str,
    ways: &'static [Way],
    both: Both,
    /// With this key both are meant.
    unless: Option<&'static str>,
}

const fn way(keys: &'static [&'static str]) -> Way {
    Way { keys, beside: &[] }
}

const fn with(keys: &'static [&'static str], beside: &'static [&'static str]) -> Way {
    Way { keys, beside }
}

const fn one_of(section: &'static str, ways: &'static [Way]) -> Choice {
    Choice {
        section,
        ways,
        both: Both::Refused,
        unless: None,
    }
}

const CHOICES: &[Choice] = &[
    one_of(
        "site",
        &[way(&["temperature"]), way(&["temperature_offset"])],
    ),
    one_of(
        "fuel",
        &[
            way(&["air_fuel_ratio"]),
            way(&["lambda"]),
            with(&["per_stroke"], &["smallest_air_fuel_ratio"]),
            way(&["flow"]),
        ],
    ),
    one_of(
        "engine.head",
        &[
            way(&["stud_preload"]),
            with(
                &["stud_torque"],
                &[
                    "stud_diameter",
                    "stud_pitch",
                    "smallest_stud_friction",
                    "largest_stud_friction",
                ],
            ),
        ],
    ),
    one_of(
        "duct",
        &[
            way(&["diameter", "length", "bends"]),
            with(
                &["pressure_drop"],
                &["at_flow", "at_pressure", "at_temperature"],
            ),
        ],
    ),
    one_of("supercharger", &[way(&["slip_speed"]), way(&["map"])]),
    one_of(
        "supercharger",
        &[way(&["wrap_angle"]), way(&["center_distance"])],
    ),
    Choice {
        section: "turbo_compressor",
        ways: &[way(&["efficiency"]), way(&["map"])],
        both: Both::Borne,
        // Beside a given ratio the map is drawn, whatever gives the efficiency.
        unless: Some("pressure_ratio"),
    },
    one_of(
        "cooler",
        &[way(&["effectiveness"]), way(&["rated"]), way(&["core"])],
    ),
    one_of(
        "cooler",
        &[
            way(&["sink_flow"]),
            with(&["vehicle_speed"], &["duct_pressure_coefficient"]),
            way(&["fan"]),
        ],
    ),
    one_of(
        "cooler",
        &[way(&["sink_temperature"]), way(&["sink_temperature_rise"])],
    ),
    one_of(
        "cooler.rated",
        &[
            way(&["effectiveness"]),
            way(&["heat"]),
            way(&["charge_outlet_temperature"]),
        ],
    ),
    one_of(
        "cooler.core",
        &[way(&["material"]), way(&["fin_conductivity"])],
    ),
    one_of(
        "turbine",
        &[
            way(&["effective_area"]),
            with(
                &["choked_corrected_flow"],
                &["reference_temperature", "reference_pressure"],
            ),
            way(&["map"]),
        ],
    ),
    one_of(
        "turbine.wastegate",
        &[way(&["largest_share"]), way(&["valve_diameter"])],
    ),
];

/// Own numbers of a thing that a word names: a new word takes the numbers of the old one with it.
struct Named {
    section: &'static str,
    word: &'static str,
    own: &'static [&'static str],
}

const NAMED: Named = Named {
    section: "fuel",
    word: "kind",
    own: &[
        "lower_heating_value",
        "hydrogen_carbon_ratio",
        "oxygen_carbon_ratio",
        "density",
        "latent_heat",
    ],
};

/// What options replaced, by the option's number: the value that stood there before.
pub(super) type Replaced = Vec<Option<Node>>;

/// Takes out of a document what a later option says in another way, and says so.
pub(super) fn settle(root: &mut Table, replaced: &Replaced) -> Vec<Note> {
    let mut notes = Vec::new();
    sections::each(root, &mut |section| {
        let word = section.word.clone();
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

/// Of every choice the ways that are given beside another one.
pub(super) fn conflicts(root: &mut Table) -> Vec<Note> {
    let mut notes = Vec::new();
    sections::each(root, &mut |section| {
        let refused = |it: &&Choice| it.section == section.word && it.both == Both::Refused;
        for choice in CHOICES.iter().filter(refused) {
            let given: Vec<&str> = (choice.ways.iter())
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
    let newest = |section: &Section<'_>, way: &Way| {
        let ages = way.keys.iter().map(|key| (section.age(key), *key));
        ages.max_by_key(|(age, _)| *age)
    };
    let Some((age, winner)) = (choice.ways.iter())
        .filter_map(|way| newest(section, way))
        .max_by_key(|(age, _)| *age)
        .filter(|(age, _)| *age > Age::File)
    else {
        return;
    };
    let by = section.who(winner);
    for way in choice.ways.iter().filter(|way| !way.keys.contains(&winner)) {
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
            let text = format!("not used: {by} names another fuel, whose own is taken");
            notes.push(section.note(key, text));
            section.remove(key);
        }
    }
}

/// When something was said: in the file, or by which option.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Age {
    File,
    Option(usize),
}

impl Age {
    /// Of a node with all that is in it.
    fn of(node: &Node) -> Self {
        let own = match &node.place {
            Place::File(_) | Place::Line(..) => Self::File,
            Place::Set(number, _) | Place::Beside(number, _) => Self::Option(*number),
        };
        match &node.value {
            Value::Table(table) => (table.entries())
                .filter(|(_, inner)| inner.value != Value::Removed)
                .map(|(_, inner)| Self::of(inner))
                .fold(own, Self::max),
            _ => own,
        }
    }
}

#[cfg(test)]
mod tests;
