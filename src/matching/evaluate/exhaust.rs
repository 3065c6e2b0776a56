//! Turbines with their gates, the exhaust pipe, and the boost limits.

use super::evaluation::{Evaluation, Infeasible};
use crate::air_path::AirState;
use crate::exhaust::{BoostAt, FlowLaw, Swallowing, Turbine, flow_function_and_choking};
use crate::gas::Gas;
use crate::map::CorrectedSpeed;
use crate::matching::record::{StageRecord, TurbineRecord};

/// Temperature of the exhaust that its search starts from, K.
const USUAL_EXHAUST: f64 = 900.0;
/// Heat capacity of exhaust that the search for its temperature starts with, J/(kg K).
const USUAL_CP: f64 = 1150.0;

/// What a turbine swallows, kg/s.
pub(super) struct Swallowed {
    pub flow: f64,
    choked: bool,
    efficiency: Option<f64>,
}

/// State and flow of the exhaust ahead of a turbine.
struct Exhaust {
    enthalpy: f64,
    temperature: f64,
    flow: f64,
}

impl Evaluation<'_, '_> {
    /// Pressure ahead of the exhaust pipe, Pa.
    pub(super) fn outlet_pressure(&self) -> f64 {
        let site_pressure = self.setup.ambient.pressure;
        let pipe = self.setup.pipe;
        pipe.map_or(site_pressure, |i| site_pressure * self.trial.x[i].exp())
    }

    /// Pressure ahead of a turbine, Pa; behind the last that of the pipe.
    pub(super) fn turbine_pressure(&self, turbine: usize) -> f64 {
        match self.setup.driven.get(turbine) {
            Some(driven) => self.setup.ambient.pressure * self.trial.x[driven.inlet].exp(),
            None => self.outlet_pressure(),
        }
    }

    /// Turbines and pipe.
    pub(super) fn exhaust(&mut self, outlet_pressure: f64) -> Result<(), Infeasible> {
        let setup = self.setup;
        let (Some(burnt), Some(charge)) = (self.record.burnt, self.record.charge) else {
            return Ok(());
        };
        let enthalpy = burnt.enthalpy;
        // Gas exchange moves the exhaust out of range either way: a manifold far above the exhaust
        // cools it, and there the flow is too small; back pressure heats it, or an expansion uses
        // it up, and there the flow is too large.
        let infeasible = if burnt.energy.pumping > 0.0 {
            Infeasible::FlowTooSmall
        } else {
            Infeasible::FlowTooLarge
        };
        let mut exhaust = Exhaust {
            enthalpy,
            temperature: burnt
                .gas
                .temperature_at_enthalpy(enthalpy, USUAL_EXHAUST)
                .map_err(|_| infeasible)?,
            flow: self.flow + charge.fuel_flow,
        };
        for turbine in 0..setup.driven.len() {
            let noted = self
                .turbine(turbine, &burnt.gas, &exhaust)
                .ok_or(infeasible)?;
            exhaust.enthalpy = noted.outlet_enthalpy;
            exhaust.temperature = noted.outlet_temperature;
            self.record.turbines.push(noted);
        }
        if let (Some(i), Some(pipe)) = (setup.pipe, &setup.installation.exhaust) {
            let density = burnt.gas.density(outlet_pressure, exhaust.temperature);
            let drop = pipe.pressure_drop.pressure_drop(exhaust.flow, density);
            self.balances[i] = (outlet_pressure - setup.ambient.pressure - drop) / outlet_pressure;
        }
        self.record.outlet = Some((outlet_pressure, exhaust.enthalpy, exhaust.temperature));
        Ok(())
    }

