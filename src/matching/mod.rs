//! The installation as meant, its balances and their solution. SI, absolute pressures; knows
//! nothing of files or units.
//!
//! The way of a match: [`Solver::new`] counts the [`variables`] of a layout ([`setup`]); a [`walk`] goes from
//! the air outside to the exhaust pipe with given values and notes what is left of each balance;
//! [`settle`] solves all balances that are not held; [`climb`] goes from rest to the first stable
//! power balance or the boost limit; [`fill`] writes the result out as a [`Match`].

mod climb;
mod error;
mod fill;
mod fill_engine;
mod installation;
mod layout;
mod outcome;
mod record;
mod settle;
mod setup;
mod solver;
mod variables;
mod variants;
mod walk;

pub use error::{LayoutError, MatchError};
pub use installation::Installation;
pub use layout::{ExhaustSide, Layout, Station, StationPlace};
pub use outcome::{
    BypassState, CoolerState, Drive, EnergyList, EngineState, FuelState, GateState, Match,
    OtherBalance, Residuals, StageState, StationState, TurbineState,
};
pub use solver::{Neighbour, PowerPoint, Solver};
pub use variants::PulleyBoost;
