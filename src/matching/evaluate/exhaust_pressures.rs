//! The pressures behind the engine where the flow alone is given.

use super::evaluation::{Evaluation, Infeasible};
use super::exhaust::swallowed_flow;
use crate::air_path::AirState;
use crate::exhaust::{Swallowing, inlet_pressure};
use crate::gas::Gas;
use crate::matching::record::TurbineRecord;

/// Most passes over the pressures behind the engine.
const PASSES: usize = 60;
/// Largest expansion ratio looked at for a turbine with a map.
const LARGEST_EXPANSION: f64 = 60.0;

impl Evaluation<'_, '_> {
    /// Finds the pressures behind the engine from the flow alone, relative to `tolerance`: what the
    /// pipe takes, then back through the turbines, until nothing changes. Each pass shrinks the
    /// error, because exhaust temperature hangs only weakly on these pressures.
    pub(super) fn find_exhaust_pressures(
        &mut self,
        manifold: &AirState,
        tolerance: f64,
    ) -> Result<(), Infeasible> {
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
                    .ok_or(Infeasible::FlowTooLarge)?;
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
            let swallowed = swallowed_flow(described, gas, (middle, middle / outlet), t3, speed)?;
            if swallowed.flow < noted.flow {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(0.5 * (low + high))
    }
}
