//! Numbers held to something outside the project: standards, reference libraries, textbooks, measured
//! maps, an independent solution of the whole match.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

#[path = "../support/example.rs"]
mod example;
#[path = "../support/run.rs"]
mod run;
#[path = "../support/table.rs"]
mod table;

mod combustion_reference;
mod compression_reference;
mod costs;
mod duct_reference;
mod effectiveness_reference;
mod fluid_reference;
mod gas_reference;
mod map_cases;
mod map_leave_out;
mod match_reference;
mod nozzle_reference;
mod series_examples;
mod site_reference;
