//! One match as plain numbers. A buffer that is filled again and again without allocating.

use super::layout::{Layout, StationPlace};
use super::neighbour::Neighbour;
use crate::air_path::{BeltLoad, Exchanger};
use crate::engine::{CylinderState, Evaporated};

/// One match. SI, absolute pressures. Lists stand in the order of the layout's names.
#[derive(Debug, Clone, Default)]
pub struct Match {
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Flow of moist air into the engine, kg/s.
    pub air_mass_flow: f64,
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Fuel flow, kg/s, where a fuel is given.
    pub fuel_mass_flow: Option<f64>,
    /// Mass of dry air per mass of fuel, where a fuel is given.
    pub air_fuel_ratio: Option<f64>,
    /// Air–fuel ratio over the stoichiometric one, where a fuel is given.
    pub lambda: Option<f64>,
    /// Whether the smallest air–fuel ratio cut the fuel.
    pub at_smoke_limit: bool,
    /// What the fuel does beside burning, where a fuel is given.
    pub fuel: Option<FuelState>,
    /// Stations in flow order.
    pub stations: Vec<StationState>,
    /// Stages in flow order.
    pub stages: Vec<StageState>,
    /// Charge coolers in flow order.
    pub coolers: Vec<CoolerState>,
    /// The engine.
    pub engine: EngineState,
    /// Turbines in exhaust order.
    pub turbines: Vec<TurbineState>,
    /// What is left of the balances.
    pub residuals: Residuals,
    /// The energy list, where the whole of it is known.
    pub energy: Option<EnergyList>,
    /// How often the power balance changes its sign between rest and the end of what was looked
    /// at; 0 where it was not counted (a warm start).
    pub equilibria: usize,
    /// Where it stands, to start others from.
    pub place: Option<Neighbour>,
    /// The other stable balances at this speed, rising in the first turbo's speed; filled by
    /// [`super::Solver::find_others`].
    pub others: Vec<OtherBalance>,
}

impl Match {
    /// The state at a place of the layout that was matched, where it has one.
    pub fn station(&self, layout: &Layout, place: StationPlace) -> Option<&StationState> {
        self.stations.get(layout.station_at(place)?)
    }
}

/// The total state at one station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StationState {
    /// Absolute pressure, Pa.
    pub pressure: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Density, kg/m³.
    pub density: f64,
    /// Sensible enthalpy from 298.15 K, J/kg.
    pub enthalpy: f64,
    /// Mass flow, kg/s.
    pub mass_flow: f64,
}

/// How a stage is driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drive {
    /// Pressure ratio and efficiency given.
    Prescribed,
    /// By the engine's belt.
    Belt,
    /// By a turbine.
    Turbine,
}

/// What the bypass around a supercharger does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BypassState {
    /// There is none.
    None,
    /// Shut.
    Shut,
    /// Open: the pressure ratio is 1, less the flap's drop.
    Open,
    /// Returning air to hold a pressure.
    Holding,
    /// The clutch is out: all air passes around.
    Disengaged,
}

/// One stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageState {
    /// How it is driven.
    pub drive: Drive,
    /// Outlet over inlet pressure.
    pub pressure_ratio: f64,
    /// Isentropic over actual enthalpy rise; absent without compression.
    pub efficiency: Option<f64>,
    /// The stage's own flow, kg/s.
    pub mass_flow: f64,
    /// Temperature behind it, K.
    pub outlet_temperature: f64,
    /// Power given to the air, W.
    pub power_to_air: f64,
    /// Power at its shaft, W, where its mechanics are known.
    pub shaft_power: Option<f64>,
    /// Power taken from the crank, W, for a belt.
    pub crank_power: Option<f64>,
    /// Shaft speed, rpm, where known.
    pub speed: Option<f64>,
    /// Speed of the rotors' tips, m/s, where speed and diameter are known.
    pub tip_speed: Option<f64>,
    /// What its belt bears, where the pulleys are known.
    pub belt: Option<BeltLoad>,
    /// Corrected to the map's reference state, where the stage has a map, kg/s.
    pub corrected_flow: Option<f64>,
    /// Corrected speed, rpm, where the stage has a map and its speed is known.
    pub corrected_speed: Option<f64>,
    /// Its share of the total pressure ratio by logarithm; absent where that is 1.
    pub split_share: Option<f64>,
    /// Share of the flow that passes around it; negative when returned; absent without bypass.
    pub bypass_share: Option<f64>,
    /// What the bypass does.
    pub bypass: BypassState,
}

/// One charge cooler.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolerState {
    /// (T_in − T_out)/(T_in − T_sink).
    pub effectiveness: f64,
    /// Heat taken from the charge, W.
    pub heat: f64,
    /// Pressure drop of the charge, Pa.
    pub pressure_drop: f64,
    /// Density at the outlet over density at the inlet.
    pub density_gain: f64,
    /// Temperature of what takes the heat where it enters, K.
    pub sink_temperature: f64,
    /// Temperature of the charge ahead of it, K.
    pub inlet_temperature: f64,
    /// Temperature of the charge behind it, K.
    pub outlet_temperature: f64,
    /// The exchanger behind the effectiveness, where both flows are known. Of a given effectiveness
    /// the one that it needs; absent where none of any size would do.
    pub exchanger: Option<Exchanger>,
    /// Most effectiveness that the two flows allow, where both are known.
    pub flow_limit: Option<f64>,
    /// Whether it stands on a correlation that nothing outside was found to check against.
    pub unconfirmed: bool,
}

