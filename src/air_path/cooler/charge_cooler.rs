//! A charge cooler as meant, and its sink at an engine speed.

use super::core::Core;
use super::driven_flow::flow_against_drop;
use super::effectiveness::Arrangement;
use super::rated::Rated;
use super::sink::{Sink, SinkFlow, SinkSide};
use crate::air_path::{AirState, RatedDrop};
use crate::gas::{Gas, GasError};
use crate::numeric::Schedule;

/// A charge cooler.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooler {
    /// How well it passes heat.
    pub exchange: Exchange,
    /// Pressure drop of the charge side; beside a core, what its tanks add.
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
    /// From a rated point.
    Rated(Rated),
    /// From the geometry of its core.
    Core(Box<Core>),
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
    /// The exchanger behind the effectiveness, where UA and both flows are known.
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
    /// Capacity flow of the sink over that of the charge.
    pub sink_over_charge: f64,
    /// Heat over the most that the smaller capacity flow could take, 0 to 1.
    pub heat_effectiveness: f64,
    /// Mass flow of the sink, kg/s.
    pub sink_flow: f64,
    /// Temperature of the sink where it leaves, K.
    pub sink_outlet_temperature: f64,
    /// Pressure drop of the sink, Pa, where known.
    pub sink_pressure_drop: Option<f64>,
    /// Reynolds numbers of charge and sink, where a core's geometry is known.
    pub reynolds: Option<(f64, f64)>,
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

    /// The sink at an engine speed in rpm, whatever the charge.
    pub fn sink_side(&self, gas: &Gas, rpm: f64) -> Result<SinkSide, GasError> {
        let sink = &self.sink;
        let fluid = sink.properties(gas)?;
        let drop = |flow: f64| {
            let rated = sink.pressure_drop.unwrap_or(RatedDrop::NONE);
            self.core().map_or(0.0, |core| core.sink_drop(&fluid, flow))
                + rated.pressure_drop(flow, fluid.density)
        };
        let flow = match &sink.flow {
            SinkFlow::Unknown => None,
            SinkFlow::Given(flow) => Some(flow.at(rpm).max(0.0)),
            SinkFlow::Ram {
                speed,
                pressure_coefficient,
            } => {
                let dynamic = 0.5 * fluid.density * speed.at(rpm).powi(2);
                let driven = |_| pressure_coefficient * dynamic;
                Some(flow_against_drop(1.0, driven, drop))
            }
            SinkFlow::Fan(fan) => {
                let driven = |flow: f64| fan.rise(flow / fluid.density);
                Some(flow_against_drop(1.0, driven, drop))
            }
        };
        let flow = flow.map(|flow| flow * sink.flow_factor);
        let (conductance, reynolds) = match (self.core(), flow) {
            (Some(core), Some(flow)) => core.sink_work(&fluid, flow),
            _ => (self.rated_sink(flow.unwrap_or(0.0)), 0.0),
        };
        let knows_drop = sink.pressure_drop.is_some() || self.core().is_some();
        Ok(SinkSide {
            temperature: sink.temperature,
            enthalpy: gas.enthalpy(sink.temperature)?,
            flow: flow.map(|flow| (flow, flow * fluid.heat_capacity)),
            pressure_drop: flow.filter(|_| knows_drop).map(drop),
            conductance,
            reynolds,
        })
    }

    /// How the two flows pass each other; for a given effectiveness as usual.
    pub fn arrangement(&self) -> Arrangement {
        match &self.exchange {
            Exchange::Fixed(_) => Arrangement::default(),
            Exchange::Rated(rated) => rated.arrangement,
            Exchange::Core(core) => core.sizes().arrangement,
        }
    }

    /// The core, where its geometry is known.
    pub fn core(&self) -> Option<&Core> {
        match &self.exchange {
            Exchange::Core(core) => Some(core),
            _ => None,
        }
    }

    /// hA of a rated point's sink side in W/K at a flow in kg/s; 0 of another cooler.
    fn rated_sink(&self, flow: f64) -> f64 {
        match &self.exchange {
            Exchange::Rated(rated) => rated.sink.at(flow),
            _ => 0.0,
        }
    }
}
