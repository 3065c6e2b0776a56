//! What takes the heat of a charge cooler.

/// The side of a charge cooler that takes the heat.
#[derive(Debug, Clone, PartialEq)]
pub struct Sink {
    /// Air or water.
    pub fluid: SinkFluid,
    /// Temperature where it enters the cooler, K; of a water circuit with a tank, where a run starts.
    pub temperature: f64,
    /// The circuit that the water runs in, where it is more than an endless supply.
    pub circuit: Option<WaterCircuit>,
}

impl Sink {
    /// Air of a temperature in K, of a flow that is not told.
    pub const fn air(temperature: f64) -> Self {
        Self {
            fluid: SinkFluid::Air,
            temperature,
            circuit: None,
        }
    }
}

/// Air or water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SinkFluid {
    /// The air outside.
    Air,
    /// Water, or water with something against frost.
    Water,
}

/// A closed water circuit: what it stores and what it gives away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterCircuit {
    /// Water in tank and pipes, m³.
    pub tank_volume: f64,
    /// Ice in the tank where a run starts, kg.
    pub ice_mass: f64,
    /// Heat that its own radiator gives to the air outside per kelvin of water above air, W/K; 0
    /// without one.
    pub radiator_conductance: f64,
}