/// Fuel as it is delivered, and as it evaporates ahead of the valves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FuelState {
    /// Mass per cylinder and working cycle, kg, where the cylinders are counted.
    pub per_stroke: Option<f64>,
    /// Volume of that, m³, where the density is known.
    pub volume_per_stroke: Option<f64>,
    /// Share of the time that the injectors stand open, where they are given.
    pub injector_duty: Option<f64>,
    /// What evaporated ahead of the valves, where some is meant to.
    pub evaporated: Option<Evaporated>,
    /// How far the evaporating fuel cooled the charge, K.
    pub charge_cooling: Option<f64>,
}

/// The engine. Powers that hang on unknown things are absent.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EngineState {
    /// Volumetric efficiency on manifold density, as it acts.
    pub volumetric_efficiency: f64,
    /// Gross indicated power, W.
    pub gross_indicated_power: Option<f64>,
    /// Pumping power, W, positive when it helps the crank.
    pub pumping_power: Option<f64>,
    /// Friction power, W.
    pub friction_power: Option<f64>,
    /// What drives the superchargers, W.
    pub drive_power: Option<f64>,
    /// Swept flow, m³/s: a power over it is a mean effective pressure.
    pub swept_flow: f64,
    /// Mean piston speed, m/s; absent without a stroke.
    pub mean_piston_speed: Option<f64>,
    /// Brake power, W.
    pub brake_power: Option<f64>,
    /// Brake torque, N m.
    pub torque: Option<f64>,
    /// Brake specific fuel consumption, kg/J.
    pub specific_consumption: Option<f64>,
    /// Peak cylinder pressure, Pa.
    pub peak_cylinder_pressure: Option<f64>,
    /// Pressures in the cylinder and what they do to the head, each as a spread; absent without a
    /// compression ratio.
    pub cylinder: Option<CylinderState>,
}

/// What the gate around a turbine does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateState {
    /// There is none.
    None,
    /// Shut.
    Shut,
    /// Holding the boost limit.
    Holding,
    /// Open as far as it goes, and the limit is passed.
    WideOpen,
}

/// One turbine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurbineState {
    /// Inlet total over outlet pressure.
    pub expansion_ratio: f64,
    /// Flow through the wheel, kg/s.
    pub mass_flow: f64,
    /// Power of the wheel, W.
    pub power: f64,
    /// Efficiency, total to static.
    pub efficiency: f64,
    /// Share of the exhaust that passes the gate; absent without gate.
    pub wastegate_share: Option<f64>,
    /// What the gate does.
    pub gate: GateState,
    /// Whether the flow is choked.
    pub choked: bool,
}

/// What is left of the balances, relative and positive.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Residuals {
    /// Of the flows, over the flow.
    pub flow: f64,
    /// Of the powers, over the larger of the two.
    pub power: f64,
    /// Of the pressures, over the pressure.
    pub pressure: f64,
}

impl Residuals {
    /// The largest of the three.
    pub fn largest(&self) -> f64 {
        self.flow.max(self.power).max(self.pressure)
    }
}

/// Where the energy goes, W: fuel + air = all the others together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnergyList {
    /// Lower heating value of the fuel.
    pub fuel: f64,
    /// Sensible enthalpy of the air drawn.
    pub air: f64,
    /// Brake power.
    pub brake: f64,
    /// Friction.
    pub friction: f64,
    /// Heat to the walls.
    pub wall_heat: f64,
    /// Heat to the charge coolers.
    pub coolers: f64,
    /// Mechanical, no-load and belt losses of the superchargers.
    pub drives: f64,
    /// Bearings of the turbochargers.
    pub bearings: f64,
    /// Sensible enthalpy of the exhaust after mixing behind the last turbine.
    pub exhaust: f64,
    /// Held back by CO and H2.
    pub unburnt: f64,
}

impl EnergyList {
    /// What is not accounted for, over the fuel's energy.
    pub fn imbalance(&self) -> f64 {
        let out = self.brake
            + self.friction
            + self.wall_heat
            + self.coolers
            + self.drives
            + self.bearings
            + self.exhaust
            + self.unburnt;
        (self.fuel + self.air - out) / self.fuel
    }
}

/// A further stable balance beside the one reported.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherBalance {
    /// Pressure ratio of the first turbine's compressor.
    pub pressure_ratio: f64,
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Air flow, kg/s.
    pub air_mass_flow: f64,
    /// Brake power, W, where it is known.
    pub brake_power: Option<f64>,
    /// What the first turbine's gate does there.
    pub gate: GateState,
}
