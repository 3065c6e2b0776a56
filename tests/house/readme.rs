//! The README holds what it promises: its first two commands, every other command, its excerpt, its
//! pictures, its options, and its length.

use crate::run;
use std::collections::BTreeSet;
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
    // Those that name a build of the project's folder find it where it stands there.
    let builds = scratch.as_ref().join("tests/builds");
    fs::create_dir_all(&builds).unwrap();
    for entry in fs::read_dir(root().join("tests/builds")).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, builds.join(path.file_name().unwrap())).unwrap();
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
    assert!(ran >= 6, "the README has lost its commands");
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

/// An excerpt begins with its command; its lines are of what that prints, in their order.
#[test]
fn the_excerpts_of_the_readme_are_what_comes_out() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let excerpts: Vec<&str> = text.split("```text\n").skip(1).collect();
    assert!(!excerpts.is_empty(), "the README has lost its excerpt");
    for excerpt in excerpts {
        let mut lines = excerpt.split("```").next().unwrap().lines();
        let command = lines.next().unwrap().strip_prefix("$ airpath ").unwrap();
        let command = command.replace(
            "tests/builds",
            &root().join("tests/builds").to_string_lossy(),
        );
        let words = words(&command);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let ran = Scratch::new().run(&words);
        let printed = format!("{}{}", ran.out, ran.err);
        let mut printed = printed.lines();
        for line in lines {
            assert!(
                printed.any(|other| other == line),
                "{command} does not print: {line}"
            );
        }
    }
}

/// `airpath line --out tests/pictures` and `airpath cooler --out tests/pictures` make them anew (then remove what the README does not show).
#[test]
fn the_pictures_are_the_demos_own() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["line"]).code, 0);
    assert_eq!(scratch.run(&["cooler"]).code, 0);
    for name in ["compressor_map.svg", "boost.svg", "cooler.svg"] {
        let drawn = fs::read_to_string(scratch.as_ref().join("out").join(name)).unwrap();
        let shown = fs::read_to_string(root().join("tests/pictures").join(name)).unwrap();
        assert!(
            drawn == shown,
            "tests/pictures/{name} is not what the demo draws now"
        );
    }
}

/// The text between two backticks, of each pair.
fn spans(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

/// Words that begin with `--` in the tool's own command lines and descriptions.
fn options(text: &str) -> BTreeSet<String> {
    let words = text.split(|c: char| !(c.is_ascii_alphabetic() || c == '-'));
    words
        .filter(|word| word.len() > 3 && word.starts_with("--"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn the_readme_lists_every_command_and_names_no_option_that_there_is_not() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    // cargo has options of its own.
    let lines = text.lines().filter(|line| !line.starts_with("cargo "));
    let own: Vec<&str> = lines
        .flat_map(|line| line.split('`'))
        .filter(|span| !span.starts_with("cargo "))
        .collect();
    let scratch = Scratch::new();
    let front = scratch.run(&["--help"]).out;
    let mut help = BTreeSet::from(["--help".to_owned()]);
    let mut commands = BTreeSet::new();
    let listed = front.split("Commands:\n").nth(1).unwrap();
    for line in listed.lines().take_while(|line| !line.is_empty()) {
        let command = line.split_whitespace().next().unwrap();
        if command != "help" {
            commands.insert(command.to_owned());
            help.extend(options(&scratch.run(&[command, "--help"]).out));
        }
    }
    let named = options(&own.join("\n"));
    assert!(named.len() > 5, "{named:?}");
    let strange: Vec<&String> = named.difference(&help).collect();
    assert!(strange.is_empty(), "no such option: {strange:?}");
    let table = text.split("| command | what it does |\n|---|---|\n").nth(1);
    let rows = table.unwrap().lines().take_while(|line| !line.is_empty());
    let described: BTreeSet<String> = rows
        .map(|row| spans(row).next().unwrap())
        .map(|span| span.split(' ').next().unwrap().to_owned())
        .collect();
    assert_eq!(described, commands, "left: the README");
}

#[test]
fn the_readme_is_short() {
    let size = fs::metadata(root().join("README.md")).unwrap().len();
    assert!(size <= 8_000, "{size} bytes");
}
