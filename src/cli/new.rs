//! `new`: a commented starter build, and beside it its invented map and a schema for editors.

use std::path::Path;

use super::done::Done;
use super::failure::Failure;
use super::options::NewOptions;
use super::{say, write};
use crate::input;

/// Writes all files, or none.
pub(super) fn run(options: &NewOptions) -> Result<Done, Failure> {
    let path = &options.path;
    if path.extension().is_none_or(|extension| extension != "toml") {
        return Err(Failure::usage(
            "new: expected the name of a build file, as in: airpath new truck.toml",
        ));
    }
    let Some(stem) = path.file_stem().and_then(|stem| stem.to_str()) else {
        return Err(Failure::usage("new: expected a name that is plain text"));
    };
    // Named after the build, so that a second build can stand beside it.
    let map_name = format!("{stem}_map.csv");
    let schema_name = format!("{stem}.schema.json");
    let starter = input::starter(&map_name, &schema_name, options.units.into());
    let files = [
        (
            path.with_file_name(&map_name),
            input::STARTER_MAP.to_owned(),
        ),
        (
            path.with_file_name(&schema_name),
            format!("{}\n", input::schema()),
        ),
        (path.clone(), starter),
    ];
    for (file, _) in &files {
        if file.exists() {
            let text = format!(
                "{}: already exists and was not overwritten; choose another name",
                file.display()
            );
            return Err(Failure::new(text));
        }
    }
    for (number, (file, text)) in files.iter().enumerate() {
        if let Err(failure) = write::create(file, text) {
            for (written, _) in &files[..number] {
                let _ = std::fs::remove_file(written);
            }
            return Err(failure);
        }
    }
    for (file, _) in files.iter().rev() {
        say(&format!("wrote {}", file.display()));
    }
    Ok(next_step(path).into())
}

fn next_step(path: &Path) -> String {
    format!(
        "Edit it for your engine, then run: airpath line {}\n",
        path.display()
    )
}
