//! `rank`: which compressor map suits this build.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::done::Done;
use super::failure::Failure;
use super::load::{self, Loaded, Maps};
use super::options::{Format, RankOptions};
use super::progress::Progress;
use super::read::maps_in;
use super::terminal::say_first;
use super::write::Folder;
use crate::input::map_file::MapContent;
use crate::input::{Note, layout_fault};
use crate::map::CompressorMap;
use crate::quantity::UnitSystem;
use crate::report::{RankReport, csv, drawings, json, rank_text, ranked_map};
use crate::study::{self, Ranked};

/// One map that was solved along the line.
struct Solved {
    file: String,
    ranked: Ranked,
}

/// Ranks every readable compressor map; the others are said and skipped.
pub(super) fn run(options: &RankOptions) -> Result<Done, Failure> {
    let common = &options.common;
    let (build, files) = sorted(&options.files)?;
    let loaded = load::build(build.as_deref(), common, None)?;
    let maps = Maps::default();
    let mut solved = Vec::new();
    let mut skipped = Vec::new();
    let progress = Progress::of("solving the line of each map", files.len());
    for file in files {
        match one(&loaded, &file, &maps) {
            Ok(ranked) => solved.push(Solved {
                file: file.display().to_string(),
                ranked,
            }),
            Err(why) => skipped.extend(why),
        }
        progress.step();
    }
    drop(progress);
    say_first(&skipped, "like these");
    if solved.is_empty() {
        return Err(Failure::new("rank: no compressor map could be used"));
    }
    study::sort_by_suitability(&mut solved, |one| &one.ranked);
    let best_has_faults = solved.first().is_some_and(|best| best.ranked.faults() > 0);
    let maps = solved.into_iter().enumerate();
    let report = RankReport {
        title: loaded.installation.title.clone(),
        maps: maps
            .map(|(i, one)| ranked_map(i + 1, one.file, one.ranked))
            .collect(),
    };
    let system = loaded.system;
    let text = match common.format {
        Format::Text => rank_text(&report, skipped.len(), system),
        Format::Json => json::write(&report)?,
        Format::Csv => csv::write(&report.maps)?,
    };
    if common.format == Format::Text || common.out.is_some() {
        let maps = report.maps.iter();
        let named: Vec<(&str, &Ranked)> = maps.map(|one| (one.map.as_str(), &one.ranked)).collect();
        let mut folder = Folder::new(common.out.as_deref());
        folder.add("rank.svg", &drawings::of_rank(&named, system)?);
        folder
            .write()
            .map_err(|failure| failure.with_result(text.clone()))?;
    }
    Ok(Done {
        text,
        strict_failure: common.strict && best_has_faults,
    })
}

/// The build among the arguments, and the map files, folders opened.
fn sorted(files: &[PathBuf]) -> Result<(Option<PathBuf>, Vec<PathBuf>), Failure> {
    let mut build = None;
    let mut maps = Vec::new();
    for path in files {
        if load::is_build(path) {
            if build.replace(path.clone()).is_some() {
                return Err(Failure::usage(
                    "rank takes one build and any number of maps",
                ));
            }
        } else if path.is_dir() {
            maps.extend(
                maps_in(path).map_err(|fault| Failure::notes(&[fault], UnitSystem::default()))?,
            );
        } else {
            maps.push(path.clone());
        }
    }
    if maps.is_empty() {
        return Err(Failure::usage(
            "rank: expected compressor maps (.csv) or folders of them",
        ));
    }
    Ok((build, maps))
}

fn one(loaded: &Loaded, file: &Path, maps: &Maps) -> Result<Ranked, Vec<String>> {
    let name = file.display();
    let said = |note: &Note| note.in_units(loaded.system);
    let map = maps
        .file(file)
        .map_err(|notes| notes.iter().map(said).collect::<Vec<_>>())?;
    let compressor: Arc<CompressorMap> = match &map.content {
        MapContent::Compressor(compressor) => Arc::clone(compressor),
        other => {
            return Err(vec![format!(
                "{name}: is a {}, not a compressor map; skipped",
                other.name()
            )]);
        }
    };
    let with = study::with_map(&loaded.installation, &compressor)
        .ok_or_else(|| vec!["rank: this build has no turbo_compressor".to_owned()])?;
    let ranked =
        study::rank_one(with).map_err(|fault| vec![format!("{name}: {}", layout_fault(&fault))])?;
    if ranked.unsolved == ranked.line.points.len() {
        return Err(vec![format!(
            "{name}: no speed of the line has a match on this map; skipped"
        )]);
    }
    Ok(ranked)
}
