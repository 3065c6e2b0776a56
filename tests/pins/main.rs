//! What the tool says, held still: the numbers and names of each build's results, and the place and key
//! of each fault of builds spoiled a line at a time.
//!
//! A list keeps a digest a row. Numbers count to six digits, so that machines agree, and texts do not
//! count, so that they can get better. The outputs themselves stay out of the repository: a run that
//! agrees leaves them in `target/tmp/pins`, and one that does not prints the first lines that differ
//! from the last that agreed.
//!
//! `AIRPATH_PINS=write cargo test --test pins` takes today's outputs as agreed.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "../support/run.rs"]
mod run;

mod output;
mod pin;
mod spoiled;

use std::fs;
use std::path::PathBuf;

use pin::{Pin, assert_agreed};
use run::{Scratch, kept};

/// The builds of the tests, by name.
fn builds() -> Vec<(String, String)> {
    let mut found = Vec::new();
    for folder in ["builds", "cases"] {
        for entry in fs::read_dir(kept(folder)).unwrap() {
            let path: PathBuf = entry.unwrap().path();
            if path.extension().is_some_and(|ending| ending == "toml") {
                let name = path.file_stem().unwrap().to_string_lossy().into_owned();
                found.push((name, path.to_string_lossy().into_owned()));
            }
        }
    }
    found.sort();
    assert!(found.len() > 15, "the builds were not found");
    found
}

/// The middle speed of a build's range, and a coarse range in its place, since every row costs; none
/// for a build of one speed.
fn speeds(path: &str) -> (String, Option<String>) {
    let text = fs::read_to_string(path).unwrap();
    let lines = text.lines();
    let range = lines
        .map(str::trim_start)
        .find(|line| line.starts_with("rpm = {"));
    let number = |key: &str| -> Option<f64> {
        let rest = range?.split_once(&format!("{key} = "))?.1;
        rest.split([',', ' ', '}']).next()?.parse().ok()
    };
    let (from, to) = (
        number("from").unwrap_or(2000.0),
        number("to").unwrap_or(2000.0),
    );
    let step = ((to - from) / 6.0).max(50.0).round();
    (
        format!("{}", f64::midpoint(from, to).round()),
        range.map(|_| format!("engine.rpm.step={step}")),
    )
}

#[test]
fn results_are_those_agreed() {
    let mut pins = Vec::new();
    for (name, path) in builds() {
        let (rpm, coarse) = speeds(&path);
        for command in [&["point", "--rpm", &rpm][..], &["line"], &["cooler"]] {
            let mut arguments = command.to_vec();
            arguments.extend([path.as_str(), "--format", "json"]);
            if let Some(coarse) = &coarse {
                arguments.extend(["--set", coarse]);
            }
            let ran = Scratch::new().run(&arguments);
            let title = format!("{name} {}", command[0]);
            pins.push(Pin::new(&title, output::result(&ran)));
        }
    }
    assert_agreed("results", &pins);
}

#[test]
fn faults_of_spoiled_builds_are_those_agreed() {
    let mut pins = Vec::new();
    for (name, path) in builds() {
        for spoiling in spoiled::SPOILINGS {
            let title = format!("{name} {}", spoiling.name);
            pins.push(Pin::new(&title, spoiled::faults(&path, &spoiling)));
        }
    }
    assert_agreed("faults", &pins);
}
