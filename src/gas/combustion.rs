//! What is left after burning a fuel in air: complete products where there is air enough, and
//! frozen rich products where there is not.
//!
//! Rich products hold no free oxygen, and [CO][H2O]/([CO2][H2]) = 3.5, the water-gas equilibrium
//! near 1740 K where it freezes (Heywood 1988, §4.9, from memory; held against Cantera in
//! tests/outside/combustion_reference.rs).

use thiserror::Error;

use super::humid_air::HumidAir;
use super::mixture::{Gas, Moles};

/// The water-gas constant at which rich products freeze (Heywood 1988, §4.9, from memory).
const WATER_GAS_CONSTANT: f64 = 3.5;
/// Heat of burning CO, J/mol (rounded; NASA/TP-2002-211556's formation enthalpies give 282.98e3).
const HEAT_OF_CO: f64 = 283.0e3;
/// Heat of burning H2 to vapour, J/mol (rounded; the same report gives 241.83e3).
const HEAT_OF_H2: f64 = 241.8e3;
/// Standard atomic masses of C, H, O, kg/mol (IUPAC 2021, abridged).
const CARBON: f64 = 12.011e-3;
const HYDROGEN: f64 = 1.008e-3;
const OXYGEN: f64 = 15.999e-3;
/// Places among the species.
const O2: usize = 1;
const CO2: usize = 3;
const H2O: usize = 4;
const CO: usize = 5;
const H2: usize = 6;

/// A fuel's formula C H_y O_z.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FuelFormula {
    /// Hydrogen atoms per carbon atom, y.
    pub hydrogen_carbon_ratio: f64,
    /// Oxygen atoms per carbon atom, z.
    pub oxygen_carbon_ratio: f64,
}

/// Why a mixture does not burn to the products known here.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum BurnError {
    /// Not even enough oxygen to turn all carbon into CO; soot is not reckoned with.
    #[error(
        "an air-fuel ratio of {air_fuel_ratio:.2} leaves carbon without oxygen (soot); \
         this fuel needs more than {smallest:.2}"
    )]
    Soot {
        /// Mass of dry air per mass of fuel.
        air_fuel_ratio: f64,
        /// The ratio at which all carbon just becomes CO.
        smallest: f64,
    },
}

/// What is left after burning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Products {
    /// The products as one gas.
    pub gas: Gas,
    /// Heat not released, held by CO and H2, J per kg of fuel.
    pub unburnt: f64,
}

impl FuelFormula {
    /// Mass per mole of carbon, kg/mol.
    fn molar_mass(self) -> f64 {
        CARBON + self.hydrogen_carbon_ratio * HYDROGEN + self.oxygen_carbon_ratio * OXYGEN
    }

    /// O2 needed per mole of carbon, mol: 1 + y/4 − z/2 (any textbook of combustion).
    fn oxygen_need(self) -> f64 {
        1.0 + self.hydrogen_carbon_ratio / 4.0 - self.oxygen_carbon_ratio / 2.0
    }

    /// Stoichiometric mass of dry air per mass of fuel.
    pub fn stoichiometric_ratio(self) -> f64 {
        let oxygen_per_kilogram = HumidAir::dry().moles_per_dry_kilogram()[O2];
        self.oxygen_need() / (self.molar_mass() * oxygen_per_kilogram)
    }

    /// Burns 1 kg of fuel in `air_fuel_ratio` kg of dry air with its water.
    pub fn burn(self, air: &HumidAir, air_fuel_ratio: f64) -> Result<Products, BurnError> {
        self.burn_moles(&air.moles_per_dry_kilogram(), air_fuel_ratio)
    }

    /// As [`FuelFormula::burn`], with the air's amounts per kg of dry air, mol, at hand.
    pub fn burn_moles(self, air: &Moles, air_fuel_ratio: f64) -> Result<Products, BurnError> {
        let carbon = 1.0 / self.molar_mass();
        let mut moles = air.map(|amount| amount * air_fuel_ratio);
        let oxygen_left = moles[O2] - carbon * self.oxygen_need();
        if oxygen_left >= 0.0 {
            moles[O2] = oxygen_left;
            moles[CO2] += carbon;
            moles[H2O] += carbon * self.hydrogen_carbon_ratio / 2.0;
            return Ok(Products {
                gas: Gas::mix(&moles),
                unburnt: 0.0,
            });
        }
        self.burn_rich(moles, carbon, air_fuel_ratio)
    }

