//! How much of a file is read: far more than any build or map needs, little enough that a wrong
//! file is said at once.

use super::document::{Document, Table, Value};
use super::fault::{Note, Place};

/// Largest build, bytes.
pub const BUILD_BYTES: u64 = 1_000_000;
/// Largest map, bytes.
pub const MAP_BYTES: u64 = 16_000_000;

/// Most lines of a file.
const LINES: usize = 50_000;
/// Longest line, bytes: a list of [`ROWS`] written in one line fits twice.
const LINE_BYTES: usize = 100_000;
/// Most rows of a list of values.
const ROWS: usize = 2000;
/// Most parts or turbines.
const SECTIONS: usize = 100;
/// Most keys of a section: a hundred times what any has.
const KEYS: usize = 1000;

/// What is wrong with a file of this size in bytes, where `most` are read.
pub fn too_large(file: &str, bytes: u64, most: u64) -> Option<Note> {
    let text = || {
        format!(
            "is {:.1} MB long; the limit is {} MB: is this the right file?",
            bytes as f64 / 1e6,
            most / 1_000_000
        )
    };
    (bytes > most).then(|| Note::new(Place::File(file.into()), "", text()))
}

/// What is wrong with the lines of a file, where there are too many or one is too long.
pub fn too_many_lines(file: &str, bytes: &[u8]) -> Option<Note> {
    let at = |line: usize, text: String| Some(Note::new(Place::Line(file.into(), line), "", text));
    // LF, CRLF, or CR alone.
    let lines = bytes.split(|byte| *byte == b'\n').flat_map(|line| {
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        line.split(|byte| *byte == b'\r')
    });
    for (index, line) in lines.enumerate() {
        if index > LINES {
            let text = format!("has more than {LINES} lines, the limit: is this the right file?");
            return at(index, text);
        }
        if line.len() > LINE_BYTES {
            let text = format!(
                "is {} bytes long; the limit is {LINE_BYTES}: is this the right file?",
                line.len()
            );
            return at(index + 1, text);
        }
    }
    None
}

/// Cuts every list and section of a build down to what is read, each cut a fault at its head.
pub fn hold(document: &mut Document) {
    let mut faults = Vec::new();
    let place = Place::Line(document.file.clone(), 1);
    hold_table(&mut document.root, &place, "", &mut faults);
    document.faults.extend(faults);
}

fn hold_table(table: &mut Table, place: &Place, path: &str, faults: &mut Vec<Note>) {
    let count = table.entries().count();
    if count > KEYS {
        let text = format!("has {count} keys; the limit is {KEYS}");
        faults.push(Note::new(place.clone(), path, text));
        table.keep_first(KEYS);
    }
    for (key, node) in table.entries_mut() {
        let path = match path {
            "" => key.to_owned(),
            _ => format!("{path}.{key}"),
        };
        hold_value(&mut node.value, &node.place, &path, faults);
    }
}

fn hold_value(value: &mut Value, place: &Place, path: &str, faults: &mut Vec<Note>) {
    match value {
        Value::Table(table) => hold_table(table, place, path, faults),
        Value::List(items) => {
            let sections = items
                .first()
                .is_some_and(|item| matches!(item.value, Value::Table(_)));
            let (most, what) = if sections {
                (SECTIONS, "sections")
            } else {
                (ROWS, "rows")
            };
            if items.len() > most {
                let count = items.len();
                let text = format!("has {count} {what}; the limit is {most}");
                faults.push(Note::new(place.clone(), path, text));
                items.truncate(most);
            }
            for item in items {
                hold_value(&mut item.value, &item.place, path, faults);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(text: &str) -> Vec<String> {
        let mut document = Document::from_text("t", text);
        hold(&mut document);
        document.faults.iter().map(Note::to_string).collect()
    }

    #[test]
    fn a_size_is_refused_just_beyond_its_bound() {
        assert_eq!(too_large("t", BUILD_BYTES, BUILD_BYTES), None);
        let fault = too_large("t", 3_440_000, BUILD_BYTES).unwrap();
        assert_eq!(
            fault.to_string(),
            "t: is 3.4 MB long; the limit is 1 MB: is this the right file?"
        );
    }

    #[test]
    fn a_line_too_long_and_one_too_many_are_named() {
        let long = [b"a\n".to_vec(), vec![b'x'; LINE_BYTES + 1]].concat();
        let said = too_many_lines("t", &long).unwrap().to_string();
        assert!(said.starts_with("t:2: line: is 100001 bytes"), "{said}");
        assert_eq!(too_many_lines("t", &long[..long.len() - 1]), None);
        let carriage_returns = b"80000,0.1\r".repeat(20_000);
        assert_eq!(too_many_lines("t", &carriage_returns), None);
        let many = vec![b'\n'; LINES];
        assert_eq!(too_many_lines("t", &many), None);
        let said = too_many_lines("t", &vec![b'\n'; LINES + 1]).unwrap();
        assert!(said.to_string().starts_with("t:50001: line: has more than"));
    }

    #[test]
    fn lists_sections_and_keys_beyond_their_bounds_are_one_fault_each() {
        assert!(held(&format!("[e]\nv = [{}]\n", "1,".repeat(ROWS))).is_empty());
        assert_eq!(
            held(&format!("[e]\nv = [{}]\n", "[1, 2],".repeat(ROWS + 1))),
            ["t:2: e.v: has 2001 rows; the limit is 2000"]
        );
        assert_eq!(
            held(&"[[air_path]]\n".repeat(SECTIONS + 1)),
            ["t:1: air_path: has 101 sections; the limit is 100"]
        );
        let keys: String = (0..1005).fold(String::new(), |all, key| all + &format!("k{key} = 1\n"));
        assert_eq!(
            held(&format!("[e]\n{keys}")),
            ["t:1: e: has 1005 keys; the limit is 1000"]
        );
    }
}
