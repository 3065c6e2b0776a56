//! The files that a user writes: the build, and the maps that it names.
//!
//! A build goes from text to a [`Document`] (values with their places), values of the command line
//! are laid over it ([`Override`]), and one reader a section turns what was written into what is
//! meant: an [`Installation`] in SI with nothing left open. All faults come in one run, in line
//! order; every default that was used is a remark. Nothing here opens a file: a [`MapLoader`] hands
//! the maps in, so that a study can read the same document a thousand times with other values.

mod air_path;
mod alternatives;
mod bad_toml;
pub mod bounds;
mod context;
mod cooler;
mod document;
mod drive;
mod engine;
mod exhaust;
mod fault;
mod friction;
mod fuel;
mod head;
mod inputs;
mod keys;
mod layout_fault;
mod limits;
pub mod map_file;
mod maps;
mod nearest;
mod overrides;
mod part_words;
mod rated_drop;
mod reader;
mod sense;
mod site;
mod speed_table;
mod starter;
mod supercharger;
mod synonyms;
mod text;
mod typography;
mod whole;

pub use document::Document;
pub use fault::{Note, Place, Taken};
pub use inputs::{By, Input, Shift};
pub use keys::row::CONVENTION;
pub use keys::{KeyDescription, SectionDescription, schema, sections};
pub use layout_fault::layout_fault;
pub use maps::{MapLoader, MapReference};
pub use nearest::nearest as nearest_word;
pub use overrides::Override;
pub use sense::{SpeedFault, judge_speed};
pub use starter::{STARTER, STARTER_MAP, STARTER_MAP_NAME, starter};

use crate::matching::Installation;
use crate::quantity::UnitSystem;
use context::Context;
use document::{Node, Value};
use maps::Maps;
use reader::Reader;

/// The built-in demo build, invented.
pub const DEMO: &str = include_str!("demo.toml");
/// The name under which the built-in demo is reported.
pub const DEMO_NAME: &str = "built-in demo";

/// What came of reading a build.
#[derive(Debug)]
pub struct Outcome {
    /// The installation as meant; absent when there is a fault.
    pub installation: Option<Installation>,
    /// Defaults used and other things worth knowing, in line order.
    pub remarks: Vec<Note>,
    /// Values that were taken because the build does not give them, in line order, each once.
    pub defaults: Vec<Taken>,
    /// Everything that is wrong, in line order.
    pub faults: Vec<Note>,
    /// The numbers that were given, or taken by default, in reading order.
    pub inputs: Vec<Input>,
}

/// Reads a build with values of the command line laid over it, and judges what was written. `maps`
/// hands in the maps it names.
pub fn read(document: &Document, overrides: &[Override], maps: &MapLoader<'_>) -> Outcome {
    let mut document = document.clone();
    let overrides::Applied { faults, replaced } = overrides::apply(&mut document, overrides);
    let remarks = alternatives::settle(&mut document.root, &replaced);
    let broken = document.faults.iter().map(|fault| fault.place.clone());
    let context = Context::new(broken.collect());
    context.add(document.faults.clone(), &remarks);
    context.add(faults, &[]);
    context.add(alternatives::conflicts(&mut document.root), &[]);
    // A file of which nothing could be read gets no further faults.
    let nothing = !document.faults.is_empty() && document.root.entries().next().is_none();
    let installation = if nothing {
        None
    } else {
        let place = Place::Line(document.file.clone(), 1);
        let root = Reader::new(&document.root, place, "", &context);
        let installation = meant(&root, &Maps::new(maps), &document.file);
        sense::judge(&context, &document.root);
        // The whole is judged once its sections are right: a misspelt one is not missing too.
        if let (Some(installation), 0) = (&installation, context.count()) {
            whole::check(&root, installation);
        }
        installation
    };
    let (faults, remarks, defaults, inputs) = context.into_notes();
    Outcome {
        installation: installation.filter(|_| faults.is_empty()),
        remarks,
        defaults,
        faults,
        inputs,
    }
}

/// The same build with inputs moved; `None` where a moved value leaves its permitted range, or where
/// the moved values make no part. [`read`] has judged the build as written: moved values are not held
/// to each other again.
pub fn read_shifted(
    document: &Document,
    overrides: &[Override],
    maps: &MapLoader<'_>,
    shifts: &[Shift],
) -> Option<Installation> {
    let mut document = document.clone();
    let applied = overrides::apply(&mut document, overrides);
    alternatives::settle(&mut document.root, &applied.replaced);
    let context = Context::shifted(shifts);
    let place = Place::Line(document.file.clone(), 1);
    let root = Reader::new(&document.root, place, "", &context);
    let installation = meant(&root, &Maps::new(maps), &document.file);
    installation.filter(|_| context.count() == 0)
}

/// The units that a build asks for with `units`, where it does and they are known.
pub fn reader_units(document: &Document, overrides: &[Override]) -> Option<UnitSystem> {
    let laid_over = overrides.iter().rev().find(|one| one.key == "units");
    let word = match (laid_over, document.root.get("units")) {
        (Some(one), _) => one.value.trim().trim_matches('"'),
        (
            None,
            Some(Node {
                value: Value::Text(word),
                ..
            }),
        ) => word,
        _ => return None,
    };
    let known = keys::file::UNITS
        .iter()
        .find(|(name, _)| word.eq_ignore_ascii_case(name));
    known.map(|(_, system)| *system)
}

/// Whether a section's path is that of a part of the air path, or within one.
pub fn is_part(path: &str) -> bool {
    let word = path.split('.').next().unwrap_or_default();
    part_words::PART_WORDS.contains(&word)
}

/// How many parts of a word the air path of a document has.
pub fn count_parts(document: &Document, word: &str) -> usize {
    overrides::count_parts(&document.root, word)
}

fn meant(root: &Reader<'_>, maps: &Maps<'_>, file: &str) -> Option<Installation> {
    let title = root.text("title").unwrap_or(file).to_owned();
    // Whoever shows the result asks for it before anything is read: `reader_units`.
    root.word(&keys::file::UNITS_KEY, &keys::file::UNITS);
    let site = site::read(root);
    let temperature = site.as_ref().map(|site| site.temperature);
    let engine = engine::read(root, fuel::kind(root));
    let cylinders_known = engine
        .as_ref()
        .is_none_or(|engine| engine.cylinders.is_some());
    let fuel = fuel::read(root, cylinders_known);
    let site_temperature = temperature.unwrap_or(crate::site::SEA_LEVEL_TEMPERATURE);
    let air_path = air_path::read(root, site_temperature, maps);
    let turbines = exhaust::read_turbines(root, &air_path, maps);
    let exhaust = exhaust::read_pipe(root);
    let limits = limits::read(root);
    root.finish();
    Some(Installation {
        title,
        site: site?,
        engine: engine?,
        fuel,
        air_path: air_path.parts,
        turbines,
        exhaust,
        limits,
    })
}

#[cfg(test)]
mod tests;