    /// Shares carbon, hydrogen and oxygen out among CO2, CO, H2O and H2.
    fn burn_rich(
        self,
        mut moles: Moles,
        carbon: f64,
        air_fuel_ratio: f64,
    ) -> Result<Products, BurnError> {
        let c = carbon + moles[CO2];
        let h2 = carbon * self.hydrogen_carbon_ratio / 2.0 + moles[H2O];
        let o = 2.0 * moles[O2] + 2.0 * moles[CO2] + moles[H2O] + carbon * self.oxygen_carbon_ratio;
        if o <= c {
            let from_fuel = carbon * (1.0 - self.oxygen_carbon_ratio);
            let per_ratio = (o - carbon * self.oxygen_carbon_ratio - moles[CO2]) / air_fuel_ratio;
            return Err(BurnError::Soot {
                air_fuel_ratio,
                smallest: from_fuel / per_ratio,
            });
        }
        // With a moles of CO2: CO = c − a, H2O = o − c − a, H2 = h2 − H2O. The constant gives
        // (k − 1) a² + b a − c (o − c) = 0 with the one positive root below.
        let k = WATER_GAS_CONSTANT;
        let b = o + k * (h2 - o + c);
        let product = c * (o - c);
        let a = 2.0 * product / (b + (b * b + 4.0 * (k - 1.0) * product).sqrt());
        moles[O2] = 0.0;
        moles[CO2] = a;
        moles[CO] = c - a;
        moles[H2O] = o - c - a;
        moles[H2] = h2 - moles[H2O];
        let unburnt = HEAT_OF_CO * moles[CO] + HEAT_OF_H2 * moles[H2];
        Ok(Products {
            gas: Gas::mix(&moles),
            unburnt,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const DIESEL: FuelFormula = FuelFormula {
        hydrogen_carbon_ratio: 1.80,
        oxygen_carbon_ratio: 0.0,
    };
    const ETHANOL: FuelFormula = FuelFormula {
        hydrogen_carbon_ratio: 3.0,
        oxygen_carbon_ratio: 0.5,
    };
    const METHANOL: FuelFormula = FuelFormula {
        hydrogen_carbon_ratio: 4.0,
        oxygen_carbon_ratio: 1.0,
    };

    /// O2 need per carbon 1 + y/4 − z/2 with 20.939 % oxygen by volume: 9.008, 6.476 and 14.51,
    /// by hand; their last digit.
    #[test]
    fn each_fuel_has_its_own_stoichiometric_ratio() {
        assert_relative_eq!(ETHANOL.stoichiometric_ratio(), 9.008, max_relative = 1e-4);
        assert_relative_eq!(METHANOL.stoichiometric_ratio(), 6.476, max_relative = 1e-4);
        assert_relative_eq!(DIESEL.stoichiometric_ratio(), 14.51, max_relative = 3e-4);
    }

    #[test]
    fn lean_and_rich_products_meet_at_the_stoichiometric_ratio() {
        let ratio = DIESEL.stoichiometric_ratio();
        let lean = DIESEL.burn(&HumidAir::dry(), ratio * (1.0 + 1e-9)).unwrap();
        let rich = DIESEL.burn(&HumidAir::dry(), ratio * (1.0 - 1e-9)).unwrap();
        assert_relative_eq!(
            lean.gas.gas_constant(),
            rich.gas.gas_constant(),
            max_relative = 1e-8
        );
        assert!(rich.unburnt > 0.0 && rich.unburnt < 1.0);
    }

    #[test]
    fn carbon_without_oxygen_is_an_error_that_names_the_smallest_ratio() {
        let BurnError::Soot { smallest, .. } = DIESEL
            .burn(&HumidAir::dry(), 4.0)
            .expect_err("4 is too rich");
        assert!(DIESEL.burn(&HumidAir::dry(), smallest * 0.999_999).is_err());
        assert!(DIESEL.burn(&HumidAir::dry(), smallest * 1.000_001).is_ok());
    }
}
