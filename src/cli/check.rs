//! `check`: reads builds and maps and reports every fault of all of them; solves nothing.

use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::load::{self, Maps};
use super::options::{CheckOptions, Format};
use super::{Done, say};
use crate::build::Note;
use crate::report::{CheckReport, CheckView, check_text, csv, json};

/// Reads everything named, or the built-in demo.
pub(super) fn run(options: &CheckOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let overrides = load::overrides(&common.set)?;
    let maps = Maps::default();
    let mut views = Vec::new();
    let mut faults = Vec::new();
    let mut take = |result: Result<CheckView, Vec<Note>>| match result {
        Ok(view) => views.push(view),
        Err(notes) => faults.extend(notes),
    };
    if options.files.is_empty() {
        take(check_build(None, &overrides, &maps)?);
    }
    for path in &options.files {
        if path.is_dir() {
            let inside = maps_in(path);
            if inside.is_empty() {
                take(Err(vec![Note::new(
                    crate::build::Place::File(path.display().to_string().into()),
                    "",
                    "the folder holds no map file (.csv)",
                )]));
            }
            for map in inside {
                take(check_map(&map, &maps));
            }
        } else if load::is_build(path) {
            take(check_build(Some(path), &overrides, &maps)?);
        } else {
            take(check_map(path, &maps));
        }
    }
    for fault in &faults {
        say(&fault.to_string());
    }
    let text = match common.format {
        Format::Text => check_text(&views, faults.len(), common.units.into()),
        Format::Json => json::write(&CheckReport {
            faults: faults.iter().map(ToString::to_string).collect(),
            files: views,
        })?,
        Format::Csv => csv::write(&views)?,
    };
    if faults.is_empty() {
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

/// The outer error is a file that cannot be opened under a name that is no build's.
fn check_build(
    path: Option<&Path>,
    overrides: &[crate::build::Override],
    maps: &Maps,
) -> Result<Result<CheckView, Vec<Note>>, Failure> {
    let document = match path.map(load::try_document) {
        None => load::document(None)?,
        Some(Ok(document)) => document,
        Some(Err(note)) => return Ok(Err(vec![note])),
    };
    let outcome = load::read(&document, overrides, maps);
    let Some(installation) = outcome.installation else {
        return Ok(Err(outcome.faults));
    };
    // A fault is not to drown in the defaults of a build that cannot be used yet.
    for remark in &outcome.remarks {
        say(&remark.to_string());
    }
    Ok(Ok(CheckView::of_build(
        &document.file,
        &installation,
        &outcome.inputs,
    )))
}

fn check_map(path: &Path, maps: &Maps) -> Result<CheckView, Vec<Note>> {
    let map = maps.file(path)?;
    for remark in &map.remarks {
        say(&remark.to_string());
    }
    Ok(CheckView::of_map(&map))
}
