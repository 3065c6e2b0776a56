//! The engine and all behind it on a walk: what is swallowed and burned, turbines, gates, pipe.

use super::{Snag, Walk};
use crate::air_path::AirState;
use crate::engine::{Charge, CylinderEnds, HeatError, burn};
use crate::exhaust::{BoostAt, FlowLaw, Swallowing, Turbine, inlet_pressure, through};
use crate::gas::{BurnError, Gas};
use crate::map::CorrectedSpeed;
use crate::matching::record::{StageRecord, TurbineRecord};

/// Temperature of the exhaust that its search starts from, K.
const USUAL_EXHAUST: f64 = 900.0;
/// Most passes over the pressures behind the engine.
const PASSES: usize = 60;
/// Largest expansion ratio looked at for a turbine with a map.
const LARGEST_EXPANSION: f64 = 60.0;

/// What a turbine swallows, kg/s.
struct Swallowed {
    flow: f64,
    choked: bool,
    efficiency: Option<f64>,
}

/// State and flow of the exhaust ahead of a turbine.
struct Exhaust {
    enthalpy: f64,
    temperature: f64,
    flow: f64,
}

impl Walk<'_, '_> {
    /// The engine and all behind it, with the pressures as the trial has them.
    pub(super) fn engine_and_exhaust(&mut self, manifold: &AirState) -> Result<(), Snag> {
        let setup = self.setup;
        let outlet_pressure = self.outlet_pressure();
        let exhaust_pressure = match setup.driven.first() {
            Some(_) => Some(self.turbine_pressure(0)),
            None => setup.pipe.map(|_| outlet_pressure),
        };
        let engine = &setup.installation.engine;
        let ratio = exhaust_pressure.map(|p| p / manifold.pressure);
        let ve = engine.volumetric_efficiency_at(setup.rpm, ratio);
        if ve.is_nan() || ve <= 0.0 {
            return Err(Snag::TooMuch);
        }
        self.record.volumetric_efficiency = ve;
        // Fuel vapour takes its part of the pressure; the air has the rest.
        let air_share = 1.0 - self.vapour_fraction();
        let density = air_share * manifold.density(&setup.gas);
        let swallowed = ve * density * engine.swept_flow(setup.rpm);
        self.balances[0] = swallowed / self.flow - 1.0;
        self.burn(manifold, exhaust_pressure)?;
        if self.record.burnt.is_some() {
            self.exhaust(outlet_pressure)?;
        }
        self.limits(manifold);
        Ok(())
    }

    /// Pressure ahead of the exhaust pipe, Pa.
    fn outlet_pressure(&self) -> f64 {
        let site_pressure = self.setup.ambient.pressure;
        let pipe = self.setup.pipe;
        pipe.map_or(site_pressure, |i| site_pressure * self.trial.x[i].exp())
    }

    /// Pressure ahead of a turbine, Pa; behind the last that of the pipe.
    fn turbine_pressure(&self, turbine: usize) -> f64 {
        match self.setup.driven.get(turbine) {
            Some(driven) => self.setup.ambient.pressure * self.trial.x[driven.inlet].exp(),
            None => self.outlet_pressure(),
        }
    }

    /// The manifold's state with the fuel that evaporates ahead of the valves.
    pub(super) fn evaporate(&mut self, before: AirState) -> Result<AirState, Snag> {
        let setup = self.setup;
        self.record.before_fuel = before.temperature;
        let fuel = setup.installation.fuel.as_ref();
        let Some(evaporation) = fuel.and_then(|fuel| fuel.evaporation) else {
            return Ok(before);
        };
        let per_air = self.charge().map_or(0.0, |charge| charge.fuel_flow) / self.flow;
        let state = (before.pressure, before.temperature, before.enthalpy);
        let there = evaporation
            .into_air(&setup.gas, state, per_air)
            .ok_or(Snag::TooLittle)?;
        self.record.evaporated = Some(there);
        Ok(AirState {
            pressure: before.pressure,
            temperature: there.temperature,
            enthalpy: before.enthalpy - there.heat,
        })
    }

    fn vapour_fraction(&self) -> f64 {
        let evaporated = self.record.evaporated;
        evaporated.map_or(0.0, |there| there.vapour_fraction)
    }

    /// The fuel that goes with the flow of the trial.
    fn charge(&self) -> Option<Charge> {
        let setup = self.setup;
        let fuel = setup.installation.fuel.as_ref()?;
        let engine = &setup.installation.engine;
        let dry_air = self.flow * setup.dry_share;
        let (rpm, factor) = (setup.rpm, setup.fuel_factor);
        Some(fuel.charge_against(setup.stoichiometric, engine, rpm, dry_air, factor))
    }

    fn burn(&mut self, manifold: &AirState, exhaust_pressure: Option<f64>) -> Result<(), Snag> {
        let setup = self.setup;
        let (Some(fuel), Some(charge)) = (&setup.installation.fuel, self.charge()) else {
            return Ok(());
        };
        let engine = &setup.installation.engine;
        let rpm = setup.rpm;
        let evaporated = self.record.evaporated;
        let ends = CylinderEnds {
            air_flow: self.flow,
            manifold_enthalpy: manifold.enthalpy,
            evaporation_heat: evaporated.map_or(0.0, |there| there.heat),
            manifold_pressure: manifold.pressure,
            exhaust_pressure,
        };
        let before = self.record.burnt.as_ref();
        // Held fuel and too little air is soot: more flow is wanted.
        match burn(engine, fuel, &setup.moles, &charge, &ends, rpm, before) {
            Ok(burnt) => self.record.burnt = burnt,
            Err(fault) => {
                if let HeatError::Burn(BurnError::Soot {
                    air_fuel_ratio,
                    smallest,
                }) = fault
                {
                    self.record.soot = Some((air_fuel_ratio, smallest));
                }
                return Err(Snag::TooLittle);
            }
        }
        self.record.charge = Some(charge);
        Ok(())
    }

