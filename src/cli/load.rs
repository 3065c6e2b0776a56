//! Reading a build and the maps that it names, with every fault said at its place.

use std::cell::RefCell;
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::comparison::Comparison;
use super::failure::Failure;
use super::options::Common;
use super::terminal::{say, say_first};
use super::{read, set};
use crate::input::map_file::MapFile;
use crate::input::{
    self, Document, Input, MapReference, Note, Override, Place, Shift, Taken, bounds, layout_fault,
    map_file,
};
use crate::matching::{Installation, LayoutError, MatchError};
use crate::quantity::UnitSystem;
use crate::report::words::match_error;

/// A build that was read without fault.
pub(super) struct Loaded {
    /// What is meant.
    pub installation: Installation,
    /// The name to report.
    pub name: String,
    /// What the build does not give and was taken all the same.
    pub defaults: Vec<Taken>,
    /// The numbers given, or taken by default.
    pub inputs: Vec<Input>,
    /// The reader's units.
    pub system: UnitSystem,
    document: Document,
    overrides: Vec<Override>,
    maps: Maps,
}

impl Loaded {
    /// The same build with inputs moved; `None` where a moved value makes no sense.
    pub fn moved(&self, shifts: &[Shift]) -> Option<Installation> {
        let built_in = is_built_in(&self.document);
        let load = |reference: &MapReference| self.maps.load(reference, built_in);
        input::read_shifted(&self.document, &self.overrides, &load, shifts)
    }

    /// A layout that cannot be solved.
    pub fn fault(&self, fault: &LayoutError) -> Failure {
        Failure::new(format!("{}: {}", self.name, layout_fault(fault)))
    }

    /// A speed that has no match.
    pub fn no_match(&self, rpm: f64, fault: &MatchError) -> Failure {
        let why = match_error(fault).in_units(self.system);
        Failure::new(format!("{}: no match at {rpm:.0} rpm: {why}", self.name))
    }
}

/// Where the reader hears of the defaults that were taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Defaults {
    /// On standard error, each with its line.
    AsRemarks,
    /// In the result itself, which lists them: they are not said twice.
    InTheResult,
}

/// Reads a build, or the built-in demo, with `--set` values and a map for its last turbo compressor
/// laid over it. Faults are the failure; where there are none, remarks are said.
pub(super) fn build(
    path: Option<&Path>,
    common: &Common,
    map: Option<&Path>,
) -> Result<Loaded, Failure> {
    builds(path, common, map, &[]).map(|(loaded, _)| loaded)
}

/// The same for a command that has nothing beside the build.
pub(super) fn alone(
    path: Option<&Path>,
    common: &Common,
    defaults: Defaults,
) -> Result<Loaded, Failure> {
    all(path, common, None, &[], defaults).map(|(loaded, _)| loaded)
}

/// The same, and once more for each line beside it with its own values on top. Faults of all of
/// them come in one run.
pub(super) fn builds(
    path: Option<&Path>,
    common: &Common,
    map: Option<&Path>,
    beside: &[Comparison],
) -> Result<(Loaded, Vec<Installation>), Failure> {
    all(path, common, map, beside, Defaults::AsRemarks)
}

fn all(
    path: Option<&Path>,
    common: &Common,
    map: Option<&Path>,
    beside: &[Comparison],
    defaults: Defaults,
) -> Result<(Loaded, Vec<Installation>), Failure> {
    let document = document(path)?;
    let mut overrides = set::overrides(&common.set)?;
    let system = units(common, &document, &overrides);
    let maps = Maps::default();
    if let Some(map) = map {
        // A file that cannot be used is said by its own name, not as a value of a key.
        maps.file(map)
            .map_err(|notes| Failure::notes(&notes, system))?;
        overrides.push(map_override(&document, map)?);
    }
    let mut own = read_build(&document, &overrides, &maps);
    let Some(installation) = own.installation.take() else {
        return Err(Failure::notes(&own.faults, system));
    };
    say_remarks(&own, defaults, common.verbose, &document.file, system);
    let mut others = Vec::with_capacity(beside.len());
    let mut faults = Vec::new();
    for one in beside {
        let all = [&overrides[..], &one.overrides[..]].concat();
        let outcome = read_build(&document, &all, &maps);
        let new = outcome.remarks.iter().filter(|r| !own.remarks.contains(r));
        let new: Vec<_> = new.map(|remark| one.said(remark, system)).collect();
        say_first(&new, "remarks");
        faults.extend(outcome.faults.iter().map(|fault| one.said(fault, system)));
        others.extend(outcome.installation);
    }
    if !faults.is_empty() {
        return Err(Failure::lines_of(faults));
    }
    let loaded = Loaded {
        installation,
        name: document.file.to_string(),
        defaults: own.defaults,
        inputs: own.inputs,
        system,
        document,
        overrides,
        maps,
    };
    Ok((loaded, others))
}

