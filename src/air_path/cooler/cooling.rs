//! The cooler at work: the charge's outlet against a sink that is known.

use super::charge_cooler::{Cooled, Cooler, Exchange, Exchanger};
use super::effectiveness::{Arrangement, Capacities};
use super::fluid::Fluid;
use super::sink::SinkSide;
use crate::air_path::AirState;
use crate::gas::{Gas, GasError};

/// Nearer than this to the sink, K, a difference of enthalpies says nothing of their slope.
pub(super) const NO_SPAN: f64 = 0.01;
/// How often the water's temperature is put right where a radiator cools it: each time leaves about
/// a hundredth, what the heat capacity changes with it.
const ROUNDS: usize = 7;

impl Cooler {
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

    /// What the cooler does with a charge against a sink that is known: see [`Self::sink_side`].
    pub fn cool_against(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        rpm: f64,
        sink: &SinkSide,
    ) -> Result<Cooled, GasError> {
        let density = inlet.density(gas);
        let drop = self.pressure_drop.pressure_drop(mass_flow, density);
        match &self.exchange {
            Exchange::Fixed(effectiveness) => {
                let pressure = inlet.pressure - drop;
                let effectiveness = effectiveness.at(rpm);
                self.fixed_outlet(gas, inlet, (mass_flow, pressure), effectiveness, sink)
            }
            Exchange::Rated(rated) => {
                let conductance = rated.conductance_with(mass_flow, sink.conductance);
                let exchange = (conductance, rated.arrangement);
                let (heat, mut cooled) = self.exchange(gas, inlet, mass_flow, sink, exchange)?;
                let guess = cooled.outlet.temperature;
                let outlet = without_heat(gas, inlet, heat / mass_flow, guess)?;
                cooled.outlet = outlet.dropped(drop);
                Ok(cooled.finished(inlet))
            }
            Exchange::Core(core) => {
                let fluid = charge_fluid(gas, inlet, sink.temperature)?;
                let work = core.charge_work(&fluid, mass_flow, sink.conductance);
                let exchange = (work.conductance, core.sizes().arrangement);
                let (heat, mut cooled) = self.exchange(gas, inlet, mass_flow, sink, exchange)?;
                let guess = cooled.outlet.temperature;
                let mut outlet = without_heat(gas, inlet, heat / mass_flow, guess)?;
                // ρ_in/ρ_out by the temperature alone: the drop is small against the pressure.
                let shrunk = outlet.temperature / inlet.temperature;
                outlet.pressure -= drop + core.charge_drop(&work, mass_flow, density, shrunk);
                cooled.outlet = outlet;
                if let Some(exchanger) = &mut cooled.exchanger {
                    exchanger.reynolds = Some((work.reynolds, sink.reynolds));
                }
                Ok(cooled.finished(inlet))
            }
        }
    }

    /// Heat in W of an exchanger of (UA in W/K, arrangement), and what goes with it; the outlet's
    /// temperature is a guess, its pressure the inlet's.
    fn exchange(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        sink: &SinkSide,
        (conductance, arrangement): (f64, Arrangement),
    ) -> Result<(f64, Cooled), GasError> {
        let (sink_flow, sink_capacity) = sink.flow.unwrap_or((0.0, 0.0));
        let warming = self.warming(sink_capacity);
        let mut sink_temperature = sink.temperature;
        let mut at_work = ExchangerAtWork::new(conductance, mass_flow, sink_capacity, arrangement);
        at_work.between(gas, inlet, sink_temperature, sink.enthalpy)?;
        if warming > 0.0 {
            for _ in 0..ROUNDS {
                let whole = inlet.temperature - sink.temperature;
                let heat = at_work.per_kelvin * whole / (1.0 + at_work.per_kelvin * warming);
                sink_temperature = sink.temperature + warming * heat;
                let enthalpy = gas.enthalpy(sink_temperature)?;
                at_work.between(gas, inlet, sink_temperature, enthalpy)?;
            }
        }
        let heat = at_work.per_kelvin * (inlet.temperature - sink_temperature);
        let charge_effectiveness = at_work.per_kelvin / at_work.charge_capacity;
        let guess =
            inlet.temperature - charge_effectiveness * (inlet.temperature - sink_temperature);
        let exchanger = (sink_capacity > 0.0).then_some(Exchanger {
            conductance,
            transfer_units: conductance / at_work.flows.smaller,
            capacity_ratio: at_work.flows.ratio,
            sink_over_charge: sink_capacity / at_work.charge_capacity,
            heat_effectiveness: at_work.per_kelvin / at_work.flows.smaller,
            sink_flow,
            sink_outlet_temperature: sink_temperature + heat / sink_capacity.max(f64::MIN_POSITIVE),
            sink_pressure_drop: sink.pressure_drop,
            reynolds: None,
        });
        let outlet = AirState {
            temperature: guess,
            ..*inlet
        };
        let cooled = Cooled {
            outlet,
            effectiveness: charge_effectiveness,
            sink_temperature,
            exchanger,
        };
        Ok((heat, cooled))
    }