    /// Turbines and pipe.
    fn exhaust(&mut self, outlet_pressure: f64) -> Result<(), Snag> {
        let setup = self.setup;
        let (Some(burnt), Some(charge)) = (self.record.burnt, self.record.charge) else {
            return Ok(());
        };
        let enthalpy = burnt.enthalpy;
        // Gas exchange moves the exhaust out of range either way: a manifold far above the exhaust
        // cools it, and there the flow is too small; back pressure heats it, or an expansion uses
        // it up, and there the flow is too large.
        let snag = if burnt.energy.pumping > 0.0 {
            Snag::TooLittle
        } else {
            Snag::TooMuch
        };
        let mut exhaust = Exhaust {
            enthalpy,
            temperature: burnt
                .gas
                .temperature_at_enthalpy(enthalpy, USUAL_EXHAUST)
                .map_err(|_| snag)?,
            flow: self.flow + charge.fuel_flow,
        };
        for turbine in 0..setup.driven.len() {
            let noted = self.turbine(turbine, &burnt.gas, &exhaust).ok_or(snag)?;
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
        let swallowed = swallow(described, gas, (pressure, expansion), temperature, speed)?;
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
    fn stage_driven_by(&self, turbine: usize) -> Option<&StageRecord> {
        self.record.stages.get(self.setup.driven[turbine].stage)
    }

    /// What is left of the boost limits.
    fn limits(&mut self, manifold: &AirState) {
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

    /// Finds the pressures behind the engine from the flow alone, relative to `tolerance`: what the
    /// pipe takes, then back through the turbines, until nothing changes. Each pass shrinks the
    /// error, because exhaust temperature hangs only weakly on these pressures.
    pub(super) fn settle_exhaust(
        &mut self,
        manifold: &AirState,
        tolerance: f64,
    ) -> Result<(), Snag> {
        let setup = self.setup;
        let site_pressure = setup.ambient.pressure;
        for _ in 0..PASSES {
            self.record.turbines.clear();
            self.engine_and_exhaust(manifold)?;
            let (Some(burnt), Some(charge)) = (self.record.burnt, self.record.charge) else {
                return Ok(());
            };
            let mut largest_change = 0.0_f64;
            let mut outlet = site_pressure;
            let exhaust_flow = self.flow + charge.fuel_flow;
            if let (Some(i), Some(pipe), Some((at, _, temperature))) =
                (setup.pipe, &setup.installation.exhaust, self.record.outlet)
            {
                let density = burnt.gas.density(at, temperature);
                outlet += pipe.pressure_drop.pressure_drop(exhaust_flow, density);
                largest_change = largest_change.max(self.replace(i, (outlet / site_pressure).ln()));
            }
            for turbine in (0..setup.driven.len()).rev() {
                let noted = self.record.turbines[turbine];
                let inlet = self
                    .pressure_ahead(turbine, &burnt.gas, &noted, outlet)
                    .ok_or(Snag::TooMuch)?;
                let i = setup.driven[turbine].inlet;
                largest_change = largest_change.max(self.replace(i, (inlet / site_pressure).ln()));
                outlet = inlet;
            }
            if largest_change < tolerance {
                break;
            }
        }
        self.record.turbines.clear();
        Ok(())
    }

    fn replace(&mut self, variable: usize, value: f64) -> f64 {
        let change = (self.trial.x[variable] - value).abs();
        self.trial.x[variable] = value;
        change
    }

    /// The pressure in Pa that pushes a turbine's flow against an outlet pressure in Pa.
    fn pressure_ahead(
        &self,
        turbine: usize,
        gas: &Gas,
        noted: &TurbineRecord,
        outlet: f64,
    ) -> Option<f64> {
        let described = &self.setup.installation.turbines[turbine];
        let t3 = noted.inlet_temperature;
        if let Swallowing::Area {
            effective_area,
            law,
        } = &described.swallowing
        {
            let gamma = gas.gamma(t3).ok()?;
            let root = (gas.gas_constant() * t3).sqrt();
            let flow = noted.flow * root / effective_area;
            return Some(inlet_pressure(gamma, *law, flow, outlet));
        }
        let speed = self.stage_driven_by(turbine).and_then(|stage| stage.speed);
        let (mut low, mut high) = (outlet, LARGEST_EXPANSION * outlet);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let swallowed = swallow(described, gas, (middle, middle / outlet), t3, speed)?;
            if swallowed.flow < noted.flow {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(0.5 * (low + high))
    }
}

/// What a turbine swallows at an inlet pressure in Pa and an expansion ratio.
fn swallow(
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

/// Heat capacity of exhaust that the search for its temperature starts with, J/(kg K).
const USUAL_CP: f64 = 1150.0;

/// ψ, mirrored below an expansion ratio of 1 so that a trial there has a way back.
fn signed_flow_function(gamma: f64, expansion: f64, law: FlowLaw) -> (f64, bool) {
    if expansion >= 1.0 {
        through(gamma, expansion, law)
    } else {
        (-through(gamma, 1.0 / expansion, law).0, false)
    }
}
