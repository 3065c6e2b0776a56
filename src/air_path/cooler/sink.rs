//! What takes the heat of a charge cooler.

use super::driven_flow::FanCurve;
use super::fluid::Fluid;
use crate::air_path::RatedDrop;
use crate::gas::{Gas, GasError};
use crate::numeric::Schedule;

/// Water comes back from its own radiator about this much above the air, K, for the properties
/// that a core's surface sees (common practice).
const ABOVE_AIR: f64 = 20.0;

/// The side of a charge cooler that takes the heat.
#[derive(Debug, Clone, PartialEq)]
pub struct Sink {
    /// Air or water.
    pub fluid: SinkFluid,
    /// Temperature where it enters the cooler, K; of a water circuit with a tank, where a run
    /// starts; with a radiator, of the air that enters the radiator.
    pub temperature: f64,
    /// Absolute pressure that it stands under, Pa.
    pub pressure: f64,
    /// How its flow is known.
    pub flow: SinkFlow,
    /// Multiplies the flow; 1 unless a study asks for more.
    pub flow_factor: f64,
    /// Its pressure drop where the core's geometry does not say: Δp = K m²/ρ at its inlet.
    pub pressure_drop: Option<RatedDrop>,
    /// The circuit that the water runs in, where it is more than an endless supply.
    pub circuit: Option<WaterCircuit>,
}

/// How the flow of a sink is known.
#[derive(Debug, Clone, PartialEq)]
pub enum SinkFlow {
    /// It is not.
    Unknown,
    /// Mass flow, kg/s, over engine speed in rpm.
    Given(Schedule),
    /// From the vehicle's speed: the flow at which the drop is a share of the dynamic pressure.
    Ram {
        /// Speed of the vehicle, m/s, over engine speed in rpm.
        speed: Schedule,
        /// Share of the dynamic pressure that stands across the core.
        pressure_coefficient: f64,
    },
    /// From a fan whose pressure rise meets the drop.
    Fan(FanCurve),
}

impl Sink {
    /// Air of a temperature in K, of a flow that is not told.
    pub const fn air(temperature: f64) -> Self {
        Self {
            fluid: SinkFluid::Air,
            temperature,
            pressure: RatedDrop::RATING_PRESSURE,
            flow: SinkFlow::Unknown,
            flow_factor: 1.0,
            pressure_drop: None,
            circuit: None,
        }
    }

    /// This sink with one mass flow in kg/s at every speed.
    #[must_use]
    pub fn flowing(self, mass_flow: f64) -> Self {
        Self {
            flow: SinkFlow::Given(Schedule::constant(mass_flow)),
            ..self
        }
    }

    /// Its properties where it enters. `gas` is the air outside.
    pub(super) fn properties(&self, gas: &Gas) -> Result<Fluid, GasError> {
        match self.fluid {
            SinkFluid::Air => Fluid::air(gas, self.pressure, self.temperature),
            SinkFluid::Water if self.radiator() > 0.0 => {
                Ok(Fluid::water(self.temperature + ABOVE_AIR))
            }
            SinkFluid::Water => Ok(Fluid::water(self.temperature)),
        }
    }

    /// Conductance of the circuit's own radiator, W/K; 0 without one.
    pub(super) fn radiator(&self) -> f64 {
        self.circuit.map_or(0.0, |it| it.radiator_conductance)
    }
}

/// Air or water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SinkFluid {
    /// The air outside.
    Air,
    /// Water; what is mixed in against frost is not counted.
    Water,
}

/// A closed water circuit: what it stores and what it gives away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterCircuit {
    /// Water in tank and pipes, m³.
    pub tank_volume: f64,
    /// Ice in the tank where a run starts, kg.
    pub ice_mass: f64,
    /// Heat that its own radiator gives to the air outside per kelvin of the water that enters it
    /// above that air, W/K; 0 without one. A steady match takes the water as warm as the radiator
    /// needs it.
    pub radiator_conductance: f64,
    /// Absolute pressure in the circuit, Pa: where the water boils.
    pub pressure: f64,
}

/// The sink at one engine speed, before any charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SinkSide {
    /// Temperature where it enters (of the radiator's air where there is one), K.
    pub temperature: f64,
    /// Mass flow, kg/s, and capacity flow, W/K, where known.
    pub flow: Option<(f64, f64)>,
    /// Pressure drop, Pa, where known.
    pub pressure_drop: Option<f64>,
    /// Enthalpy of the charge's gas at that temperature, J/kg.
    pub(super) enthalpy: f64,
    /// Conductance of this side of a core or a rated point, W/K; 0 of a given effectiveness.
    pub(super) conductance: f64,
    /// Reynolds number of a core on this side; 0 where there is no core.
    pub(super) reynolds: f64,
}
