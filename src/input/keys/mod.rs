//! What a build may say: one row a key.
//!
//! A row holds how the key is written, the range that the equations bear, the range that is built,
//! what holds without it and from where, and one sentence about it. Reading, faults and their
//! suggestions, `--set`, the inputs of sensitivities, what is judged unlikely, `airpath keys`,
//! `airpath explain` and the schema for editors all come from here. What keys are to each other
//! stands in [`relations`].

pub(super) mod air_path;
pub(super) mod cooler;
mod describe;
pub(super) mod engine;
pub(super) mod exhaust;
pub(super) mod file;
pub(super) mod fuel;
pub(super) mod limits;
pub(super) mod relations;
pub(super) mod row;
mod schema;
pub(super) mod site;
pub(super) mod spec;
pub(super) mod supercharger;

pub use describe::{KeyDescription, SectionDescription, sections};
use row::Section;
pub use schema::schema;

/// Every section of a build. Sizes of the engine come before what is held to them: a key that cannot
/// be is no measure for those after it.
pub(super) static SECTIONS: [&Section; 20] = [
    &file::FILE,
    &site::SITE,
    &engine::ENGINE,
    &engine::ENGINE_RPM,
    &engine::ENGINE_COMBUSTION,
    &engine::ENGINE_FRICTION,
    &engine::ENGINE_HEAD,
    &fuel::FUEL,
    &air_path::FILTER,
    &air_path::DUCT,
    &air_path::THROTTLE,
    &supercharger::SUPERCHARGER,
    &air_path::TURBO_COMPRESSOR,
    &cooler::COOLER,
    &cooler::COOLER_RATED,
    &cooler::COOLER_CORE,
    &exhaust::TURBINE,
    &exhaust::TURBINE_WASTEGATE,
    &exhaust::EXHAUST,
    &limits::LIMITS,
];

/// The section of a dotted path without numbers.
pub(super) fn section(path: &str) -> Option<&'static Section> {
    SECTIONS.into_iter().find(|section| section.path == path)
}

#[cfg(test)]
mod tests;
