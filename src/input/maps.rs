//! Maps that a build names: asked for by path, handed in loaded.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::fault::{Note, Place};
use super::map_file::{MapContent, MapFile};
use super::reader::Reader;
use crate::map::{CompressorMap, SuperchargerMap, TurbineMap};

/// A map named by a build or an option.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MapReference {
    /// The path as written.
    pub path: String,
    /// Where it was written.
    pub place: Place,
}

impl MapReference {
    /// The path to open: a path in a file counts from that file's folder, one of the command line
    /// from the current folder.
    pub fn resolved(&self) -> PathBuf {
        match &self.place {
            Place::File(file) | Place::Line(file, _) => {
                let folder = Path::new(&**file).parent().unwrap_or(Path::new(""));
                folder.join(&self.path)
            }
            Place::Set(..) | Place::Beside(..) => PathBuf::from(&self.path),
        }
    }
}

/// Gives the loaded map of a reference, or what is wrong with its file.
pub type MapLoader<'l> = dyn Fn(&MapReference) -> Result<Arc<MapFile>, Vec<Note>> + 'l;

/// The maps of one build.
pub(super) struct Maps<'l> {
    load: &'l MapLoader<'l>,
}

impl<'l> Maps<'l> {
    pub(super) const fn new(load: &'l MapLoader<'l>) -> Self {
        Self { load }
    }

    /// The compressor map of a key.
    pub(super) fn compressor(
        &self,
        reader: &Reader<'_>,
        key: &'static str,
    ) -> Option<Arc<CompressorMap>> {
        let file = self.file(reader, key)?;
        match &file.content {
            MapContent::Compressor(map) => Some(Arc::clone(map)),
            other => wrong_kind(reader, key, &file, "compressor map", other),
        }
    }

    /// The supercharger map of a key.
    pub(super) fn supercharger(
        &self,
        reader: &Reader<'_>,
        key: &'static str,
    ) -> Option<Arc<SuperchargerMap>> {
        let file = self.file(reader, key)?;
        match &file.content {
            MapContent::Supercharger(map) => Some(Arc::clone(map)),
            other => wrong_kind(reader, key, &file, "supercharger map", other),
        }
    }

    /// The turbine map of a key.
    pub(super) fn turbine(
        &self,
        reader: &Reader<'_>,
        key: &'static str,
    ) -> Option<Arc<TurbineMap>> {
        let file = self.file(reader, key)?;
        match &file.content {
            MapContent::Turbine(map) => Some(Arc::clone(map)),
            other => wrong_kind(reader, key, &file, "turbine map", other),
        }
    }

    fn file(&self, reader: &Reader<'_>, key: &'static str) -> Option<Arc<MapFile>> {
        let path = reader.text(key)?;
        if path.trim().is_empty() {
            reader.fault(
                key,
                "is empty: write the path of a map file, for example \"maps/compressor.csv\"",
            );
            return None;
        }
        let reference = MapReference {
            path: path.to_owned(),
            place: reader.place_of(key),
        };
        match (self.load)(&reference) {
            Ok(file) => {
                reader.context().add(Vec::new(), &file.remarks);
                Some(file)
            }
            Err(faults) => {
                for fault in faults {
                    // A file that is not there is a fault of the key that names it.
                    if let Place::File(file) = &fault.place {
                        reader.fault(key, format!("{file}: {}", fault.text));
                    } else {
                        reader.context().add(vec![fault], &[]);
                    }
                }
                None
            }
        }
    }
}

fn wrong_kind<T>(
    reader: &Reader<'_>,
    key: &str,
    file: &MapFile,
    wanted: &str,
    found: &MapContent,
) -> Option<T> {
    reader.fault(
        key,
        format!(
            "{} holds a {}; expected a {wanted}",
            file.file,
            found.name()
        ),
    );
    None
}
