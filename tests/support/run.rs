//! Runs the tool from outside, in a folder that goes away with the test.

#![allow(
    dead_code,
    reason = "each test program takes what it needs of the helper"
)]
// A helper of tests fails like a test.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A folder of its own for each test.
pub struct Scratch(PathBuf);

/// What a run left behind.
#[derive(Debug)]
pub struct Ran {
    /// The exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

impl Scratch {
    /// An empty folder.
    pub fn new() -> Self {
        static COUNT: AtomicUsize = AtomicUsize::new(0);
        let name = format!(
            "{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    /// Runs the tool in this folder.
    pub fn run(&self, arguments: &[&str]) -> Ran {
        let output = Command::new(env!("CARGO_BIN_EXE_airpath"))
            .args(arguments)
            .current_dir(&self.0)
            .output()
            .unwrap();
        Ran {
            code: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
}

impl AsRef<Path> for Scratch {
    fn as_ref(&self) -> &Path {
        &self.0
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

impl Ran {
    /// Standard output with its lines joined: what was wrapped is one text again.
    pub fn joined(&self) -> String {
        self.out.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// Standard output as JSON of a run that went through.
    pub fn json(&self) -> serde_json::Value {
        assert_eq!(self.code, 0, "{}", self.err);
        serde_json::from_str(&self.out).unwrap()
    }
}

/// A file of the tests' own, as an argument.
pub fn kept(name: &str) -> String {
    format!("{}/tests/{name}", env!("CARGO_MANIFEST_DIR"))
}
