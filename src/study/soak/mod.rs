//! Heat soak: how a cooler's core and its water warm over a timed run at full load.
//!
//! The air and the turbos follow in a fraction of a second, metal and water in seconds to minutes:
//! so every moment is a match of its own (quasi-steady), with the charge cooled by the core as warm
//! as it is then, and only metal and water have a past. The core's metal counts as one lump of one
//! temperature ([`network`]):
//!
//! - charge to metal: k_c = C_c (1 − e^(−N_c)), what a wall of one temperature takes from a stream
//!   of capacity flow C_c, with N_c = UA/(φ C_c), φ the charge side's share of the resistance;
//! - metal to sink: k_s follows from the steady state, which must be the match's own: in series with
//!   k_c it passes the heat that the cooler passes when it has settled.
//!
//! Where the sides are not known apart, φ is one half; where only an effectiveness is known, UA is
//! the least that gives it (a sink that does not warm).

mod moment;
mod network;
mod outcome;
mod run;
mod water;

pub use network::{HeatPassed, Network, Stores};
pub use outcome::{SoakError, SoakRequest, SoakRow, SoakRun, Speed, Stop, StopReason};
pub use run::run;
