//! What all readers of one build share: the notes, and what earlier sections made known.

use std::cell::{Cell, RefCell};

use super::fault::{Note, Place, Taken};
use super::inputs::{Input, Inputs, Shift};
use super::sense::Given;
use crate::quantity::Words;

/// What all readers of one build share: the notes, and what earlier sections made known.
#[derive(Debug, Default)]
pub(super) struct Context {
    faults: RefCell<Vec<Note>>,
    remarks: RefCell<Vec<Note>>,
    defaults: RefCell<Vec<Taken>>,
    /// The site's absolute pressure, Pa, once the site has been read.
    pub(super) site_pressure: Cell<Option<f64>>,
    /// The numbers as written; absent where inputs are moved, so that nobody takes a moved value for
    /// a written one.
    given: Option<RefCell<Vec<Given>>>,
    /// The numbers read so far, and how to move them.
    pub(super) inputs: Inputs,
    /// Places that could not be read at all: nothing more is said about them, and nothing in the
    /// file is called missing.
    pub(super) broken: Vec<Place>,
}

impl Context {
    /// The context of a document with places that could not be read.
    pub(super) fn new(broken: Vec<Place>) -> Self {
        Self {
            broken,
            given: Some(RefCell::default()),
            ..Self::default()
        }
    }

    /// The context of a reading with inputs moved: it keeps no view of what was written.
    pub(super) fn shifted(shifts: &[Shift]) -> Self {
        Self {
            inputs: Inputs::new(shifts),
            ..Self::default()
        }
    }

    pub(super) fn fault(&self, place: &Place, key: &str, text: impl Into<Words>) {
        if !self.broken.contains(place) {
            let note = Note::new(place.clone(), key, text);
            self.faults.borrow_mut().push(note);
        }
    }

    /// Takes over notes of something read along with the build.
    pub(super) fn add(&self, faults: Vec<Note>, remarks: &[Note]) {
        self.faults.borrow_mut().extend(faults);
        self.remarks.borrow_mut().extend_from_slice(remarks);
    }

    pub(super) fn remark(&self, place: &Place, key: &str, text: impl Into<Words>) {
        self.remarks
            .borrow_mut()
            .push(Note::new(place.clone(), key, text));
    }

    /// Notes a default that was taken.
    pub(super) fn taken(
        &self,
        place: &Place,
        key: &str,
        value: impl Into<Words>,
        source: &'static str,
    ) {
        self.defaults.borrow_mut().push(Taken {
            place: place.clone(),
            key: key.to_owned(),
            value: value.into(),
            source,
        });
    }

    /// Keeps a value as it was written, for what is judged of the whole.
    pub(super) fn keep(&self, given: impl FnOnce() -> Given) {
        if let Some(all) = &self.given {
            all.borrow_mut().push(given());
        }
    }

    /// What was written, read so far: nothing where inputs are moved.
    pub(super) fn given(&self) -> Vec<Given> {
        let all = self.given.as_ref();
        all.map(|all| all.borrow().clone()).unwrap_or_default()
    }

    /// How many faults have been noted.
    pub(super) fn count(&self) -> usize {
        self.faults.borrow().len()
    }

    /// Faults, remarks and the defaults taken, each in line order and without repeats, and the inputs
    /// in reading order.
    pub(super) fn into_notes(self) -> (Vec<Note>, Vec<Note>, Vec<Taken>, Vec<Input>) {
        let mut defaults = self.defaults.into_inner();
        defaults.sort_by(|a, b| a.place.cmp(&b.place));
        let mut seen = Vec::new();
        defaults.retain(|taken| {
            let is_new = !seen.contains(&taken.key);
            seen.push(taken.key.clone());
            is_new
        });
        let in_order = |notes: RefCell<Vec<Note>>| {
            let mut notes = notes.into_inner();
            notes.sort_by(|a, b| a.place.cmp(&b.place));
            notes.dedup();
            notes
        };
        (
            in_order(self.faults),
            in_order(self.remarks),
            defaults,
            self.inputs.into_list(),
        )
    }
}
