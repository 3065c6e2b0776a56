//! The charge's own side of a cooler.

use super::charge_cooler::{Cooler, Exchange};
use super::cooling::charge_fluid;
use crate::air_path::AirState;
use crate::gas::{Gas, GasError};

impl Cooler {
    /// Conductance between the charge and the metal, W/K, whether the sink flows or stands: what
    /// warms a core without wind. `None` where the sides are not known apart. A core's walls count
    /// on this side.
    pub fn charge_conductance(
        &self,
        gas: &Gas,
        inlet: &AirState,
        mass_flow: f64,
        sink_temperature: f64,
    ) -> Result<Option<f64>, GasError> {
        Ok(match &self.exchange {
            Exchange::Fixed(_) => None,
            Exchange::Rated(rated) => Some(rated.charge.at(mass_flow)),
            Exchange::Core(core) => {
                let fluid = charge_fluid(gas, inlet, sink_temperature)?;
                let endless = f64::INFINITY;
                Some(core.charge_work(&fluid, mass_flow, endless).conductance)
            }
        })
    }
}
