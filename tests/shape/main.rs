//! What JSON and CSV hold: every output against its published schema, against the list of names in
//! `names/`, and against the rules between its numbers that no type can say.
//!
//! `AIRPATH_SHAPE=write cargo test --test shape` writes the lists anew from the table of fields; a
//! name that went, came or changed its type shows there as a changed line.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "../support/run.rs"]
mod run;

mod csv_cells;
mod names;
mod printed;
mod rules;
mod validate;

use std::collections::BTreeSet;
use std::fs;

use airpath::report::{Output, schema};
use printed::printed;
use run::kept;

/// Names that no build of the tests prints, each with its reason.
const NOT_PRINTED: [(&str, &str); 0] = [];

#[test]
fn the_lists_of_names_are_those_of_the_table() {
    for output in Output::ALL {
        let path = kept(&format!("shape/names/{}.txt", output.name()));
        let list = names::of_schema(&schema(output)).join("\n") + "\n";
        if std::env::var("AIRPATH_SHAPE").is_ok_and(|wish| wish == "write") {
            fs::write(&path, &list).unwrap();
        }
        let agreed = fs::read_to_string(&path).unwrap();
        assert_eq!(list, agreed, "{path}");
    }
}

#[test]
fn every_output_keeps_to_its_schema_and_no_value_is_null() {
    for (output, command, value) in printed() {
        let faults = validate::faults(&schema(*output), value, "");
        assert!(faults.is_empty(), "{command}: {faults:#?}");
    }
}

#[test]
fn every_name_of_the_lists_is_printed_by_some_build() {
    let mut missing = Vec::new();
    for output in Output::ALL {
        let mut seen = BTreeSet::new();
        for (_, _, value) in printed().iter().filter(|(of, ..)| *of == output) {
            names::of_value(value, "", &mut seen);
        }
        for row in names::of_schema(&schema(output)) {
            let name = format!("{}: {}", output.name(), row.split(' ').next().unwrap());
            let is_excused = NOT_PRINTED.iter().any(|(excused, _)| *excused == name);
            let is_seen = seen.contains(row.split(' ').next().unwrap());
            if is_seen == is_excused {
                missing.push(name);
            }
        }
    }
    assert!(missing.is_empty(), "not as excused: {missing:#?}");
}

#[test]
fn numbers_agree_with_each_other() {
    for (_, command, value) in printed() {
        let faults = rules::faults(value);
        assert!(faults.is_empty(), "{command}: {faults:#?}");
    }
}

#[test]
fn names_are_snake_case() {
    for output in Output::ALL {
        for row in names::of_schema(&schema(output)) {
            let name = row.split(' ').next().unwrap().replace("[]", "");
            let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "_.".contains(c);
            assert!(name.chars().all(fits), "{name}");
        }
    }
}

#[test]
fn a_csv_column_is_the_json_path_and_every_cell_the_json_number() {
    csv_cells::agree();
}
