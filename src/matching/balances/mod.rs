//! Solving all balances that are not held. [`newton`] does it from a near trial, letting bypasses open
//! and shut as they must ([`bypass_state`]); where that fails, [`cold_start`] finds the flow first.

mod bypass_state;
mod cold_start;
mod free_variables;
mod newton;

pub(super) use cold_start::{solve, solve_cold};
pub(super) use free_variables::FreeVariables;
pub(super) use newton::{LOOSE, TIGHT, solve_near};
