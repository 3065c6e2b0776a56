//! One map file being read: what was found wrong so far, and what is known of its columns.

use std::sync::Arc;

use super::column::Content;
use crate::input::fault::{Note, Place};
use crate::map::sense::Wheel;
use crate::quantity::Words;

/// One file being read.
pub(super) struct Reading {
    pub file: Arc<str>,
    pub faults: Vec<Note>,
    pub remarks: Vec<Note>,
    /// Columns that are there but could not be understood.
    pub spoilt: Vec<Content>,
    /// Whether there is no heading at all.
    pub headless: bool,
    /// Whether the states and volumes in the `#` lines can be, so that figures can be held to them.
    pub is_state_sound: bool,
    /// What the map implies of its wheel.
    pub wheel: Option<Wheel>,
}

impl Reading {
    /// A file of which nothing was read yet; `file` is the name to report.
    pub fn new(file: &str) -> Self {
        Self {
            file: file.into(),
            faults: Vec::new(),
            remarks: Vec::new(),
            spoilt: Vec::new(),
            headless: false,
            is_state_sound: true,
            wheel: None,
        }
    }

    pub fn fault(&mut self, line: usize, key: &str, text: impl Into<Words>) {
        let place = Place::Line(Arc::clone(&self.file), line);
        self.faults.push(Note::new(place, key, text));
    }

    pub fn remark(&mut self, line: usize, key: &str, text: impl Into<Words>) {
        let place = Place::Line(Arc::clone(&self.file), line);
        self.remarks.push(Note::new(place, key, text));
    }
}
