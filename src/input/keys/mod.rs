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
mod table;

pub use describe::{KeyDescription, SectionDescription, sections};
pub use schema::schema;
pub(super) use table::{SECTIONS, section};

#[cfg(test)]
mod tests;
