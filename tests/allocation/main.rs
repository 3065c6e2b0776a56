//! What the solver calls a thousand times allocates nothing.

// A helper of a test may stop at the first surprise, as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "../support/counting.rs"]
mod counting;
#[path = "../support/installations.rs"]
mod installations;
#[path = "../support/recipe.rs"]
mod recipe;

mod map_allocation;
mod solve_allocation;
