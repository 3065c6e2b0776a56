//! The whole as meant: nothing optional that the physics of its layout needs.

use super::limits::Limits;
use crate::air_path::Part;
use crate::engine::{Engine, Fuel};
use crate::exhaust::{ExhaustPipe, Turbine};
use crate::site::Site;

/// One engine and its air path at one site.
#[derive(Debug, Clone)]
pub struct Installation {
    /// What the build calls itself.
    pub title: String,
    /// Where it runs.
    pub site: Site,
    /// The engine.
    pub engine: Engine,
    /// The fuel, where given.
    pub fuel: Option<Fuel>,
    /// The parts in flow order.
    pub air_path: Vec<Part>,
    /// The turbines in the order in which the exhaust meets them.
    pub turbines: Vec<Turbine>,
    /// The exhaust pipe, where given.
    pub exhaust: Option<ExhaustPipe>,
    /// What must not be passed.
    pub limits: Limits,
}
