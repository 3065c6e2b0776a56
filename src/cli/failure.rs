//! Why a command did not go through, with its exit code.

use crate::input::Note;
use crate::quantity::UnitSystem;

/// Why a command did not go through.
#[derive(Debug)]
pub(super) struct Failure {
    lines: Vec<String>,
    result: String,
    code: u8,
}

impl Failure {
    /// A fault in what was read, or nothing solved: exit code 1.
    pub fn new(line: impl Into<String>) -> Self {
        Self {
            lines: vec![line.into()],
            result: String::new(),
            code: 1,
        }
    }

    /// Faults with their places: exit code 1.
    pub fn notes(notes: &[Note], system: UnitSystem) -> Self {
        Self::lines_of(notes.iter().map(|note| note.in_units(system)).collect())
    }

    /// Faults in words: exit code 1.
    pub fn lines_of(lines: Vec<String>) -> Self {
        Self {
            lines,
            result: String::new(),
            code: 1,
        }
    }

    /// Faults that were said already, beside a result: exit code 1.
    pub fn said(result: String) -> Self {
        Self {
            lines: Vec::new(),
            result,
            code: 1,
        }
    }

    /// A command line that cannot be meant: exit code 2.
    pub fn usage(line: &str) -> Self {
        Self {
            lines: vec![format!("airpath: {line}"), "try: airpath --help".to_owned()],
            result: String::new(),
            code: 2,
        }
    }

    /// The same with a result that is shown all the same.
    pub fn with_result(mut self, result: String) -> Self {
        self.result = result;
        self
    }

    /// What to say on standard error.
    pub fn lines(&self) -> &[String] {
        &self.lines
    }

    /// What to show on standard output.
    pub fn result(&self) -> &str {
        &self.result
    }

    /// The exit code.
    pub fn code(&self) -> u8 {
        self.code
    }
}

impl From<crate::report::NotFinite> for Failure {
    fn from(fault: crate::report::NotFinite) -> Self {
        Self::new(fault.to_string())
    }
}

impl From<crate::plot::PlotError> for Failure {
    fn from(fault: crate::plot::PlotError) -> Self {
        Self::new(format!("drawing: {fault}"))
    }
}
