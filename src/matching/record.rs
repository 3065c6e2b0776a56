//! What one evaluation of the installation found. Reused from one to the next, so that nothing is
//! allocated after the first.

use crate::air_path::{AirState, Cooled};
use crate::engine::{Burnt, Charge, Evaporated};

/// What an evaluation found.
#[derive(Debug, Clone, Default)]
pub(super) struct Record {
    /// Flow into the engine, kg/s.
    pub flow: f64,
    /// State behind each part.
    pub behind: Vec<AirState>,
    /// Stages in flow order.
    pub stages: Vec<StageRecord>,
    /// Charge coolers in flow order.
    pub cooled: Vec<Cooled>,
    /// The manifold.
    pub manifold: Option<AirState>,
    /// Fuel that evaporated ahead of it.
    pub evaporated: Option<Evaporated>,
    /// Temperature ahead of it without evaporating fuel, K.
    pub before_fuel: f64,
    /// Volumetric efficiency as it acts.
    pub volumetric_efficiency: f64,
    /// The fuel.
    pub charge: Option<Charge>,
    /// What was burned.
    pub burnt: Option<Burnt>,
    /// The air–fuel ratio, and the smallest that would do, of the last charge that left soot.
    pub soot: Option<(f64, f64)>,
    /// Turbines in exhaust order.
    pub turbines: Vec<TurbineRecord>,
    /// Pressure, Pa, enthalpy, J/kg, and temperature, K, behind the last turbine or the engine.
    pub outlet: Option<(f64, f64, f64)>,
}

/// What an evaluation found of a stage.
#[derive(Debug, Clone, Copy)]
pub(super) struct StageRecord {
    /// State ahead of it (and of a return's junction).
    pub inlet: AirState,
    /// State behind it.
    pub outlet: AirState,
    /// The stage's own flow, kg/s.
    pub own_flow: f64,
    /// Power given to the air, W.
    pub power: f64,
    /// Shaft power, W.
    pub shaft_power: Option<f64>,
    /// Crank power, W.
    pub crank_power: Option<f64>,
    /// Shaft speed, rpm.
    pub speed: Option<f64>,
    /// Corrected flow, kg/s.
    pub corrected_flow: Option<f64>,
    /// Corrected speed, rpm.
    pub corrected_speed: Option<f64>,
}

/// What an evaluation found of a turbine.
#[derive(Debug, Clone, Copy)]
pub(super) struct TurbineRecord {
    /// Inlet pressure, Pa.
    pub inlet_pressure: f64,
    /// Inlet temperature, K.
    pub inlet_temperature: f64,
    /// Inlet enthalpy, J/kg.
    pub inlet_enthalpy: f64,
    /// Outlet pressure, Pa.
    pub outlet_pressure: f64,
    /// Enthalpy behind it after mixing with the gate's flow, J/kg.
    pub outlet_enthalpy: f64,
    /// Temperature behind it after mixing, K.
    pub outlet_temperature: f64,
    /// Flow through the wheel, kg/s.
    pub flow: f64,
    /// Share through the gate.
    pub share: f64,
    /// Efficiency, total to static.
    pub efficiency: f64,
    /// Power of the wheel, W.
    pub power: f64,
    /// Power at the compressor's end of the shaft less the compressor's own, W.
    pub excess: f64,
    /// Whether it is choked.
    pub choked: bool,
}

impl Record {
    /// Empties the record for the next evaluation.
    pub fn clear(&mut self) {
        self.behind.clear();
        self.stages.clear();
        self.cooled.clear();
        self.turbines.clear();
        self.manifold = None;
        self.evaporated = None;
        self.charge = None;
        // What was burned stays: its products serve again where the ratio is the same.
        self.outlet = None;
    }
}
