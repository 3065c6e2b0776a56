//! Files of the user's: read whole, within a bound, and only where they are files. A pipe or a
//! device may never end, so that neither is waited for; `/dev/stdin` is read where a file is behind
//! it.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::input::{Note, Place, bounds};

/// Most map files of a folder.
const MOST_MAPS: usize = 1000;

/// The bytes of a file of at most so many bytes, or why they are not to be had.
pub(super) fn bounded(path: &Path, most: u64) -> Result<Vec<u8>, Note> {
    let name = path.display().to_string();
    let unreadable = |fault: io::Error| Note::unreadable(&name, &fault);
    let about = fs::metadata(path).map_err(unreadable)?;
    if !about.is_file() && !about.is_dir() {
        let text = "this is a pipe or a device: save its output to a file and name that file";
        return Err(Note::new(Place::File(name.as_str().into()), "", text));
    }
    if let Some(fault) = bounds::too_large(&name, about.len(), most) {
        return Err(fault);
    }
    // It may have grown since, and some files do not tell their size.
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    let faults = bounds::too_large(&name, bytes.len() as u64, most)
        .or_else(|| bounds::too_many_lines(&name, &bytes));
    faults.map_or(Ok(bytes), Err)
}

/// The map files of a folder, in the order of their names.
pub(super) fn maps_in(folder: &Path) -> Result<Vec<PathBuf>, Note> {
    let name = folder.display().to_string();
    let refused = |text: String| Note::new(Place::File(name.as_str().into()), "", text);
    let entries = fs::read_dir(folder).map_err(|fault| Note::unreadable(&name, &fault))?;
    let mut maps: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension.eq_ignore_ascii_case("csv"))
        })
        .collect();
    match maps.len() {
        0 => Err(refused("the folder holds no map file (.csv)".to_owned())),
        1..=MOST_MAPS => {
            maps.sort();
            Ok(maps)
        }
        count => Err(refused(format!(
            "the folder holds {count} map files; the limit is {MOST_MAPS}: name a folder with fewer"
        ))),
    }
}
