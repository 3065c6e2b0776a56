//! The charge cooler: from the charge's state and flow, and the sink's, to what leaves it. SI; total
//! states, absolute pressures.
//!
//! Effectiveness–NTU (Kays and London): UA from a rated point or from the core's geometry, both
//! capacity flows, ε(NTU) of the arrangement. The charge's heat capacity is its mean from the inlet
//! down to the sink, (h_in − h_sink)/(T_in − T_sink), so that an endless cooler ends exactly at the
//! sink; the sink's is that where it enters. Heat is m (h_in − h_out), exactly. Water that condenses
//! is left out.

mod change;
mod core;
mod draught;
mod effectiveness;
mod fluid;
mod rated;
mod sides;
mod sink;
mod work;

pub use self::core::{Core, CoreError, CoreSizes, Correlated, Fin, FinKind, OutOfRange, Passage};
pub use draught::{FanCurve, FanError};
pub use effectiveness::{Arrangement, Side};
pub use fluid::Fluid;
pub(super) use fluid::air_viscosity;
pub use rated::{Rated, RatedError, RatedFigure, RatedPoint, SideConductance};
pub use sink::{Sink, SinkFlow, SinkFluid, SinkSide, WaterCircuit};

use super::{AirState, RatedDrop};
use crate::gas::{Gas, GasError};
use crate::numeric::Schedule;
use effectiveness::Capacities;
use work::{NO_SPAN, mean_capacity};

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

    /// What the cooler does with a charge of a state and a mass flow in kg/s at an engine speed in
    /// rpm. The charge's gas is that of the air outside.
    pub fn cool(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        rpm: f64,
    ) -> Result<Cooled, GasError> {
        self.cool_against(gas, inlet, mass_flow, rpm, &self.sink_side(gas, rpm)?)
    }

    /// The sink at an engine speed in rpm: the same for every charge.
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
                Some(draught::meeting(1.0, driven, drop))
            }
            SinkFlow::Fan(fan) => {
                let driven = |flow: f64| fan.rise(flow / fluid.density);
                Some(draught::meeting(1.0, driven, drop))
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

    /// The exchanger that a given effectiveness needs, where the sink's flow is known; `None` also
    /// where none of any size would do.
    pub fn exchanger_needed(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        cooled: &Cooled,
        sink: &SinkSide,
    ) -> Option<Exchanger> {
        let (sink_flow, sink_capacity) = sink.flow.filter(|flow| flow.1 > 0.0)?;
        let span = inlet.temperature - cooled.sink_temperature;
        let heat = mass_flow * (inlet.enthalpy - cooled.outlet.enthalpy);
        let charge = mass_flow * mean_capacity(gas, inlet, cooled.sink_temperature).ok()?;
        let flows = Capacities::new(charge, sink_capacity);
        if span.abs() < NO_SPAN {
            return None;
        }
        let heat_effectiveness = heat / (flows.smaller * span);
        let arrangement = self.arrangement();
        let units = arrangement.transfer_units(heat_effectiveness, flows.ratio, flows.side)?;
        Some(Exchanger {
            conductance: units * flows.smaller,
            transfer_units: units,
            capacity_ratio: flows.ratio,
            sink_over_charge: sink_capacity / charge,
            heat_effectiveness,
            sink_flow,
            sink_outlet_temperature: cooled.sink_temperature + heat / sink_capacity,
            sink_pressure_drop: sink.pressure_drop,
            reynolds: None,
        })
    }

    /// Most effectiveness of the charge side that the two flows allow, an endless exchanger in
    /// counterflow; `None` where the sink's flow is not known.
    pub fn flow_limit(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        cooled: &Cooled,
        sink: &SinkSide,
    ) -> Option<f64> {
        let (_, sink_capacity) = sink.flow?;
        let charge = mass_flow * mean_capacity(gas, inlet, cooled.sink_temperature).ok()?;
        Some(Capacities::new(charge, sink_capacity).charge_limit())
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
