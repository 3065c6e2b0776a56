//! What a given effectiveness asks of the exchanger, and how much of it the two flows allow.

use super::charge_cooler::{Cooled, Cooler, Exchanger};
use super::cooling::{NO_SPAN, mean_capacity};
use super::effectiveness::Capacities;
use super::sink::SinkSide;
use crate::air_path::AirState;
use crate::gas::Gas;

impl Cooler {
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
}
