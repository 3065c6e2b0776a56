//! What JSON and CSV hold: every output against its published schema, against the list of names in
//! `names/`, and against the rules between its numbers that no type can say.
//!
//! `AIRPATH_SHAPE=write cargo test --test shape` writes the lists anew from the table of fields; a
//! name that went, came or changed its type shows there as a changed line.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

#[path = "../support/run.rs"]
mod run;

mod csv_cells;
mod formats_agree;
mod names;
mod printed;
mod rules;
mod validate;

use std::collections::BTreeSet;
use std::fs;

use airpath::report::{Output, schema};
use printed::printed;
use run::kept;

/// Rows that no run here prints, each with its reason.
const NOT_PRINTED: [(&str, &str); 5] = [
    (
        "without.error",
        "every build of the tests runs without its cooler",
    ),
    (
        "further",
        "no build of the tests has a third stable balance",
    ),
    (
        "files[].expansion_ratio_range",
        "the repository keeps no turbine map",
    ),
    (
        "files[].volumetric_efficiency_range",
        "the repository keeps no supercharger map",
    ),
    (
        "files[].surge_line",
        "no map of the repository has a surge line of its own",
    ),
];

/// The last two steps of a path: a row of one subject, wherever the subject stands. A point stands
/// alone or in a list.
fn row_of(path: &str) -> String {
    let path = path.replace("variants[].", "").replace("points[].", "");
    let steps: Vec<&str> = path.split('.').collect();
    steps[steps.len().saturating_sub(2)..].join(".")
}

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
fn every_row_is_printed_by_some_run() {
    let mut seen = BTreeSet::new();
    for (_, _, value) in printed() {
        names::of_value(value, "", &mut seen);
    }
    let seen: BTreeSet<String> = seen.iter().map(|path| row_of(path)).collect();
    let mut missing = BTreeSet::new();
    for output in Output::ALL {
        let rows = names::of_schema(&schema(output)).into_iter();
        missing.extend(rows.map(|row| row_of(row.split(' ').next().unwrap())));
    }
    missing.retain(|row| !seen.contains(row));
    for (excused, _) in NOT_PRINTED {
        let before = missing.len();
        missing.retain(|row| {
            !row.split("[]").any(|part| part.ends_with(excused)) && !row.ends_with(excused)
        });
        assert!(
            missing.len() < before,
            "{excused} is printed: it needs no reason"
        );
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn numbers_agree_with_each_other() {
    for (_, command, value) in printed() {
        let faults = rules::faults(value);
        assert!(faults.is_empty(), "{command}: {faults:#?}");
    }
}

#[test]
fn every_result_has_its_title_and_the_caution() {
    for (output, command, value) in printed().iter().filter(|one| one.0 != Output::Check) {
        let text = |key: &str| value[key].as_str().unwrap_or_default();
        let is_said = text("caution").starts_with("Estimates only") && !text("title").is_empty();
        assert!(is_said, "{output:?} {command}");
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
