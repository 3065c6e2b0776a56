//! The README holds what it promises: its first two commands, every other command, its pictures, its
//! table of keys, its options.

use crate::run;
use std::collections::{BTreeMap, BTreeSet};
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

/// An excerpt begins with its command; its lines are of what that prints, in their order.
#[test]
fn the_excerpts_of_the_readme_are_what_comes_out() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let excerpts: Vec<&str> = text.split("```text\n").skip(1).collect();
    assert!(excerpts.len() >= 4, "the README has lost its excerpts");
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

/// The headings of the README under which the keys of each section of a build stand. A section of
/// its own heading (`[engine.head]`) is a key of the section around it.
const SECTIONS: [(&str, &[&str]); 19] = [
    ("", &["The file itself"]),
    ("site", &["[site]"]),
    ("engine", &["[engine]"]),
    ("engine.combustion", &["[engine.combustion]"]),
    ("engine.friction", &["[engine.friction]"]),
    ("engine.head", &["[engine.head]"]),
    ("fuel", &["[fuel]"]),
    ("filter", &["[[air_path]]", RATED]),
    ("throttle", &["[[air_path]]", RATED]),
    ("duct", &["[[air_path]]", RATED, "part = \"duct\""]),
    ("supercharger", &["[[air_path]]", "part = \"supercharger\""]),
    (
        "turbo_compressor",
        &["[[air_path]]", "part = \"turbo_compressor\""],
    ),
    ("cooler", &["[[air_path]]", RATED, "part = \"cooler\""]),
    ("cooler.rated", &["[air_path.rated]"]),
    ("cooler.core", &["[air_path.core]"]),
    ("turbine", &["[turbine]"]),
    ("turbine.wastegate", &["[turbine.wastegate]"]),
    ("exhaust", &[RATED]),
    ("limits", &["[limits]"]),
];
const RATED: &str = "A rated pressure drop";

/// A key that no section knows, so that each tells what it does know.
const NOBODYS: &str = "zzqqzzqq";

/// One build with every section, each with a key that it does not know. Some keys are asked for only
/// once others are there, so parts stand in more than one form.
const ASKING: &str = r#"
zzqqzzqq = 1
site = { zzqqzzqq = 1 }
fuel = { zzqqzzqq = 1 }
exhaust = { zzqqzzqq = 1 }
limits = { zzqqzzqq = 1 }
turbine = { zzqqzzqq = 1, wastegate = { zzqqzzqq = 1 } }
[engine]
zzqqzzqq = 1
rpm = { from = 1000, to = 2000, step = 500, zzqqzzqq = 1 }
combustion = { zzqqzzqq = 1 }
friction = { zzqqzzqq = 1 }
head = { zzqqzzqq = 1 }
[[air_path]]
part = "filter"
zzqqzzqq = 1
[[air_path]]
part = "throttle"
zzqqzzqq = 1
[[air_path]]
part = "duct"
pressure_drop = "1 kPa"
zzqqzzqq = 1
[[air_path]]
part = "supercharger"
kind = "roots"
zzqqzzqq = 1
[[air_path]]
part = "supercharger"
kind = "centrifugal"
zzqqzzqq = 1
[[air_path]]
part = "supercharger"
pressure_ratio = 1.5
zzqqzzqq = 1
[[air_path]]
part = "turbo_compressor"
zzqqzzqq = 1
[[air_path]]
part = "cooler"
zzqqzzqq = 1
rated = { zzqqzzqq = 1 }
[[air_path]]
part = "cooler"
core = { zzqqzzqq = 1 }
"#;

type Keys = BTreeMap<String, BTreeSet<String>>;

