//! The engine: what it swallows, the fuel that evaporates ahead of it, and what it burns.

use super::evaluation::{Evaluation, Infeasible};
use crate::air_path::AirState;
use crate::engine::{Charge, CylinderEnds, HeatError, burn};
use crate::gas::BurnError;

impl Evaluation<'_, '_> {
    /// The engine and all behind it, with the pressures as the trial has them.
    pub(super) fn engine_and_exhaust(&mut self, manifold: &AirState) -> Result<(), Infeasible> {
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
            return Err(Infeasible::FlowTooLarge);
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
        self.boost_limits(manifold);
        Ok(())
    }

    /// The manifold's state with the fuel that evaporates ahead of the valves.
    pub(super) fn evaporate(&mut self, before: AirState) -> Result<AirState, Infeasible> {
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
            .ok_or(Infeasible::FlowTooSmall)?;
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

    fn burn(
        &mut self,
        manifold: &AirState,
        exhaust_pressure: Option<f64>,
    ) -> Result<(), Infeasible> {
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
                return Err(Infeasible::FlowTooSmall);
            }
        }
        self.record.charge = Some(charge);
        Ok(())
    }
}
