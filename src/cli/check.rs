//! `check`: reads builds and maps and reports every fault of all of them; solves nothing.

use std::path::{Path, PathBuf};

use super::done::Done;
use super::failure::Failure;
use super::load::{self, Maps};
use super::options::{CheckOptions, Common, Format};
use super::progress::Progress;
use super::read::maps_in;
use super::set;
use super::terminal::say_first;
use crate::input::{Document, Note, Override};
use crate::quantity::UnitSystem;
use crate::report::{CheckReport, FileUnderstood, check_text, csv, json};

/// What was read so far.
#[derive(Default)]
struct Read {
    maps: Maps,
    views: Vec<FileUnderstood>,
    /// Remarks and faults in the units of the build that they belong to.
    remarks: Vec<String>,
    faults: Vec<String>,
    /// The units of the first build: maps beside a build are shown in the build's units.
    own: Option<UnitSystem>,
}

/// Reads everything named, or the built-in demo.
pub(super) fn run(options: &CheckOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let overrides = set::overrides(&common.set)?;
    let mut read = Read::default();
    if options.files.is_empty() {
        read.build(&load::document(None)?, &overrides, common);
    }
    let asked = common.units.map(UnitSystem::from);
    let map_units = asked.unwrap_or_default();
    let files = read.opened(&options.files, map_units);
    let progress = Progress::of("reading", files.len());
    for path in &files {
        if load::is_build(path) {
            match load::try_document(path) {
                Ok(document) => read.build(&document, &overrides, common),
                Err(fault) => read.faults.push(fault.in_units(map_units)),
            }
        } else {
            read.map(path, map_units);
        }
        progress.step();
    }
    drop(progress);
    say_first(&read.remarks, "remarks");
    say_first(&read.faults, "faults");
    let Read {
        views, faults, own, ..
    } = read;
    let clean = faults.is_empty();
    let text = match common.format {
        Format::Text => {
            let system = asked.or(own).unwrap_or_default();
            check_text(&views, faults.len(), system)
        }
        Format::Json => json::write(&CheckReport {
            faults,
            files: views,
        })?,
        Format::Csv => csv::write(&views)?,
    };
    if clean {
        Ok(text.into())
    } else {
        Err(Failure::said(text))
    }
}

impl Read {
    /// The files named, with the maps of each folder in its place.
    fn opened(&mut self, named: &[PathBuf], system: UnitSystem) -> Vec<PathBuf> {
        let mut files = Vec::with_capacity(named.len());
        for path in named {
            if !path.is_dir() {
                files.push(path.clone());
                continue;
            }
            match maps_in(path) {
                Ok(inside) => files.extend(inside),
                Err(fault) => self.faults.push(fault.in_units(system)),
            }
        }
        files
    }

    fn build(&mut self, document: &Document, overrides: &[Override], common: &Common) {
        let system = load::units(common, document, overrides);
        self.own.get_or_insert(system);
        let outcome = load::read_build(document, overrides, &self.maps);
        let Some(installation) = outcome.installation else {
            self.faults.extend(in_units(&outcome.faults, system));
            return;
        };
        // A fault is not to drown in the defaults of a build that cannot be used yet.
        self.remarks.extend(in_units(&outcome.remarks, system));
        let view = FileUnderstood::of_build(&document.file, &installation, &outcome.inputs);
        self.views.push(view);
    }

    fn map(&mut self, path: &Path, system: UnitSystem) {
        match self.maps.file(path) {
            Ok(map) => {
                self.remarks.extend(in_units(&map.remarks, system));
                self.views.push(FileUnderstood::of_map(&map));
            }
            Err(faults) => self.faults.extend(in_units(&faults, system)),
        }
    }
}

fn in_units(notes: &[Note], system: UnitSystem) -> Vec<String> {
    notes.iter().map(|note| note.in_units(system)).collect()
}
