//! Fuel flow, heat release and what the cylinders make of it.
//!
//! m_air h_air(T_manifold) + Q = P_gross + P_pump + Q_wall + (m_air + m_fuel) h_products(T_exhaust)
//! with h sensible from 298.15 K, fuel entering at 298.15 K and water staying vapour;
//! Q = m_fuel LHV − what CO and H2 hold back, P_gross = gross_indicated_efficiency × Q,
//! Q_wall = heat_loss_share × Q; fuel enters as a liquid, so that heat which it took from the air
//! ahead of the valves counts with the air; P_pump = (p_manifold − p_exhaust) × swept flow (none for a
//! two-stroke). First law over the cylinders, ports and exhaust manifold.

use thiserror::Error;

use super::{Engine, Fuel, Fuelling, Strokes};
use crate::gas::{BurnError, FuelFormula, Gas, HumidAir, Moles};

/// Fuel as it is burned at one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Charge {
    /// Fuel flow, kg/s.
    pub fuel_flow: f64,
    /// Mass of dry air per mass of fuel.
    pub air_fuel_ratio: f64,
    /// Air–fuel ratio over the stoichiometric one.
    pub lambda: f64,
    /// Whether the smallest air–fuel ratio cut the fuel.
    pub at_smoke_limit: bool,
}

/// The energy that goes through the cylinders, W.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderEnergy {
    /// Lower heating value of the fuel that enters.
    pub fuel: f64,
    /// Heat released.
    pub released: f64,
    /// Held back by CO and H2.
    pub unburnt: f64,
    /// Work of the compression and expansion strokes.
    pub gross_indicated: f64,
    /// Work of the gas exchange, positive when it helps the crank.
    pub pumping: f64,
    /// Heat to the walls.
    pub wall_heat: f64,
}

/// Why there is no combustion to reckon.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum HeatError {
    /// Neither air nor fuel flow to speak of.
    #[error("no fuel is burned")]
    NoFuel,
    /// The mixture is beyond the products known here.
    #[error(transparent)]
    Burn(#[from] BurnError),
}

impl Fuel {
    /// Its formula.
    pub fn formula(&self) -> FuelFormula {
        FuelFormula {
            hydrogen_carbon_ratio: self.hydrogen_carbon_ratio,
            oxygen_carbon_ratio: self.oxygen_carbon_ratio,
        }
    }

    /// Fuel burned with a flow of dry air in kg/s at an engine speed in rpm. `factor` multiplies
    /// the fuel, for asking what a little more would do.
    pub fn charge(&self, engine: &Engine, rpm: f64, dry_air_flow: f64, factor: f64) -> Charge {
        let stoichiometric = self.formula().stoichiometric_ratio();
        self.charge_against(stoichiometric, engine, rpm, dry_air_flow, factor)
    }

    /// As [`Fuel::charge`], with its stoichiometric ratio at hand.
    pub fn charge_against(
        &self,
        stoichiometric: f64,
        engine: &Engine,
        rpm: f64,
        dry_air_flow: f64,
        factor: f64,
    ) -> Charge {
        let mut at_smoke_limit = false;
        // Where the ratio is held it is the same number at every flow, to the last digit.
        let (fuel_flow, air_fuel_ratio) = match self.held(engine, rpm, stoichiometric) {
            Held::Ratio(ratio) => (dry_air_flow / ratio * factor, ratio / factor),
            Held::Flow(flow, smallest) => match smallest {
                Some(smallest) if dry_air_flow / smallest < flow => {
                    at_smoke_limit = true;
                    (dry_air_flow / smallest * factor, smallest / factor)
                }
                _ => (flow * factor, dry_air_flow / (flow * factor)),
            },
        };
        Charge {
            fuel_flow,
            air_fuel_ratio,
            lambda: air_fuel_ratio / stoichiometric,
            at_smoke_limit,
        }
    }

