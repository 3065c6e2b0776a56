//! Builds spoiled a line at a time, as a hurried hand does it.

use std::fs;

use crate::output::notes;
use crate::run::Scratch;

/// A way to spoil a line `key = value`.
pub struct Spoiling {
    pub name: &'static str,
    spoil: fn(&str, &str) -> String,
}

pub const SPOILINGS: [Spoiling; 8] = [
    Spoiling {
        name: "left out",
        spoil: |_, _| String::new(),
    },
    Spoiling {
        name: "misspelt",
        spoil: |key, value| format!("{}e = {value}", key.replacen('e', "", 1)),
    },
    Spoiling {
        name: "bare number",
        spoil: |key, _| format!("{key} = 7.5"),
    },
    Spoiling {
        name: "negative",
        spoil: |key, value| format!("{key} = {}", negative(value)),
    },
    Spoiling {
        name: "a thousandfold",
        spoil: |key, value| format!("{key} = {}", with_digits(value, "000")),
    },
    Spoiling {
        name: "wrong kind",
        spoil: |key, _| format!("{key} = \"12 furlongs\""),
    },
    Spoiling {
        name: "no value",
        spoil: |key, _| format!("{key} = "),
    },
    Spoiling {
        name: "twice",
        spoil: |key, value| format!("{key} = {value}\n{key} = {value}"),
    },
];

fn negative(value: &str) -> String {
    match value.find(|letter: char| letter.is_ascii_digit()) {
        Some(at) => format!("{}-{}", &value[..at], &value[at..]),
        None => format!("-{value}"),
    }
}

/// More digits behind the first whole number of a value.
fn with_digits(value: &str, digits: &str) -> String {
    let Some(from) = value.find(|letter: char| letter.is_ascii_digit()) else {
        return format!("{value}{digits}");
    };
    let until = value[from..].find(|letter: char| !letter.is_ascii_digit());
    let at = until.map_or(value.len(), |until| from + until);
    format!("{}{digits}{}", &value[..at], &value[at..])
}

/// What `check` says of a build with each of its lines spoiled in turn.
pub fn faults(path: &str, spoiling: &Spoiling) -> String {
    let text = fs::read_to_string(path).unwrap();
    let scratch = Scratch::new();
    for file in fs::read_dir(std::path::Path::new(path).parent().unwrap()).unwrap() {
        let file = file.unwrap().path();
        if file.extension().is_some_and(|ending| ending == "csv") {
            fs::copy(&file, scratch.as_ref().join(file.file_name().unwrap())).unwrap();
        }
    }
    let mut files = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for (place, line) in lines.iter().enumerate() {
        let Some((key, value)) = line.split_once(" = ") else {
            continue;
        };
        if key.trim_start().starts_with('#') || key.contains(['"', '{', '[']) {
            continue;
        }
        let mut spoiled: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        spoiled[place] = (spoiling.spoil)(key, value);
        let name = format!("line_{}.toml", place + 1);
        fs::write(scratch.as_ref().join(&name), spoiled.join("\n") + "\n").unwrap();
        files.push(name);
    }
    let mut arguments = vec!["check"];
    arguments.extend(files.iter().map(String::as_str));
    let ran = scratch.run(&arguments);
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    notes(&ran.err)
}
