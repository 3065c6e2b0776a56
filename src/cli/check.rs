//! `check`: reads builds and maps and reports every fault of all of them; solves nothing.

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::load::{self, Maps};
use super::options::{CheckOptions, Format};
use super::{Done, say};
use crate::build::{Document, Note, Override};
use crate::quantity::UnitSystem;
use crate::report::{CheckReport, CheckView, check_text, csv, json};

/// Reads everything named, or the built-in demo.
pub(super) fn run(options: &CheckOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let overrides = load::overrides(&common.set)?;
    let maps = Maps::default();
    let mut views = Vec::new();
    let mut faults = Vec::new();
    let asked = common.units.map(UnitSystem::from);
    // Maps beside a build are shown in the build's units.
    let mut own = None;
    let mut take = |result: Result<CheckView, Vec<Note>>, system: UnitSystem| match result {
        Ok(view) => views.push(view),
        Err(notes) => faults.extend(notes.iter().map(|note| note.in_units(system))),
    };
    let mut build = |path: Option<&Path>| {
        let document = match path.map(load::try_document) {
            None => load::document(None)?,
            Some(Ok(document)) => document,
            Some(Err(note)) => return Ok((Err(vec![note]), UnitSystem::default())),
        };
        let system = load::units(common, &document, &overrides);
        own.get_or_insert(system);
        let checked = check_build(&document, &overrides, &maps, system);
        Ok::<_, Failure>((checked, system))
    };
    if options.files.is_empty() {
        let (checked, system) = build(None)?;
        take(checked, system);
    }
    let map_units = asked.unwrap_or_default();
    for path in &options.files {
        if path.is_dir() {
            let inside = maps_in(path);
            if inside.is_empty() {
                take(
                    Err(vec![Note::new(
                        crate::build::Place::File(path.display().to_string().into()),
                        "",
                        "the folder holds no map file (.csv)",
                    )]),
                    map_units,
                );
            }
            for map in inside {
                take(check_map(&map, &maps, map_units), map_units);
            }
        } else if load::is_build(path) {
            let (checked, system) = build(Some(path))?;
            take(checked, system);
        } else {
            take(check_map(path, &maps, map_units), map_units);
        }
    }
    for fault in &faults {
        say(fault);
    }
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
        Ok(Done {
            text,
            strict_failure: false,
        })
    } else {
        Err(Failure::said(text))
    }
}

/// The map files of a folder, in the order of their names.
pub(super) fn maps_in(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut maps: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| {
            path.extension()
                .is_some_and(|e| e.eq_ignore_ascii_case("csv"))
        })
        .collect();
    maps.sort();
    maps
}

fn check_build(
    document: &Document,
    overrides: &[Override],
    maps: &Maps,
    system: UnitSystem,
) -> Result<CheckView, Vec<Note>> {
    let outcome = load::read(document, overrides, maps);
    let Some(installation) = outcome.installation else {
        return Err(outcome.faults);
    };
    // A fault is not to drown in the defaults of a build that cannot be used yet.
    for remark in &outcome.remarks {
        say(&remark.in_units(system));
    }
    Ok(CheckView::of_build(
        &document.file,
        &installation,
        &outcome.inputs,
    ))
}

fn check_map(path: &Path, maps: &Maps, system: UnitSystem) -> Result<CheckView, Vec<Note>> {
    let map = maps.file(path)?;
    for remark in &map.remarks {
        say(&remark.in_units(system));
    }
    Ok(CheckView::of_map(&map))
}
