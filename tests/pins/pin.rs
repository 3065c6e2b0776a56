//! One output as a digest, and the list of those that were agreed.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// Lines shown of an output that differs.
const SHOWN: usize = 6;
/// Length of a digest in a list, with the blank behind it.
const DIGEST: usize = 17;

/// One named output.
#[derive(Debug)]
pub struct Pin {
    name: String,
    facts: String,
}

impl Pin {
    /// The facts of an output under the name that it has in the list.
    pub fn new(name: &str, facts: String) -> Self {
        let name = name.to_owned();
        Self { name, facts }
    }

    fn row(&self) -> String {
        format!("{:016x} {}", digest(&self.facts), self.name)
    }
}

/// FNV-1a, 64 bits: small, and the same on every machine and release.
fn digest(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |sum, byte| {
        (sum ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// That outputs are those of the list `name`; else the lines that differ.
pub fn assert_agreed(name: &str, pins: &[Pin]) {
    let list = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/pins/{name}.txt"));
    let rows: Vec<String> = pins.iter().map(Pin::row).collect();
    if std::env::var("AIRPATH_PINS").is_ok_and(|wish| wish == "write") {
        fs::write(&list, rows.join("\n") + "\n").unwrap();
    }
    let agreed = fs::read_to_string(&list).unwrap_or_default();
    let agreed: BTreeMap<&str, &str> = agreed
        .lines()
        .filter_map(|row| row.split_at_checked(DIGEST))
        .map(|(digest, name)| (name, digest))
        .collect();
    let mut said = String::new();
    for (pin, row) in pins.iter().zip(&rows) {
        let (digest, title) = row.split_at(DIGEST);
        let kept = kept(name, pin);
        fs::create_dir_all(kept.parent().unwrap()).unwrap();
        if agreed.get(title).is_some_and(|before| *before == digest) {
            fs::write(&kept, &pin.facts).unwrap();
        } else {
            let _ = writeln!(said, "{title}: {}", difference(&kept, pin));
        }
    }
    for title in agreed.keys() {
        if !rows.iter().any(|row| row.split_at(DIGEST).1 == *title) {
            let _ = writeln!(said, "{title}: is gone");
        }
    }
    assert!(said.is_empty(), "not as agreed in {name}.txt:\n{said}");
}

/// Where the last output that agreed stands.
fn kept(list: &str, pin: &Pin) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("pins")
        .join(list);
    folder.join(pin.name.replace(' ', "_"))
}

/// The first lines that differ from the last output that agreed.
fn difference(kept: &Path, pin: &Pin) -> String {
    let now = kept.with_extension("now");
    fs::write(&now, &pin.facts).unwrap();
    let Ok(before) = fs::read_to_string(kept) else {
        return format!("no run agreed here before; now: {}", now.display());
    };
    let (old, new): (Vec<&str>, Vec<&str>) =
        (before.lines().collect(), pin.facts.lines().collect());
    let mut said = String::new();
    for line in old.iter().filter(|line| !new.contains(line)).take(SHOWN) {
        let _ = write!(said, "\n  - {line}");
    }
    for line in new.iter().filter(|line| !old.contains(line)).take(SHOWN) {
        let _ = write!(said, "\n  + {line}");
    }
    said
}
