//! The order of the folders, read from the sources: each uses only what stands above it, and above
//! the line stand SI numbers and enums only.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

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

/// A use against the order that is meant: who, of whom, what, and why.
struct Allowance {
    folder: &'static str,
    uses: &'static str,
    item: &'static str,
    reason: &'static str,
}

const ALLOWED: [Allowance; 1] = [Allowance {
    folder: "matching",
    uses: "finding",
    item: "Limits",
    reason: "the installation as meant carries the limits that its builder set",
}];

/// What a test may do and other code may not.
const ONLY_IN_TESTS: [&str; 6] = [
    ".unwrap()",
    ".unwrap_err()",
    "panic!",
    "todo!",
    "unimplemented!",
    "dbg!",
];

/// One source file without comments, texts and test modules.
struct Source {
    path: PathBuf,
    /// The folder of src/ (or the name of a file beside it).
    folder: String,
    /// Number of folders between the file's module and the crate's root.
    depth: usize,
    code: String,
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    collect(&root, &mut found);
    assert!(found.len() > 20, "the sources were not found");
    found
        .into_iter()
        .filter(|path| !holds_tests(path))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap_or_default();
            let inside = path.strip_prefix(&root).unwrap_or(&path);
            let mut names: Vec<String> = inside
                .with_extension("")
                .iter()
                .map(|name| name.to_string_lossy().into_owned())
                .collect();
            if names.last().is_some_and(|name| name == "mod") {
                names.pop();
            }
            Source {
                folder: names.first().cloned().unwrap_or_default(),
                depth: names.len(),
                code: without_tests(&without_words(&text)),
                path: inside.to_owned(),
            }
        })
        .collect()
}

/// A file that is a test module as a whole, as its name says.
fn holds_tests(path: &Path) -> bool {
    let name = path
        .file_stem()
        .map(|name| name.to_string_lossy().into_owned());
    name.is_some_and(|name| name == "tests" || name == "fixture" || name.ends_with("_tests"))
}

fn collect(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// Takes out comments, the insides of texts and single characters.
fn without_words(text: &str) -> String {
    let mut code = String::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let skipped = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if let Some(end) = raw_text(rest) {
            end
        } else if first == '"' {
            1 + quoted(&rest[1..], '"')
        } else {
            character(rest).unwrap_or(0)
        };
        if skipped == 0 {
            code.push(first);
            rest = &rest[first.len_utf8()..];
        } else {
            code.push(' ');
            rest = &rest[skipped..];
        }
    }
    code
}

/// Length up to and with the closing mark.
fn quoted(text: &str, mark: char) -> usize {
    let mut escaped = false;
    for (place, c) in text.char_indices() {
        if !escaped && c == mark {
            return place + 1;
        }
        escaped = !escaped && c == '\\';
    }
    text.len()
}

/// Length of a raw text that begins here.
fn raw_text(text: &str) -> Option<usize> {
    let hashes = text
        .strip_prefix('r')?
        .chars()
        .take_while(|c| *c == '#')
        .count();
    let inside = text[1 + hashes..].strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(hashes));
    inside
        .find(&end)
        .map(|place| 2 + hashes + place + end.len())
}

/// Length of a character that begins here; a lifetime is none.
fn character(text: &str) -> Option<usize> {
    let inside = text.strip_prefix('\'')?;
    let first = inside.chars().next()?;
    let closed = inside[first.len_utf8()..].starts_with('\'');
    (first == '\\' || closed).then(|| 1 + quoted(inside, '\''))
}

/// Takes out what stands under `#[cfg(test)]`: up to the end of its braces, or to a semicolon.
fn without_tests(code: &str) -> String {
    let mut kept = String::new();
    let mut rest = code;
    while let Some(place) = rest.find("#[cfg(test)]") {
        kept.push_str(&rest[..place]);
        rest = &rest[place..];
        let mut depth = 0;
        let end = rest.char_indices().find(|(_, c)| {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                _ => {}
            }
            depth == 0 && (*c == '}' || *c == ';')
        });
        rest = end.map_or("", |(place, _)| &rest[place + 1..]);
    }
    kept + rest
}

fn word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_alphanumeric() && c != '_');
    &text[..end.unwrap_or(text.len())]
}

/// Where a name stands as a word of its own.
fn names(code: &str, name: &str) -> bool {
    code.match_indices(name).any(|(place, _)| {
        let joined = |c: char| c.is_alphanumeric() || c == '_';
        let before = code[..place].chars().next_back();
        let after = code[place + name.len()..].chars().next();
        let begins_within = name.starts_with(char::is_alphanumeric) && before.is_some_and(joined);
        let ends_within = name.ends_with(char::is_alphanumeric) && after.is_some_and(joined);
        !begins_within && !ends_within
    })
}

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

/// The parts of a list whose opening brace was passed, up to the closing one.
fn parts(list: &str) -> Vec<&str> {
    let (mut depth, mut start, mut found) = (0, 0, Vec::new());
    for (place, c) in list.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            '}' => {
                found.push(list[start..place].trim());
                break;
            }
            ',' if depth == 0 => {
                found.push(list[start..place].trim());
                start = place + 1;
            }
            _ => {}
        }
    }
    found.retain(|part| !part.is_empty());
    found
}

fn rank(folder: &str) -> Option<usize> {
    ORDER.iter().position(|name| *name == folder)
}

fn allowed(folder: &str, used: &str, item: &str) -> bool {
    ALLOWED
        .iter()
        .any(|a| a.folder == folder && a.uses == used && a.item == item && !a.reason.is_empty())
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
                Some(other) if other > own && !allowed(&source.folder, &used, &item) => {
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
fn every_allowance_is_still_needed() {
    let all = sources();
    for a in &ALLOWED {
        let pair = (a.uses.to_owned(), a.item.to_owned());
        let needed = all
            .iter()
            .any(|s| s.folder == a.folder && uses(s).contains(&pair));
        assert!(
            needed,
            "{} no longer uses {}::{}: take it out",
            a.folder, a.uses, a.item
        );
    }
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
