//! The charge cooler: from the charge's state and flow, and the sink's, to what leaves it. SI; total
//! states, absolute pressures.

mod effectiveness;
mod sink;

pub use effectiveness::{Arrangement, Side};
pub use sink::{Sink, SinkFluid, WaterCircuit};

use super::{AirState, RatedDrop};
use crate::gas::{Gas, GasError};
use crate::numeric::Schedule;

/// A charge cooler.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooler {
    /// How well it passes heat.
    pub exchange: Exchange,
    /// Pressure drop of the charge side.
    pub pressure_drop: RatedDrop,
    /// What takes the heat.
    pub sink: Sink,
    /// Heat capacity of the core's metal, J/K, where known.
    pub metal: Option<f64>,
}

/// How well a cooler passes heat.
#[derive(Debug, Clone, PartialEq)]
pub enum Exchange {
    /// (T_in − T_out)/(T_in − T_sink) of the charge, 0 to 1, over engine speed in rpm.
    Fixed(Schedule),
}

/// What a cooler does with the charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooled {
    /// State of the charge behind it.
    pub outlet: AirState,
    /// (T_in − T_out)/(T_in − T_sink) of the charge.
    pub effectiveness: f64,
    /// Temperature of the sink where it enters, K.
    pub sink_temperature: f64,
    /// The exchanger behind the effectiveness, where both flows are known.
    pub exchanger: Option<Exchanger>,
}

/// A heat exchanger at work, both flows known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchanger {
    /// UA, W/K.
    pub conductance: f64,
    /// UA over the smaller capacity flow.
    pub transfer_units: f64,
    /// Smaller over larger capacity flow, 0 to 1.
    pub capacity_ratio: f64,
    /// Heat over the most that the smaller capacity flow could take, 0 to 1.
    pub heat_effectiveness: f64,
    /// Mass flow of the sink, kg/s.
    pub sink_flow: f64,
    /// Temperature of the sink where it leaves, K.
    pub sink_outlet_temperature: f64,
    /// Pressure drop of the sink, Pa, where known.
    pub sink_pressure_drop: Option<f64>,
}

impl Cooler {
    /// A cooler of one effectiveness of its charge side over engine speed in rpm, with air of a
    /// temperature in K to take the heat.
    pub const fn fixed(
        effectiveness: Schedule,
        pressure_drop: RatedDrop,
        sink_temperature: f64,
    ) -> Self {
        Self {
            exchange: Exchange::Fixed(effectiveness),
            pressure_drop,
            sink: Sink::air(sink_temperature),
            metal: None,
        }
    }

    /// What the cooler does with a charge of a state and a mass flow in kg/s at an engine speed in
    /// rpm.
    pub fn cool(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        rpm: f64,
    ) -> Result<Cooled, GasError> {
        let Exchange::Fixed(effectiveness) = &self.exchange;
        let effectiveness = effectiveness.at(rpm);
        let sink_temperature = self.sink.temperature;
        let density = inlet.density(gas);
        let pressure = inlet.pressure - self.pressure_drop.pressure_drop(mass_flow, density);
        let temperature =
            inlet.temperature - effectiveness * (inlet.temperature - sink_temperature);
        Ok(Cooled {
            outlet: AirState::new(gas, pressure, temperature)?,
            effectiveness,
            sink_temperature,
            exchanger: None,
        })
    }
}
