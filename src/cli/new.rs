//! `new`: a commented starter build and its invented map beside it.

use std::path::Path;

use super::failure::Failure;
use super::options::NewOptions;
use super::{Done, say, write, wrong_arguments};
use crate::input;

/// Writes both files, or neither.
pub(super) fn run(options: &NewOptions) -> Result<Done, Failure> {
    let path = &options.path;
    if path.extension().is_none_or(|extension| extension != "toml") {
        return Err(wrong_arguments(
            "new wants the name of a build file, as in: airpath new truck.toml",
        ));
    }
    let Some(stem) = path.file_stem().and_then(|stem| stem.to_str()) else {
        return Err(wrong_arguments("new wants a name that is plain text"));
    };
    // Named after the build, so that a second build can stand beside it.
    let map_name = format!("{stem}_map.csv");
    let map = path.with_file_name(&map_name);
    for file in [path.as_path(), map.as_path()] {
        if file.exists() {
            let text = format!(
                "{}: exists already and is left alone; choose another name",
                file.display()
            );
            return Err(Failure::new(text));
        }
    }
    write::create(&map, input::STARTER_MAP)?;
    if let Err(failure) = write::create(path, &input::starter(&map_name, options.units.into())) {
        let _ = std::fs::remove_file(&map);
        return Err(failure);
    }
    for file in [path.as_path(), map.as_path()] {
        say(&format!("wrote {}", file.display()));
    }
    Ok(Done {
        text: next_step(path),
        strict_failure: false,
    })
}

fn next_step(path: &Path) -> String {
    format!(
        "Change what is yours in it, then: airpath line {}\n",
        path.display()
    )
}