/// What the reader knows in each section, from its own words.
fn keys_of_the_reader() -> Keys {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("t.toml"), ASKING).unwrap();
    let said = scratch.run(&["check", "t.toml"]).err;
    let mut keys = Keys::new();
    for line in said.lines() {
        let Some((place, known)) = line.split_once(": is unknown; known here: ") else {
            continue;
        };
        let path = place.rsplit(": ").next().unwrap();
        let steps = path
            .split('.')
            .filter(|step| *step != NOBODYS && step.parse::<usize>().is_err());
        let section = steps.collect::<Vec<_>>().join(".");
        let known = known.split(", ").map(str::to_owned);
        keys.entry(section).or_default().extend(known);
    }
    keys
}

/// The text between two backticks, of each pair.
fn spans(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

/// The keys that each heading of the README's tables names.
fn keys_of_the_readme() -> Keys {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let tables = text.split("\n## Keys\n").nth(1).unwrap();
    let tables = tables.split("\n## ").next().unwrap();
    let mut keys = Keys::new();
    for table in tables.split("\n### ").skip(1) {
        let (heading, rows) = table.split_once('\n').unwrap();
        let cells = rows
            .lines()
            .filter_map(|row| row.strip_prefix('|')?.split('|').next());
        let named = cells.flat_map(spans).map(str::to_owned).collect();
        keys.insert(heading.replace('`', ""), named);
    }
    keys
}

#[test]
fn the_tables_of_keys_name_every_key_that_the_reader_knows_and_no_other() {
    let mut known = keys_of_the_reader();
    let named = keys_of_the_readme();
    let range = known.remove("engine.rpm").expect("the range of speeds");
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let shape = "`{ from, to, step }`";
    assert!(readme.contains(shape) && range.iter().all(|key| shape.contains(key.as_str())));
    let asked: BTreeSet<&str> = known.keys().map(String::as_str).collect();
    let listed: BTreeSet<&str> = SECTIONS.iter().map(|section| section.0).collect();
    assert_eq!(asked, listed, "a section is not listed here");
    let used: BTreeSet<&str> = SECTIONS
        .iter()
        .flat_map(|section| section.1)
        .copied()
        .collect();
    for heading in named.keys().filter(|heading| *heading != "[exhaust]") {
        assert!(used.contains(heading.as_str()), "{heading} has no section");
    }
    for (section, headings) in SECTIONS {
        let mut keys: BTreeSet<String> = BTreeSet::new();
        for heading in headings {
            keys.extend(named[*heading].iter().cloned());
        }
        for heading in named.keys().filter(|heading| heading.starts_with('[')) {
            let path = heading.trim_matches(['[', ']']);
            let (around, key) = path.rsplit_once('.').unwrap_or(("", path));
            if around == section {
                keys.insert(key.to_owned());
            }
        }
        assert_eq!(
            keys, known[section],
            "left: the README; section \"{section}\""
        );
    }
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
fn the_help_names_the_options_and_commands_of_the_readme_and_no_other() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    // cargo has options of its own.
    let lines = text.lines().filter(|line| !line.starts_with("cargo "));
    let own: Vec<&str> = lines
        .flat_map(|line| line.split('`'))
        .filter(|span| !span.starts_with("cargo "))
        .collect();
    let readme = options(&own.join("\n"));
    let scratch = Scratch::new();
    let front = scratch.run(&["--help"]).out;
    let mut help = BTreeSet::new();
    let mut commands = BTreeSet::new();
    let listed = front.split("Commands:\n").nth(1).unwrap();
    for line in listed.lines().take_while(|line| !line.is_empty()) {
        let command = line.split_whitespace().next().unwrap();
        if command != "help" {
            commands.insert(command.to_owned());
            help.extend(options(&scratch.run(&[command, "--help"]).out));
        }
    }
    help.remove("--help");
    assert_eq!(readme, help, "left: the README");
    let table = text.split("| command | what it does |\n|---|---|\n").nth(1);
    let rows = table.unwrap().lines().take_while(|line| !line.is_empty());
    let described: BTreeSet<String> = rows
        .map(|row| spans(row).next().unwrap())
        .map(|span| span.split(' ').next().unwrap().to_owned())
        .collect();
    assert_eq!(described, commands, "left: the README");
}
