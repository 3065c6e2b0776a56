//! One output as two digests, and the list of those that were agreed.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// Rows shown of an output that differs.
const SHOWN: usize = 6;

/// An output apart into what may not move and what may be put better.
#[derive(Debug, Default)]
pub struct Output {
    /// Numbers, names, places and codes, a fact a line.
    pub facts: String,
    /// Texts for people, one a line.
    pub texts: String,
}

/// One named output.
#[derive(Debug)]
pub struct Pin {
    name: String,
    output: Output,
}

impl Pin {
    /// An output under the name that it has in the list.
    pub fn new(name: &str, output: Output) -> Self {
        let name = name.to_owned();
        Self { name, output }
    }

    fn row(&self) -> String {
        let (facts, texts) = (digest(&self.output.facts), digest(&self.output.texts));
        format!("{facts:016x} {texts:016x} {}", self.name)
    }

    fn whole(&self) -> String {
        format!("{}\n{}", self.output.facts, self.output.texts)
    }

    fn file(&self) -> String {
        self.name.replace([' ', '/'], "_")
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
        .filter_map(|row| row.split_at_checked(34))
        .map(|(digests, name)| (name, digests))
        .collect();
    let mut said = String::new();
    for (pin, row) in pins.iter().zip(&rows) {
        let (digests, title) = row.split_at(34);
        let kept = kept(name, pin);
        if agreed.get(title).is_some_and(|before| *before == digests) {
            fs::create_dir_all(kept.parent().unwrap()).unwrap();
            fs::write(&kept, pin.whole()).unwrap();
            continue;
        }
        let same_facts = agreed
            .get(title)
            .is_some_and(|before| before[..16] == digests[..16]);
        let what = if same_facts { "texts alone" } else { "FACTS" };
        let _ = writeln!(said, "{title}: {what}{}", difference(&kept, pin));
    }
    for title in agreed.keys() {
        if !rows.iter().any(|row| row.split_at(34).1 == *title) {
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
    folder.join(pin.file())
}

/// The first lines that differ from the last output that agreed.
fn difference(kept: &Path, pin: &Pin) -> String {
    let now = pin.whole();
    let _ = fs::create_dir_all(kept.parent().unwrap());
    let _ = fs::write(kept.with_extension("now"), &now);
    let Ok(before) = fs::read_to_string(kept) else {
        return format!(
            " (nothing to show: no run agreed here before)\n  now: {}",
            kept.with_extension("now").display()
        );
    };
    let mut said = String::new();
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), now.lines().collect());
    for line in old.iter().filter(|line| !new.contains(line)).take(SHOWN) {
        let _ = write!(said, "\n  - {line}");
    }
    for line in new.iter().filter(|line| !old.contains(line)).take(SHOWN) {
        let _ = write!(said, "\n  + {line}");
    }
    said
}
