//! The installation as meant, its balances and their solution. SI, absolute pressures; knows
//! nothing of files or units.
//!
//! The way of a match, each step knowing only those before it: [`setup`] counts the [`variables`] of a
//! layout; [`evaluate`] goes from the air outside to the exhaust pipe with given values of them and
//! notes what is left of each balance; [`balances`] solves all that are not held; [`equilibrium`] finds
//! where the power balances of the turbos' shafts are met too, from rest or from a neighbouring match;
//! [`to_match`] writes the result out as a [`Match`]; [`Solver`] is the face of it all.

mod balances;
mod equations;
mod equilibrium;
mod error;
mod evaluate;
mod installation;
mod layout;
mod limits;
mod neighbour;
mod outcome;
mod record;
mod setup;
mod solver;
mod to_match;
mod to_match_engine;
mod variables;
mod variants;

pub use equilibrium::PowerPoint;
pub use error::{LayoutError, MatchError};
pub use installation::Installation;
pub use layout::{ExhaustSide, Layout, Station, StationPlace};
pub use limits::Limits;
pub use neighbour::Neighbour;
pub use outcome::{
    BypassState, CoolerState, Drive, EnergyList, EngineState, FuelState, GateState, Match,
    OtherBalance, Residuals, StageState, StationState, TurbineState,
};
pub use solver::Solver;
pub use variants::PulleyBoost;