    /// Outlet of a given effectiveness; with a radiator the water is as warm as that needs it.
    fn fixed_outlet(
        &self,
        gas: &Gas,
        inlet: &AirState,
        (mass_flow, pressure): (f64, f64),
        effectiveness: f64,
        sink: &SinkSide,
    ) -> Result<Cooled, GasError> {
        let warming = self.warming(sink.flow.map_or(0.0, |(_, capacity)| capacity));
        let mut sink_temperature = sink.temperature;
        let at = |sink_temperature: f64| {
            let fall = effectiveness * (inlet.temperature - sink_temperature);
            AirState::new(gas, pressure, inlet.temperature - fall)
        };
        let mut outlet = at(sink_temperature)?;
        if warming > 0.0 {
            for _ in 0..ROUNDS {
                let span = inlet.temperature - sink_temperature;
                if span.abs() < NO_SPAN {
                    break;
                }
                let heat = mass_flow * (inlet.enthalpy - outlet.enthalpy);
                let per_kelvin = heat / span;
                let whole = inlet.temperature - sink.temperature;
                sink_temperature =
                    sink.temperature + warming * per_kelvin * whole / (1.0 + per_kelvin * warming);
                outlet = at(sink_temperature)?;
            }
        }
        Ok(Cooled {
            outlet,
            effectiveness,
            sink_temperature,
            exchanger: None,
        })
    }

    /// By how much the water enters above the radiator's air for each watt, K/W: the radiator's own
    /// need less what the water cools down in it. 0 without a radiator, or where the water is as
    /// cold as that air.
    fn warming(&self, sink_capacity: f64) -> f64 {
        let radiator = self.sink.radiator();
        if radiator <= 0.0 {
            return 0.0;
        }
        let cooling = if sink_capacity > 0.0 {
            1.0 / sink_capacity
        } else {
            0.0
        };
        (1.0 / radiator - cooling).max(0.0)
    }
}

impl Cooled {
    /// With the effectiveness that its outlet has, where there is a span to have one over.
    fn finished(self, inlet: &AirState) -> Self {
        let span = inlet.temperature - self.sink_temperature;
        if span.abs() < NO_SPAN {
            return self;
        }
        Self {
            effectiveness: (inlet.temperature - self.outlet.temperature) / span,
            ..self
        }
    }
}

/// An exchanger between two temperatures.
struct ExchangerAtWork {
    conductance: f64,
    mass_flow: f64,
    sink_capacity: f64,
    arrangement: Arrangement,
    /// Capacity flow of the charge, W/K.
    charge_capacity: f64,
    flows: Capacities,
    /// Heat for each kelvin between the inlets, W/K.
    per_kelvin: f64,
}

impl ExchangerAtWork {
    fn new(conductance: f64, mass_flow: f64, sink_capacity: f64, arrangement: Arrangement) -> Self {
        Self {
            conductance,
            mass_flow,
            sink_capacity,
            arrangement,
            charge_capacity: 0.0,
            flows: Capacities::new(0.0, sink_capacity),
            per_kelvin: 0.0,
        }
    }

    /// With the sink at a temperature in K, where the charge's gas has an enthalpy in J/kg.
    fn between(
        &mut self,
        gas: &Gas,
        inlet: &AirState,
        sink: f64,
        enthalpy: f64,
    ) -> Result<(), GasError> {
        self.charge_capacity = self.mass_flow * mean_capacity_to(gas, inlet, sink, enthalpy)?;
        self.flows = Capacities::new(self.charge_capacity, self.sink_capacity);
        let flows = self.flows;
        self.per_kelvin = if flows.smaller > 0.0 {
            let units = self.conductance / flows.smaller;
            let effectiveness = (self.arrangement).effectiveness(units, flows.ratio, flows.side);
            effectiveness * flows.smaller
        } else {
            0.0
        };
        Ok(())
    }
}

/// The charge as a core's surface sees it: halfway between its inlet and the sink's.
pub(super) fn charge_fluid(gas: &Gas, inlet: &AirState, sink: f64) -> Result<Fluid, GasError> {
    let middle = 0.5 * (inlet.temperature + sink);
    Fluid::air(gas, inlet.pressure, middle)
}

/// The charge less a heat in J/kg, at the pressure of the inlet; to the last digit where that is 0.
fn without_heat(gas: &Gas, inlet: &AirState, heat: f64, guess: f64) -> Result<AirState, GasError> {
    if heat.abs() > 0.0 {
        AirState::with_enthalpy(gas, inlet.pressure, inlet.enthalpy - heat, guess)
    } else {
        Ok(*inlet)
    }
}

/// Mean heat capacity of the charge from its inlet to the sink's temperature, J/(kg K).
pub(super) fn mean_capacity(gas: &Gas, inlet: &AirState, sink: f64) -> Result<f64, GasError> {
    mean_capacity_to(gas, inlet, sink, gas.enthalpy(sink)?)
}

/// Mean heat capacity with the gas's enthalpy in J/kg at the sink's temperature at hand.
fn mean_capacity_to(
    gas: &Gas,
    inlet: &AirState,
    sink: f64,
    enthalpy: f64,
) -> Result<f64, GasError> {
    let span = inlet.temperature - sink;
    if span.abs() < NO_SPAN {
        return gas.cp(inlet.temperature);
    }
    Ok((inlet.enthalpy - enthalpy) / span)
}
