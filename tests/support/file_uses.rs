//! Which file uses which, read from the sources, and the circles in that.
//!
//! File A *uses* file B where A's code (without comments, texts and tests)
//! - names an item that B defines, in a `use` or in a path of at least two words. A name that is
//!   handed on by an import on the way (`pub use` of a front page, or a parent's own `use` that a
//!   child takes by `super::`) counts for the file that defines it, however many files hand it on; or
//! - calls a method by a name that B adds to a type, while A adds methods to that type too (and none
//!   of this name): a type whose `impl` is cut into files that call each other is one file in pieces.
//!
//! A `mod.rs` is a file like any other: what it defines is used by whom it names, and what its own
//! code names it uses. Only two things in it are no use: `mod b;`, which tells where a file stands,
//! and `pub use b::Item;`, which hands a name on without needing it. The same holds for `lib.rs`.
//!
//! Not seen: methods that are called on a type of another file (they count with the file that names
//! the type), and what macros of other crates make.

use super::file_names::File;
use super::sources::Source;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// By file the files that it uses, each with the first name by which it does.
pub type Uses = BTreeMap<String, BTreeMap<String, String>>;

/// All files with what they name.
struct Files {
    all: Vec<File>,
    by_module: HashMap<Vec<String>, usize>,
}

/// Who uses whom among the sources of the library.
pub fn file_uses(sources: &[Source]) -> Uses {
    let all: Vec<File> = (sources.iter())
        .filter(|source| source.path.as_os_str() != "main.rs")
        .map(File::read)
        .collect();
    let by_module = (all.iter().enumerate())
        .map(|(place, file)| (file.module.clone(), place))
        .collect();
    let files = Files { all, by_module };
    let mut uses = Uses::new();
    for file in 0..files.all.len() {
        let own = uses.entry(files.all[file].name.clone()).or_default();
        for (used, item) in files.used_by(file) {
            if used != file {
                own.entry(files.all[used].name.clone()).or_insert(item);
            }
        }
    }
    uses
}

/// The circles: every set of files of which each uses, over others, all the rest.
pub fn circles(uses: &Uses) -> Vec<BTreeSet<&str>> {
    let reached: BTreeMap<&str, BTreeSet<&str>> = uses
        .keys()
        .map(|file| (file.as_str(), reached_from(uses, file)))
        .collect();
    let mut found: Vec<BTreeSet<&str>> = Vec::new();
    for (file, after) in &reached {
        if after.contains(file) && !found.iter().any(|circle| circle.contains(file)) {
            let circle = after.iter().filter(|other| reached[*other].contains(file));
            found.push(circle.copied().collect());
        }
    }
    found
}

/// A circle in words: its files, and each arrow in it with a name that makes it.
pub fn circle_in_words(uses: &Uses, circle: &BTreeSet<&str>) -> String {
    let mut lines = vec![format!("{} files in a circle:", circle.len())];
    for file in circle {
        for (used, item) in uses[*file].iter().filter(|(f, _)| circle.contains(&***f)) {
            lines.push(format!("  {file} -> {used} ({item})"));
        }
    }
    lines.join("\n")
}

fn reached_from<'u>(uses: &'u Uses, file: &str) -> BTreeSet<&'u str> {
    let mut reached = BTreeSet::new();
    let mut next: Vec<&str> = uses[file].keys().map(String::as_str).collect();
    while let Some(file) = next.pop() {
        if reached.insert(file) {
            next.extend(uses[file].keys().map(String::as_str));
        }
    }
    reached
}

impl Files {
    /// The files that a file uses, each with the name that it is used by.
    fn used_by(&self, file: usize) -> Vec<(usize, String)> {
        let own = &self.all[file];
        let mut found = Vec::new();
        let mut note = |path: &[String]| {
            if let Some(used) = self.owner(file, path) {
                found.push((used, path.join("::")));
            }
        };
        for import in &own.imports {
            if !import.is_public || own.words.contains(&import.name) {
                note(&import.path);
            }
        }
        own.paths.iter().for_each(|path| note(path));
        found.extend(self.pieces(file));
        found
    }

    /// The files whose methods of a type a file calls that adds methods to it as well.
    fn pieces(&self, file: usize) -> Vec<(usize, String)> {
        let mut found = Vec::new();
        let own = &self.all[file];
        for (name, added) in &own.added {
            let home = self.home(file, name);
            for (other, there) in self.all.iter().enumerate() {
                let Some(there) = there.added.get(name) else {
                    continue;
                };
                let mut shared = own.called.difference(added).filter(|m| there.contains(*m));
                if let (true, Some(method)) = (self.home(other, name) == home, shared.next()) {
                    found.push((other, format!("{name}.{method}()")));
                }
            }
        }
        found
    }

    /// The file that defines a name which another one has.
    fn home(&self, file: usize, name: &str) -> usize {
        let import = self.all[file].imports.iter().find(|i| i.name == name);
        import
            .and_then(|import| self.owner(file, &import.path))
            .unwrap_or(file)
    }

    /// The file that defines what a path names. `None` for what is none of the library's, and for a
    /// module as a whole.
    fn owner(&self, file: usize, path: &[String]) -> Option<usize> {
        let (module, rest) = self.module(file, path)?;
        let item = rest.first()?;
        let imports = &self.all[module].imports;
        match imports.iter().find(|import| import.name == *item) {
            Some(import) if import.path != [item.clone()] => self.owner(module, &import.path),
            _ => Some(module),
        }
    }

    /// The file of the module that a path leads through, and what of the path is left.
    fn module<'p>(&self, file: usize, path: &'p [String]) -> Option<(usize, &'p [String])> {
        let own = &self.all[file].module;
        let (first, mut rest) = path.split_first()?;
        let mut module = match first.as_str() {
            "crate" | "$crate" => Vec::new(),
            "self" => own.clone(),
            "super" => own[..own.len().checked_sub(1)?].to_vec(),
            name => {
                let child = [own.as_slice(), &[name.to_owned()]].concat();
                if self.by_module.contains_key(&child) {
                    child
                } else {
                    let imports = &self.all[file].imports;
                    let import = imports.iter().find(|import| import.name == name)?;
                    if import.path[0] == *name {
                        return None;
                    }
                    let (module, rest) = self.module(file, &import.path)?;
                    if !rest.is_empty() {
                        return None;
                    }
                    self.all[module].module.clone()
                }
            }
        };
        while let Some((next, after)) = rest.split_first() {
            let below = [module.as_slice(), std::slice::from_ref(next)].concat();
            if next == "super" {
                module.pop();
            } else if self.by_module.contains_key(&below) {
                module = below;
            } else {
                break;
            }
            rest = after;
        }
        Some((*self.by_module.get(&module)?, rest))
    }
}
