//! The sources of the program as the checks of its structure read them.

use std::fs;
use std::path::{Path, PathBuf};

/// One source file without comments, texts and test modules.
pub struct Source {
    /// Below src/.
    pub path: PathBuf,
    /// The folder of src/ (or the name of a file beside it).
    pub folder: String,
    /// Number of folders between the file's module and the crate's root.
    pub depth: usize,
    pub code: String,
}

pub fn sources() -> Vec<Source> {
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
pub fn without_words(text: &str) -> String {
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
pub fn without_tests(code: &str) -> String {
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

pub fn word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_alphanumeric() && c != '_');
    &text[..end.unwrap_or(text.len())]
}

/// Where a name stands as a word of its own.
pub fn names(code: &str, name: &str) -> bool {
    code.match_indices(name).any(|(place, _)| {
        let joined = |c: char| c.is_alphanumeric() || c == '_';
        let before = code[..place].chars().next_back();
        let after = code[place + name.len()..].chars().next();
        let begins_within = name.starts_with(char::is_alphanumeric) && before.is_some_and(joined);
        let ends_within = name.ends_with(char::is_alphanumeric) && after.is_some_and(joined);
        !begins_within && !ends_within
    })
}

/// The parts of a list whose opening brace was passed, up to the closing one.
pub fn parts(list: &str) -> Vec<&str> {
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