/// Says the remarks of a build; defaults that were used are counted, or listed where that is asked for.
fn say_remarks(
    own: &input::Outcome,
    defaults: Defaults,
    is_verbose: bool,
    file: &str,
    system: UnitSystem,
) {
    let is_default = |remark: &&Note| {
        let same = |taken: &Taken| taken.place == remark.place && taken.key == remark.key;
        own.defaults.iter().any(same)
    };
    let (used, other): (Vec<&Note>, Vec<&Note>) = own.remarks.iter().partition(is_default);
    let shown = match defaults {
        Defaults::AsRemarks if is_verbose => own.remarks.iter().collect(),
        _ => other,
    };
    let lines: Vec<String> = shown.iter().map(|note| note.in_units(system)).collect();
    say_first(&lines, "remarks");
    if defaults == Defaults::AsRemarks && !is_verbose && !used.is_empty() {
        say(&format!(
            "{file}:1: defaults: {} used for keys that are not set; --verbose lists them",
            used.len()
        ));
    }
}

/// The units of a build's reader: as the command line says, else the build.
pub(super) fn units(common: &Common, document: &Document, overrides: &[Override]) -> UnitSystem {
    let asked = common.units.map(UnitSystem::from);
    let own = || input::reader_units(document, overrides);
    asked.or_else(own).unwrap_or_default()
}

/// Reads a document with its maps.
pub(super) fn read_build(
    document: &Document,
    overrides: &[Override],
    maps: &Maps,
) -> input::Outcome {
    let built_in = is_built_in(document);
    input::read(document, overrides, &|reference| {
        maps.load(reference, built_in)
    })
}

fn is_built_in(document: &Document) -> bool {
    &*document.file == input::DEMO_NAME
}

/// The document of a path, or the built-in demo.
pub(super) fn document(path: Option<&Path>) -> Result<Document, Failure> {
    let Some(path) = path else {
        say(&format!(
            "no build file given: using the {} (invented)",
            input::DEMO_NAME
        ));
        return Ok(Document::from_text(input::DEMO_NAME, input::DEMO));
    };
    if !is_build(path) {
        let text = format!("{}: a build file ends in .toml", path.display());
        return Err(Failure::usage(&text));
    }
    try_document(path).map_err(|note| Failure::notes(&[note], UnitSystem::default()))
}

/// The document of a build's path, or why it cannot be opened.
pub(super) fn try_document(path: &Path) -> Result<Document, Note> {
    let name = path.display().to_string();
    let bytes = read::bounded(path, bounds::BUILD_BYTES)?;
    let mut document = Document::from_bytes(&name, &bytes);
    bounds::hold(&mut document);
    Ok(document)
}

/// Whether a path is a build's.
pub(super) fn is_build(path: &Path) -> bool {
    path.extension()
        .is_some_and(|extension| extension.eq_ignore_ascii_case("toml"))
}

/// The option that stands for the last turbo compressor's map.
fn map_override(document: &Document, map: &Path) -> Result<Override, Failure> {
    let count = input::count_parts(document, "turbo_compressor");
    if count == 0 {
        return Err(Failure::new(format!(
            "{}: air_path: --map needs a turbo_compressor, and this build has none",
            document.file
        )));
    }
    Ok(Override {
        key: format!("turbo_compressor.{count}.map"),
        value: map.display().to_string(),
        beside: None,
    })
}

/// A map file, or everything that is wrong with it.
type ReadMap = Result<Arc<MapFile>, Vec<Note>>;

/// Map files read so far, so that each is read once.
#[derive(Default)]
pub(super) struct Maps {
    read: RefCell<HashMap<PathBuf, ReadMap>>,
}

impl Maps {
    /// The map of a reference. The built-in demo's own map is compiled in.
    fn load(&self, reference: &MapReference, built_in: bool) -> ReadMap {
        let from_file = matches!(reference.place, Place::File(_) | Place::Line(..));
        if built_in && from_file && reference.path == input::STARTER_MAP_NAME {
            return self.kept(Path::new(""), || {
                map_file::read(input::STARTER_MAP_NAME, input::STARTER_MAP.as_bytes())
            });
        }
        self.file(&reference.resolved())
    }

    /// The map of a path.
    pub fn file(&self, path: &Path) -> ReadMap {
        self.kept(path, || {
            let name = path.display().to_string();
            let bytes = read::bounded(path, bounds::MAP_BYTES).map_err(|fault| vec![fault])?;
            map_file::read(&name, &bytes)
        })
    }

    /// What was read under a path, or is read now; the built-in map has none.
    fn kept(&self, path: &Path, read: impl FnOnce() -> Result<MapFile, Vec<Note>>) -> ReadMap {
        if let Some(known) = self.read.borrow().get(path) {
            return known.clone();
        }
        let result = read().map(Arc::new);
        self.read
            .borrow_mut()
            .insert(path.to_owned(), result.clone());
        result
    }
}
