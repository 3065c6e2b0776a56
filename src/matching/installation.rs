//! The whole as meant: nothing optional that the physics of its layout needs.

use crate::air_path::{CompressorPerformance, Part};
use crate::engine::{Engine, Fuel};
use crate::exhaust::{ExhaustPipe, Turbine, TurbineEfficiency};
use crate::finding::Limits;
use crate::numeric::Schedule;
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

impl Installation {
    /// The same without turbochargers at work: their wheels give nothing, so that their compressors
    /// rest at a pressure ratio of 1, and the turbines stay in the way of the exhaust. `None`
    /// without a driven turbocharger or without a belt-driven supercharger.
    pub fn supercharger_alone(&self) -> Option<Self> {
        if self.turbines.is_empty() || !self.air_path.iter().any(is_belt_driven) {
            return None;
        }
        let mut alone = self.clone();
        for part in &mut alone.air_path {
            if let Part::TurboCompressor(turbo) = part {
                turbo.performance = CompressorPerformance::Efficiency(Schedule::constant(1.0));
            }
        }
        for turbine in &mut alone.turbines {
            turbine.efficiency = TurbineEfficiency::Figure(0.0);
            turbine.wastegate = None;
        }
        Some(alone)
    }

    /// The same with the rotors taken out. `None` as for [`Installation::supercharger_alone`].
    pub fn turbo_alone(&self) -> Option<Self> {
        if self.turbines.is_empty() || !self.air_path.iter().any(is_belt_driven) {
            return None;
        }
        let mut alone = self.clone();
        alone.air_path.retain(|part| !is_belt_driven(part));
        Some(alone)
    }
}

fn is_belt_driven(part: &Part) -> bool {
    matches!(part, Part::Supercharger(stage) if stage.belt().is_some())
}
