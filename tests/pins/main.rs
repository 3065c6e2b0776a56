//! What the tool says, held still: JSON and CSV of every command on every build of the tests, and the
//! faults of every build spoiled a line at a time.
//!
//! `agreed.txt` keeps two digests a row: one of numbers, names and places, one of texts. So a text
//! that is put better shows as a text, and a number that moved cannot hide behind it. The outputs
//! themselves stay out of the repository: a run that agrees leaves them in `target/tmp/pins`, and one
//! that does not prints the first lines that differ from the last that agreed.
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

/// The builds of the tests that have an answer, by name.
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

/// Every command that answers with figures, with what it is asked.
fn commands(rpm: &str) -> Vec<Vec<String>> {
    let maps = format!("{}/maps", env!("CARGO_MANIFEST_DIR"));
    let list = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
    vec![
        list(&["check"]),
        list(&["point", "--rpm", rpm]),
        list(&["point", "--rpm", rpm, "--sensitivity"]),
        list(&["line"]),
        list(&["line", "--beside", "high up: site.altitude=2900 m"]),
        list(&["cooler"]),
        list(&["cooler", "--seconds", "20"]),
        list(&["rank", &maps]),
    ]
}

/// The middle speed of a build's range, and a coarse range in its place: every row costs.
fn speeds(path: &str) -> (String, [String; 2]) {
    let text = fs::read_to_string(path).unwrap();
    let range = text
        .lines()
        .find(|line| line.trim_start().starts_with("rpm = {"));
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
        ["--set".to_owned(), format!("engine.rpm.step={step}")],
    )
}

#[test]
fn results_are_those_agreed() {
    let mut pins = Vec::new();
    for (name, path) in builds() {
        let (rpm, coarse) = speeds(&path);
        for command in commands(&rpm) {
            for format in ["json", "csv"] {
                let mut arguments: Vec<&str> = vec![&command[0], &path];
                arguments.extend(command[1..].iter().map(String::as_str));
                arguments.extend(["--format", format]);
                if fs::read_to_string(&path).unwrap().contains("rpm = {") {
                    arguments.extend(coarse.iter().map(String::as_str));
                }
                let ran = Scratch::new().run(&arguments);
                let options: Vec<&str> = command[1..].iter().map(String::as_str).collect();
                let asked = match options.first() {
                    Some(option) if option.starts_with("--") => {
                        let last = options.iter().rfind(|word| word.starts_with("--")).unwrap();
                        format!("{} {last}", command[0])
                    }
                    _ => command[0].clone(),
                };
                let title = format!("{name} {asked} {format}");
                pins.push(Pin::new(&title, output::result(&ran, format)));
            }
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
