//! Files of results: written to a temporary name and renamed, so that nothing is ever half-written.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::say;

/// The folder where results land unless another is named.
const DEFAULT_FOLDER: &str = "out";

/// Files to be written together: all their contents are known before the first is touched.
#[derive(Debug)]
pub(super) struct Folder {
    path: PathBuf,
    files: Vec<(String, String)>,
}

impl Folder {
    /// The folder named on the command line, or the default one.
    pub fn new(named: Option<&Path>) -> Self {
        Self {
            path: named.map_or_else(|| PathBuf::from(DEFAULT_FOLDER), Path::to_owned),
            files: Vec::new(),
        }
    }

    /// Adds a file.
    pub fn add(&mut self, name: &str, contents: String) {
        self.files.push((name.to_owned(), contents));
    }

    /// Makes the folder where it is missing, writes all files and lists them on standard error.
    pub fn write(self) -> Result<(), Failure> {
        if self.files.is_empty() {
            return Ok(());
        }
        fs::create_dir_all(&self.path).map_err(|fault| {
            Failure::new(format!(
                "{}: the folder cannot be made ({fault})",
                self.path.display()
            ))
        })?;
        for (name, contents) in &self.files {
            let path = self.path.join(name);
            replace(&path, contents)?;
            say(&format!("wrote {}", path.display()));
        }
        Ok(())
    }
}

/// Writes a file under a temporary name and renames it into place.
pub(super) fn replace(path: &Path, contents: &str) -> Result<(), Failure> {
    let temporary = temporary_name(path);
    let written = fs::File::create(&temporary)
        .and_then(|mut file| {
            file.write_all(contents.as_bytes())
                .and_then(|()| file.sync_all())
        })
        .and_then(|()| fs::rename(&temporary, path));
    written.map_err(|fault| {
        let _ = fs::remove_file(&temporary);
        Failure::new(format!("{}: cannot be written ({fault})", path.display()))
    })
}

/// Writes a file that must not exist yet.
pub(super) fn create(path: &Path, contents: &str) -> Result<(), Failure> {
    let refuse = |fault: std::io::Error| {
        let why = match fault.kind() {
            std::io::ErrorKind::AlreadyExists => {
                "exists already and is left alone; choose another name".to_owned()
            }
            _ => format!("cannot be written ({fault})"),
        };
        Failure::new(format!("{}: {why}", path.display()))
    };
    let temporary = temporary_name(path);
    let result = fs::File::create(&temporary)
        .and_then(|mut file| file.write_all(contents.as_bytes()))
        // A hard link does not replace what stands there.
        .and_then(|()| fs::hard_link(&temporary, path));
    let _ = fs::remove_file(&temporary);
    result.map_err(refuse)
}

/// A name beside the file that no other run uses.
fn temporary_name(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.tmp", std::process::id()));
    path.with_file_name(name)
}
