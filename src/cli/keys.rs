//! `keys`: what may be said in a build.

use super::done::Done;
use super::failure::Failure;
use super::options::{KeysForm, KeysOptions};
use crate::input::{self, SectionDescription};
use crate::report::{keys_json, keys_text};

/// Prints the tables of all sections, or of one.
pub(super) fn run(options: &KeysOptions) -> Result<Done, Failure> {
    let text = match options.format {
        KeysForm::Schema if options.section.is_some() => {
            return Err(Failure::usage(
                "--format schema describes the whole file: leave SECTION out",
            ));
        }
        KeysForm::Schema => format!("{:#}\n", input::schema()),
        KeysForm::Json => format!("{:#}\n", keys_json(&asked(options)?)),
        KeysForm::Text => keys_text(&asked(options)?),
    };
    Ok(text.into())
}

/// The sections that were asked for: one with those within it, all parts, or all.
fn asked(options: &KeysOptions) -> Result<Vec<SectionDescription>, Failure> {
    let all = input::sections(options.units.into());
    let Some(wanted) = &options.section else {
        return Ok(all);
    };
    let wanted = wanted.trim_matches(['[', ']']).to_lowercase();
    let within = |path: &str| {
        let rest = path.strip_prefix(wanted.as_str());
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    let names: Vec<&str> = all.iter().map(|section| section.path).collect();
    let found: Vec<SectionDescription> = all
        .iter()
        .filter(|section| match wanted.as_str() {
            "air_path" => input::is_part(section.path),
            "file" => section.path.is_empty(),
            _ => within(section.path),
        })
        .cloned()
        .collect();
    if found.is_empty() {
        let known: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
        let text = format!(
            "there is no section {wanted}; choose from file, air_path, {}",
            known.join(", ")
        );
        return Err(Failure::usage(&text));
    }
    Ok(found)
}
