//! The sources and the README hold what they promise.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "../support/file_names.rs"]
mod file_names;
#[path = "../support/file_uses.rs"]
mod file_uses;
#[path = "../support/run.rs"]
mod run;
#[path = "../support/sources.rs"]
mod sources;

mod layers;
mod readme;