    /// What is held at an engine speed in rpm.
    fn held(&self, engine: &Engine, rpm: f64, stoichiometric: f64) -> Held {
        match &self.burned {
            Fuelling::AirFuelRatio(ratio) => Held::Ratio(ratio.at(rpm)),
            Fuelling::Lambda(lambda) => Held::Ratio(lambda.at(rpm) * stoichiometric),
            Fuelling::Flow(flow) => Held::Flow(flow.at(rpm), None),
            Fuelling::PerStroke {
                mass,
                smallest_air_fuel_ratio,
            } => {
                let cylinders = f64::from(engine.cylinders.unwrap_or(1));
                Held::Flow(
                    mass.at(rpm) * cylinders * engine.cycles_per_second(rpm),
                    smallest_air_fuel_ratio.as_ref().map(|table| table.at(rpm)),
                )
            }
        }
    }
}

/// What a way of fuelling holds.
enum Held {
    /// Mass of dry air per mass of fuel.
    Ratio(f64),
    /// Fuel flow, kg/s, and the smallest air–fuel ratio that cuts it.
    Flow(f64, Option<f64>),
}

/// Products, energy and exhaust enthalpy of one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burnt {
    /// Mass of dry air per mass of fuel.
    pub air_fuel_ratio: f64,
    /// The products.
    pub gas: Gas,
    /// Held back by CO and H2, J per kg of fuel.
    pub unburnt_per_kilogram: f64,
    /// Where the energy went.
    pub energy: CylinderEnergy,
    /// Sensible enthalpy of the products ahead of the turbine, J/kg.
    pub enthalpy: f64,
}

/// The manifold's and the exhaust's side of the cylinders at one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderEnds {
    /// Flow of moist air, kg/s.
    pub air_flow: f64,
    /// Sensible enthalpy of the air in the manifold, J/kg.
    pub manifold_enthalpy: f64,
    /// Heat that evaporating fuel took from that air, J/kg.
    pub evaporation_heat: f64,
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Absolute pressure behind the exhaust ports, Pa; where unknown the pumping counts as nothing.
    pub exhaust_pressure: Option<f64>,
}

/// Burns a charge: what the crank, the walls and the exhaust get. `air` are the amounts per kg of
/// dry air, mol ([`HumidAir::moles_per_dry_kilogram`]). `before`: what the same fuel and air gave
/// last; its products serve again where the ratio is the same.
pub fn burn(
    engine: &Engine,
    fuel: &Fuel,
    air: &Moles,
    charge: &Charge,
    ends: &CylinderEnds,
    rpm: f64,
    before: Option<&Burnt>,
) -> Result<Option<Burnt>, HeatError> {
    let Some(combustion) = &engine.combustion else {
        return Ok(None);
    };
    if charge.fuel_flow <= 0.0 {
        return Err(HeatError::NoFuel);
    }
    let (gas, unburnt_per_kilogram) = match before {
        Some(same) if same.air_fuel_ratio.to_bits() == charge.air_fuel_ratio.to_bits() => {
            (same.gas, same.unburnt_per_kilogram)
        }
        _ => {
            let products = fuel.formula().burn_moles(air, charge.air_fuel_ratio)?;
            (products.gas, products.unburnt)
        }
    };
    let heat = charge.fuel_flow * fuel.lower_heating_value;
    let unburnt = charge.fuel_flow * unburnt_per_kilogram;
    let released = heat - unburnt;
    let gross_indicated = combustion.gross_indicated_efficiency.at(rpm) * released;
    let wall_heat = combustion.heat_loss_share.at(rpm) * released;
    let pumping = match (engine.strokes, ends.exhaust_pressure) {
        (Strokes::Four, Some(exhaust)) => {
            (ends.manifold_pressure - exhaust) * engine.swept_flow(rpm)
        }
        _ => 0.0,
    };
    let drawn = ends.air_flow * (ends.manifold_enthalpy + ends.evaporation_heat);
    let left = drawn + released - gross_indicated - pumping - wall_heat;
    let enthalpy = left / (ends.air_flow + charge.fuel_flow);
    let energy = CylinderEnergy {
        fuel: heat,
        released,
        unburnt,
        gross_indicated,
        pumping,
        wall_heat,
    };
    Ok(Some(Burnt {
        air_fuel_ratio: charge.air_fuel_ratio,
        gas,
        unburnt_per_kilogram,
        energy,
        enthalpy,
    }))
}

/// Amounts per kg of dry air of the site's air, for [`burn`].
pub fn air_moles(air: &HumidAir) -> Moles {
    air.moles_per_dry_kilogram()
}
