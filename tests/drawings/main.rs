//! Drawings: their structure, and that hostile data draws nothing wrong.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo_map;
mod drawings_data;
#[path = "../support/map_files.rs"]
mod map_files;
#[path = "../support/recipe.rs"]
mod recipe;
mod svg_check;

mod islands;
mod structure;
