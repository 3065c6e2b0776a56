//! What one source file names: imports, paths, methods.

use super::sources::Source;
use std::collections::{BTreeMap, BTreeSet};

/// A name that a file brings in: by which path, and whether only to hand it on.
pub struct Import {
    pub path: Vec<String>,
    pub name: String,
    pub is_public: bool,
}

pub struct File {
    pub name: String,
    pub module: Vec<String>,
    pub imports: Vec<Import>,
    /// Paths of at least two words outside of imports.
    pub paths: BTreeSet<Vec<String>>,
    /// All words outside of imports.
    pub words: BTreeSet<String>,
    /// The methods that it adds to a type, by the type's name.
    pub added: BTreeMap<String, BTreeSet<String>>,
    /// The names of all methods and functions of `Self` that it calls.
    pub called: BTreeSet<String>,
}

impl File {
    pub fn read(source: &Source) -> Self {
        let mut module: Vec<String> = (source.path.with_extension("").iter())
            .map(|name| name.to_string_lossy().into_owned())
            .collect();
        if module.last().is_some_and(|name| name == "mod") || module == ["lib"] {
            module.pop();
        }
        let mut file = Self {
            name: source.path.to_string_lossy().into_owned(),
            module,
            imports: Vec::new(),
            paths: BTreeSet::new(),
            words: BTreeSet::new(),
            added: BTreeMap::new(),
            called: BTreeSet::new(),
        };
        let tokens = tokens(&source.code);
        file.read_names(&tokens);
        file.read_methods(&tokens);
        file
    }

    /// Imports, and paths and words outside of them.
    fn read_names(&mut self, tokens: &[&str]) {
        let mut at = 0;
        while at < tokens.len() {
            let before = at.checked_sub(1).map_or(";", |before| tokens[before]);
            if tokens[at] == "use" && [";", "{", "}", "]", ")", "pub"].contains(&before) {
                let is_public = [")", "pub"].contains(&before);
                at = self.read_import(tokens, at + 1, &[], is_public);
            } else if is_word(tokens[at]) && before != "::" {
                let mut path = vec![tokens[at].to_owned()];
                while let [_, "::", next, ..] = tokens[at..]
                    && is_word(next)
                {
                    path.push(next.to_owned());
                    at += 2;
                }
                self.words.insert(path[0].clone());
                if path.len() > 1 {
                    self.paths.insert(path);
                }
                at += 1;
            } else {
                at += 1;
            }
        }
    }

    /// One tree of an import; the place behind it.
    fn read_import(
        &mut self,
        tokens: &[&str],
        mut at: usize,
        above: &[String],
        is_public: bool,
    ) -> usize {
        let mut path = above.to_vec();
        while let Some(&token) = tokens.get(at) {
            match token {
                "{" => {
                    while tokens.get(at).is_some_and(|token| *token != "}") {
                        at = self.read_import(tokens, at + 1, &path, is_public);
                    }
                    return at + 1;
                }
                "," | "}" | ";" => break,
                "as" => {
                    let name = tokens[at + 1].to_owned();
                    self.import(path, name, is_public);
                    return at + 2;
                }
                "::" => {}
                // `use a::{self, B}`
                "self" if !path.is_empty() => {}
                word => path.push(word.to_owned()),
            }
            at += 1;
        }
        if let Some(name) = path.last().cloned() {
            self.import(path, name, is_public);
        }
        at
    }

    fn import(&mut self, path: Vec<String>, name: String, is_public: bool) {
        self.imports.push(Import {
            path,
            name,
            is_public,
        });
    }

    /// The methods of inherent impls, and all that are called.
    fn read_methods(&mut self, tokens: &[&str]) {
        for at in 0..tokens.len() {
            if let [".", name, "(", ..] | ["Self", "::", name, "(", ..] = tokens[at..] {
                self.called.insert(name.to_owned());
            }
        }
        let starts = (0..tokens.len()).filter(|&at| {
            tokens[at] == "impl" && (at == 0 || [";", "}", "]"].contains(&tokens[at - 1]))
        });
        for start in starts {
            let Some(open) = tokens[start..].iter().position(|token| *token == "{") else {
                continue;
            };
            let head = without_generics(&tokens[start + 1..start + open]);
            if head.contains(&"for") {
                continue;
            }
            let Some(name) = head.iter().rev().find(|token| is_word(token)) else {
                continue;
            };
            let added = self.added.entry((*name).to_owned()).or_default();
            let mut depth = 0;
            for (at, token) in tokens.iter().enumerate().skip(start + open) {
                depth += i32::from(*token == "{") - i32::from(*token == "}");
                match tokens[at..] {
                    _ if depth == 0 => break,
                    ["fn", name, ..] if depth == 1 => {
                        added.insert(name.to_owned());
                    }
                    _ => {}
                }
            }
        }
    }
}

/// Words, `::`, and every other sign by itself.
fn tokens(code: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = code.trim_start();
    while let Some(first) = rest.chars().next() {
        let length = if rest.starts_with("::") {
            2
        } else if is_word(&rest[..first.len_utf8()]) {
            let joined = |c: char| c.is_alphanumeric() || c == '_';
            rest.find(|c| !joined(c)).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        found.push(&rest[..length]);
        rest = rest[length..].trim_start();
    }
    found
}

fn is_word(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphanumeric() || c == '_')
}

/// The tokens outside of `<` and `>`.
fn without_generics<'t>(tokens: &[&'t str]) -> Vec<&'t str> {
    let mut depth = 0;
    let mut kept = Vec::new();
    for token in tokens {
        depth += i32::from(*token == "<");
        if depth == 0 {
            kept.push(*token);
        }
        depth -= i32::from(*token == ">");
    }
    kept
}