    fn turbine(&mut self, turbine: usize, gas: &Gas, exhaust: &Exhaust) -> Option<TurbineRecord> {
        let setup = self.setup;
        let driven = setup.driven[turbine];
        let described = &setup.installation.turbines[turbine];
        let pressure = self.turbine_pressure(turbine);
        let outlet_pressure = self.turbine_pressure(turbine + 1);
        let expansion = pressure / outlet_pressure;
        let share = driven.gate.map_or(0.0, |gate| self.trial.x[gate]);
        let flow = (1.0 - share) * exhaust.flow;
        let stage = self.stage_driven_by(turbine);
        let speed = stage.and_then(|stage| stage.speed);
        let taken = stage.map_or(0.0, |stage| stage.power);
        let temperature = exhaust.temperature;
        let swallowed = swallowed_flow(described, gas, (pressure, expansion), temperature, speed)?;
        self.balances[driven.inlet] = swallowed.flow / flow - 1.0;
        let work = described
            .expand(
                gas,
                temperature,
                expansion.max(1.0),
                speed,
                swallowed.efficiency,
            )
            .ok()?;
        let outlet_enthalpy = exhaust.enthalpy - (1.0 - share) * work.work;
        let outlet_temperature = gas
            .temperature_at_enthalpy(outlet_enthalpy, temperature - work.work / USUAL_CP)
            .ok()?;
        let power = flow * work.work;
        let given = described.mechanical_efficiency * power;
        let larger = given.abs().max(taken.abs());
        self.balances[driven.climb] = if larger > 0.0 {
            (given - taken) / larger
        } else {
            0.0
        };
        Some(TurbineRecord {
            inlet_pressure: pressure,
            inlet_temperature: temperature,
            inlet_enthalpy: exhaust.enthalpy,
            outlet_pressure,
            outlet_enthalpy,
            outlet_temperature,
            flow,
            share,
            efficiency: work.efficiency,
            power,
            excess: given - taken,
            choked: swallowed.choked,
        })
    }

    /// The stage that a turbine drives.
    pub(super) fn stage_driven_by(&self, turbine: usize) -> Option<&StageRecord> {
        self.record.stages.get(self.setup.driven[turbine].stage)
    }

    /// What is left of the boost limits.
    pub(super) fn boost_limits(&mut self, manifold: &AirState) {
        let setup = self.setup;
        for (turbine, driven) in setup.driven.iter().enumerate() {
            let gate = setup.installation.turbines[turbine].wastegate.as_ref();
            if let (Some(i), Some(gate)) = (driven.gate, gate) {
                let felt = match gate.boost_at {
                    BoostAt::Manifold => manifold.pressure,
                    BoostAt::CompressorOutlet => self
                        .stage_driven_by(turbine)
                        .map_or(manifold.pressure, |stage| stage.outlet.pressure),
                };
                let limit = setup.ambient.pressure + gate.boost_limit.at(setup.rpm);
                self.balances[i] = felt / limit - 1.0;
            }
        }
    }
}

/// What a turbine swallows at an inlet pressure in Pa and an expansion ratio.
pub(super) fn swallowed_flow(
    described: &Turbine,
    gas: &Gas,
    (pressure, expansion): (f64, f64),
    temperature: f64,
    shaft_speed: Option<f64>,
) -> Option<Swallowed> {
    match &described.swallowing {
        Swallowing::Area {
            effective_area,
            law,
        } => {
            let gamma = gas.gamma(temperature).ok()?;
            let (psi, choked) = signed_flow_function(gamma, expansion, *law);
            let root = (gas.gas_constant() * temperature).sqrt();
            Some(Swallowed {
                flow: pressure * effective_area * psi / root,
                choked,
                efficiency: None,
            })
        }
        Swallowing::Map(map) => {
            let reference = map.reference();
            // A map of one line holds for every speed.
            let speed = match map.lines() {
                [one] => CorrectedSpeed(one.speed()),
                _ => {
                    CorrectedSpeed::from_actual(shaft_speed.unwrap_or(0.0), temperature, reference)
                }
            };
            let point = map.at_speed_and_ratio(speed, expansion.max(1.0));
            let flow = point.flow.to_actual(pressure, temperature, reference);
            Some(Swallowed {
                flow,
                choked: false,
                efficiency: Some(point.efficiency),
            })
        }
    }
}

/// ψ, mirrored below an expansion ratio of 1 so that a trial there has a way back.
fn signed_flow_function(gamma: f64, expansion: f64, law: FlowLaw) -> (f64, bool) {
    if expansion >= 1.0 {
        flow_function_and_choking(gamma, expansion, law)
    } else {
        (
            -flow_function_and_choking(gamma, 1.0 / expansion, law).0,
            false,
        )
    }
}
