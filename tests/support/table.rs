//! Reads the check values of tests/reference/ and keeps the largest deviation found against them.
//!
//! A program takes this file by its path, so that each holds only the helpers that it calls.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::fs;
use std::path::Path;

/// One row of a table: the cells by the names of their columns.
pub struct Row {
    columns: Vec<String>,
    cells: csv::StringRecord,
}

/// The rows of a file of tests/reference/.
pub fn rows(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference")
        .join(name);
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let columns: Vec<String> = reader.headers().unwrap().iter().map(String::from).collect();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| Row {
            columns: columns.clone(),
            cells: record.unwrap(),
        })
        .collect();
    assert!(!rows.is_empty(), "{name} has no rows");
    rows
}

impl Row {
    /// The text of a cell.
    pub fn text(&self, column: &str) -> &str {
        let place = self.columns.iter().position(|name| name == column);
        &self.cells[place.unwrap_or_else(|| panic!("no column {column}"))]
    }

    /// The number of a cell.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|e| panic!("{column} = {text}: {e}"))
    }
}

/// The deviation that comes nearest to its limit, or passes it furthest.
pub struct Deviations {
    what: &'static str,
    count: usize,
    worst_share: f64,
    worst: String,
}

impl Deviations {
    /// Nothing compared yet.
    pub fn of(what: &'static str) -> Self {
        Self {
            what,
            count: 0,
            worst_share: -1.0,
            worst: String::new(),
        }
    }

    /// Compares a value with the expected one; the limit is absolute. A value that is not a number
    /// fails at once.
    pub fn compare(&mut self, place: &str, found: f64, expected: f64, limit: f64) {
        let deviation = found - expected;
        assert!(deviation.is_finite(), "{} at {place}: {found}", self.what);
        self.count += 1;
        let share = deviation.abs() / limit;
        if share > self.worst_share {
            self.worst_share = share;
            self.worst = format!(
                "{place}: {found} for {expected}, off by {deviation:.3e} ({:.3e} relative), \
                 allowed {limit:.3e}",
                deviation / expected
            );
        }
    }

    /// Fails where a limit was passed or nothing was compared; says the worst on the way
    /// (`cargo test -- --nocapture`).
    pub fn finish(self) {
        println!(
            "{}: {} compared; worst {}",
            self.what, self.count, self.worst
        );
        assert!(self.count > 0, "{}: nothing was compared", self.what);
        assert!(self.worst_share <= 1.0, "{}: {}", self.what, self.worst);
    }
}
