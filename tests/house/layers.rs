//! The order of the folders, read from the sources: each uses only what stands above it, and above
//! the line stand SI numbers and enums only.

use crate::{file_uses, sources};
use file_uses::{circle_in_words, circles, file_uses};
use sources::{Source, names, parts, sources, without_tests, without_words, word};
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Folders (and `site.rs`) from the first to the last: each may use those before it.
const ORDER: [&str; 15] = [
    "numeric", "gas", "site", "map", "air_path", "engine", "exhaust", "matching", "finding",
    // the line
    "quantity", "input", "study", "plot", "report", "cli",
];
/// The last folder above the line.
const LAST_ABOVE: &str = "finding";
/// What no folder above the line names: files, formats, printing, pictures.
const EDGE: [&str; 22] = [
    "serde",
    "serde_json",
    "toml",
    "csv",
    "clap",
    "plotters",
    "contour",
    "comfy_table",
    "indicatif",
    "strsim",
    "std::fs",
    "std::io",
    "std::env",
    "std::path",
    "std::process",
    "println!",
    "eprintln!",
    "print!",
    "eprint!",
    "write!",
    "writeln!",
    "dbg!",
];

/// What a test may do and other code may not.
const ONLY_IN_TESTS: [&str; 6] = [
    ".unwrap()",
    ".unwrap_err()",
    "panic!",
    "todo!",
    "unimplemented!",
    "dbg!",
];

/// The paths below the crate's root that a source names: (folder, what of it), by `crate::` or by
/// as many `super::` as reach it. What stands in braces is taken apart.
fn uses(source: &Source) -> BTreeSet<(String, String)> {
    let code: String = source.code.split_whitespace().collect::<Vec<_>>().join(" ");
    let code = code
        .replace(":: ", "::")
        .replace(" ::", "::")
        .replace("{ ", "{");
    let up = "super::".repeat(source.depth);
    let mut found = BTreeSet::new();
    for root in ["crate::", up.as_str()] {
        for (place, _) in code.match_indices(root) {
            if root == up && code[..place].ends_with("super::") {
                continue;
            }
            branches(&code[place + root.len()..], &mut found);
        }
    }
    found
}

/// One path, or each of a list in braces.
fn branches(path: &str, found: &mut BTreeSet<(String, String)>) {
    if let Some(list) = path.strip_prefix('{') {
        for part in parts(list) {
            branches(part, found);
        }
        return;
    }
    let folder = word(path);
    let below = path[folder.len()..].strip_prefix("::").unwrap_or("");
    let items = match below.strip_prefix('{') {
        Some(list) => parts(list),
        None => vec![below],
    };
    for item in items {
        found.insert((folder.to_owned(), word(item).to_owned()));
    }
}

fn rank(folder: &str) -> Option<usize> {
    ORDER.iter().position(|name| *name == folder)
}

#[test]
fn each_folder_uses_only_what_stands_above_it() {
    let mut faults = Vec::new();
    for source in sources()
        .iter()
        .filter(|source| !["lib", "main"].contains(&&*source.folder))
    {
        let path = source.path.display();
        let Some(own) = rank(&source.folder) else {
            faults.push(format!("{path}: its folder has no place in the order"));
            continue;
        };
        for (used, item) in uses(source) {
            match rank(&used) {
                None => faults.push(format!("{path}: `{used}` has no place in the order")),
                Some(other) if other > own => {
                    faults.push(format!(
                        "{path}: {used}::{item} stands below {}",
                        source.folder
                    ));
                }
                Some(_) => {}
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn nothing_above_the_line_knows_of_files_formats_or_printing() {
    let last = rank(LAST_ABOVE);
    let mut faults = Vec::new();
    for source in sources()
        .iter()
        .filter(|s| rank(&s.folder).is_some_and(|r| Some(r) <= last))
    {
        // The islands of a map are mathematics: contours of a grid, without a word or a file.
        let contours = |edge: &str| edge == "contour" && source.path.ends_with("map/island.rs");
        let found = EDGE
            .iter()
            .filter(|edge| names(&source.code, edge) && !contours(edge));
        for edge in found {
            faults.push(format!("{} names {edge}", source.path.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn code_outside_tests_never_gives_up() {
    let mut faults = Vec::new();
    for source in &sources() {
        for word in ONLY_IN_TESTS
            .iter()
            .filter(|word| names(&source.code, word))
        {
            faults.push(format!("{} has {word}", source.path.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn no_files_use_each_other_in_a_circle() {
    let uses = file_uses(&sources());
    let found: Vec<String> = circles(&uses)
        .iter()
        .map(|circle| circle_in_words(&uses, circle))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// The reader itself: what it takes out, and what it sees.
#[test]
fn the_reader_sees_uses_in_every_form_and_nothing_in_words() {
    let text = r##"
        //! crate::cli in words
        use crate::{gas::{Gas, HumidAir}, numeric};
        use super::super::site;
        const TEXT: &str = "crate::plot \" {"; const RAW: &str = r#"crate::input"#;
        fn f<'a>(c: &'a char) -> bool { *c == '{' && crate::map::find(*c) /* crate::cli */ }
        #[cfg(test)] mod tests { use crate::report::Page; fn g() { x.unwrap() } }
        pub(crate) fn last() {}
    "##;
    let source = Source {
        path: PathBuf::new(),
        folder: "engine".into(),
        depth: 2,
        code: without_tests(&without_words(text)),
    };
    let found = uses(&source);
    let expected = [
        ("gas", "Gas"),
        ("gas", "HumidAir"),
        ("map", "find"),
        ("numeric", ""),
        ("site", ""),
    ];
    let expected = expected.map(|(a, b)| (a.to_owned(), b.to_owned()));
    assert_eq!(found, BTreeSet::from(expected));
    assert!(source.code.contains("last") && !source.code.contains("unwrap"));
}

/// What counts as a use: a name through a front page for the file that defines it, a child's for its
/// parent, a method of a type that is cut in pieces; not what a front page only hands on.
#[test]
fn a_use_is_found_where_the_name_is_defined() {
    let file = |path: &str, text: &str| Source {
        path: PathBuf::from(path),
        folder: String::new(),
        depth: 0,
        code: without_tests(&without_words(text)),
    };
    let sources = [
        file("lib.rs", "pub mod a; pub mod b;"),
        file(
            "a/mod.rs",
            "mod one; mod two; pub use one::{One, make as made}; pub struct Own;",
        ),
        file(
            "a/one.rs",
            "use super::two; pub struct One; pub fn make() { two::help() }",
        ),
        file(
            "a/two.rs",
            "use super::Own; pub fn help() {} impl Own { fn part(&self) { self.rest() } }",
        ),
        file(
            "b.rs",
            "use crate::a::{Own, made}; impl Own { fn rest(&self) {} } use std::fs;",
        ),
    ];
    let uses = file_uses(&sources);
    let of = |file: &str| uses[file].keys().map(String::as_str).collect::<Vec<_>>();
    assert_eq!(of("lib.rs"), [""; 0]);
    assert_eq!(of("a/mod.rs"), [""; 0]);
    assert_eq!(of("a/one.rs"), ["a/two.rs"]);
    assert_eq!(of("a/two.rs"), ["a/mod.rs", "b.rs"]);
    assert_eq!(of("b.rs"), ["a/mod.rs", "a/one.rs"]);
    let circle = BTreeSet::from(["a/one.rs", "a/two.rs", "b.rs"]);
    assert_eq!(circles(&uses), [circle]);
}
