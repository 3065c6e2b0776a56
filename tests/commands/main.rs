//! The tool from outside: command line in; text, files and exit code out.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

// The programs' helper folder is shared by path.
#[path = "../support/run.rs"]
mod run;

mod bad_builds;
mod bad_maps;
mod beside;
mod check;
mod cooler;
mod costs;
mod explain;
mod files;
mod findings;
mod given_values;
mod hostile_text;
mod keys;
mod new;
mod other_maps;
mod patience;
mod rank;
mod runs;
mod schema;
mod sense;
mod sensitivity;
mod set;
mod streams;
mod us_units;
mod words;

use std::fs;
use std::path::Path;

use serde_json::Value;

use run::{Ran, Scratch, kept};

/// The build of one point whose stages are given.
fn one_point() -> String {
    kept("cases/build_one_point.toml")
}

/// `point` at 2000 rpm of the build of one point with values set, as JSON.
fn point_with(set: &[&str]) -> Ran {
    let build = one_point();
    let mut arguments = vec!["point", &build, "--rpm", "2000", "--format", "json"];
    for value in set {
        arguments.extend(["--set", value]);
    }
    Scratch::new().run(&arguments)
}

/// An item of a list of a point, by its name.
fn named<'a>(point: &'a Value, list: &str, name: &str) -> &'a Value {
    let items = point[list].as_array().into_iter().flatten();
    items
        .into_iter()
        .find(|item| item["name"] == name)
        .unwrap_or_else(|| panic!("no {name} among {list} of {point}"))
}

/// A number of an item of a list of a point.
fn number(point: &Value, list: &str, name: &str, key: &str) -> f64 {
    let item = named(point, list, name);
    item[key]
        .as_f64()
        .unwrap_or_else(|| panic!("no {key} in {item}"))
}

/// The names in a folder, sorted.
fn names(folder: impl AsRef<Path>) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// That a run failed with this code, said all of this, and printed no result.
fn assert_refused(ran: &Ran, code: i32, words: &[&str]) {
    assert_eq!(ran.code, code, "{}{}", ran.out, ran.err);
    for word in words {
        assert!(ran.err.contains(word), "{word:?} is not in: {}", ran.err);
    }
    assert_eq!(ran.out, "");
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
}
