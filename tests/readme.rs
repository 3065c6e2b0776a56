//! The README holds what it promises: its first two commands, every other command, its pictures.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "support/run.rs"]
mod run;

use std::fs;
use std::path::{Path, PathBuf};

use run::Scratch;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

/// The fenced blocks of the README without a language.
fn blocks() -> Vec<String> {
    let text = fs::read_to_string(root().join("README.md")).expect("the README is there");
    let fenced: Vec<&str> = text.split("```").collect();
    let inside = fenced.iter().skip(1).step_by(2);
    inside
        .filter_map(|block| block.strip_prefix('\n'))
        .map(str::to_owned)
        .collect()
}

/// Words of a command line; a value in double quotes is one.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().expect("there is one").push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

#[test]
fn the_first_two_blocks_are_the_main_job_and_the_tests() {
    assert_eq!(blocks()[0], "cargo run --release -- line\n");
    assert_eq!(blocks()[1], "cargo test\n");
}

#[test]
fn every_command_of_the_readme_runs() {
    let scratch = Scratch::new();
    let maps = scratch.as_ref().join("maps");
    fs::create_dir(&maps).unwrap();
    for entry in fs::read_dir(root().join("maps")).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, maps.join(path.file_name().unwrap())).unwrap();
    }
    let blocks = blocks();
    let lines = blocks.iter().flat_map(|block| block.lines());
    let mut ran = 0;
    for line in lines.filter_map(|line| line.strip_prefix("airpath ")) {
        let words = words(line);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let result = scratch.run(&words);
        assert_eq!(result.code, 0, "airpath {line}: {}", result.err);
        ran += 1;
    }
    assert!(ran >= 8, "the README has lost its commands");
}

#[test]
fn the_map_of_the_readme_is_refused_only_for_its_single_row() {
    let block = blocks()
        .into_iter()
        .find(|block| block.starts_with("# origin"))
        .expect("a map");
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("m.csv"), block).unwrap();
    let result = scratch.run(&["check", "m.csv"]);
    assert!(
        result.err.contains("a line needs at least 3 points"),
        "{}",
        result.err
    );
    assert_eq!(result.err.lines().count(), 1, "{}", result.err);
}

/// The example build of the README is whole and solved.
#[test]
fn the_build_of_the_readme_is_solved() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let build = text
        .split("```toml\n")
        .nth(1)
        .unwrap()
        .split("```")
        .next()
        .unwrap();
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("t.toml"), build).unwrap();
    let result = scratch.run(&["line", "t.toml"]);
    assert_eq!(result.code, 0, "{}", result.err);
    assert!(!result.out.contains("no match"), "{}", result.out);
}

/// `airpath line --out tests/pictures` makes them anew (then remove what the README does not show).
#[test]
fn the_pictures_are_the_demos_own() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["line"]).code, 0);
    for name in ["compressor_map.svg", "boost.svg"] {
        let drawn = fs::read_to_string(scratch.as_ref().join("out").join(name)).unwrap();
        let shown = fs::read_to_string(root().join("tests/pictures").join(name)).unwrap();
        assert!(
            drawn == shown,
            "tests/pictures/{name} is not what `line` draws now"
        );
    }
}
