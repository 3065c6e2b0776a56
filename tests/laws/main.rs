//! What must always hold, whatever the build: balances, identities, order, and what is drawn at random.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

#[path = "../support/coolers.rs"]
mod coolers;
#[path = "../support/installations.rs"]
mod installations;
#[path = "../support/looking.rs"]
mod looking;
#[path = "../support/random_builds.rs"]
mod random_builds;
#[path = "../support/random_coolers.rs"]
mod random_coolers;
#[path = "../support/recipe.rs"]
mod recipe;
#[path = "../support/run.rs"]
mod run;
#[path = "../support/table.rs"]
#[allow(dead_code, reason = "only the rows are read here")]
mod table;

mod absurd_builds;
mod advice;
mod balances;
mod bands;
mod branch;
mod cooler_laws;
mod cooler_study;
mod identities;
mod map_properties;
mod map_sense;
mod match_laws;
mod match_layouts;
mod match_maps;
mod match_random;
mod soak;
