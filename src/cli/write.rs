//! Files of results: written to a temporary name and renamed, so that nothing is ever half-written.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::terminal::{harmless, say};
use super::write_fault::{cannot_be_written, why};

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
    pub fn add(&mut self, name: &str, contents: &str) {
        // A drawing may hold no letter that XML does not.
        let contents = harmless(contents).into_owned();
        self.files.push((name.to_owned(), contents));
    }

    /// Makes the folder where it is missing, writes all files and lists them on standard error.
    pub fn write(self) -> Result<(), Failure> {
        if self.files.is_empty() {
            return Ok(());
        }
        fs::create_dir_all(&self.path).map_err(|fault| {
            Failure::new(format!(
                "{}: the folder cannot be created: {}",
                self.path.display(),
                why(&fault)
            ))
        })?;
        let mut staged = Vec::with_capacity(self.files.len());
        for (name, contents) in &self.files {
            staged.push(Staged::write(self.path.join(name), contents)?);
        }
        for file in staged {
            say(&format!("wrote {}", file.put_in_place()?.display()));
        }
        Ok(())
    }
}

/// A file that stands complete under a temporary name, which is taken away unless the file is put
/// in its place.
#[derive(Debug)]
struct Staged {
    temporary: PathBuf,
    path: PathBuf,
}

impl Staged {
    /// Writes the contents under a temporary name.
    fn write(path: PathBuf, contents: &str) -> Result<Self, Failure> {
        if path.is_dir() {
            return Err(cannot_be_written(&path, &ErrorKind::IsADirectory.into()));
        }
        let staged = Self {
            temporary: temporary_name(&path),
            path,
        };
        fs::File::create(&staged.temporary)
            .and_then(|mut file| {
                file.write_all(contents.as_bytes())
                    .and_then(|()| file.sync_all())
            })
            .map_err(|fault| cannot_be_written(&staged.path, &fault))?;
        Ok(staged)
    }

    /// Renames the file into its place.
    fn put_in_place(self) -> Result<PathBuf, Failure> {
        fs::rename(&self.temporary, &self.path)
            .map_err(|fault| cannot_be_written(&self.path, &fault))?;
        Ok(self.path.clone())
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        // Gone already where the file was put in its place.
        let _ = fs::remove_file(&self.temporary);
    }
}

/// Writes a file that must not exist yet.
pub(super) fn create(path: &Path, contents: &str) -> Result<(), Failure> {
    let refuse = |fault: io::Error| {
        let why = match fault.kind() {
            ErrorKind::AlreadyExists => {
                "already exists and was not overwritten; choose another name".to_owned()
            }
            _ => return cannot_be_written(path, &fault),
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
