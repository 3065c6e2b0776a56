//! The fuel and how much of it is burned.

use super::delivery::Injectors;
use super::evaporation::Evaporation;
use super::kinds::FuelKind;
use crate::numeric::Schedule;

/// A fuel as meant.
#[derive(Debug, Clone)]
pub struct Fuel {
    /// Its kind, where named.
    pub kind: Option<FuelKind>,
    /// Lower heating value, J/kg.
    pub lower_heating_value: f64,
    /// Hydrogen atoms per carbon atom.
    pub hydrogen_carbon_ratio: f64,
    /// Oxygen atoms per carbon atom.
    pub oxygen_carbon_ratio: f64,
    /// Density, kg/m³, where known.
    pub density: Option<f64>,
    /// How much is burned.
    pub burned: Fuelling,
    /// What evaporates ahead of the valves, where some is meant to.
    pub evaporation: Option<Evaporation>,
    /// The injectors, where given.
    pub injectors: Option<Injectors>,
}

/// How much fuel is burned; every schedule is over engine speed in rpm.
#[derive(Debug, Clone)]
pub enum Fuelling {
    /// Mass of dry air per mass of fuel.
    AirFuelRatio(Schedule),
    /// Air–fuel ratio over the stoichiometric one.
    Lambda(Schedule),
    /// Mass per cylinder and working cycle, kg, whatever the air; at most what the smallest
    /// air–fuel ratio (the smoke limiter) allows.
    PerStroke {
        /// kg per cylinder and working cycle.
        mass: Schedule,
        /// Smallest mass of dry air per mass of fuel.
        smallest_air_fuel_ratio: Option<Schedule>,
    },
    /// Fuel flow of the whole engine, kg/s.
    Flow(Schedule),
}

/// Properties of a fuel known by name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FuelProperties {
    /// Lower heating value, J/kg.
    pub lower_heating_value: f64,
    /// Hydrogen atoms per carbon atom.
    pub hydrogen_carbon_ratio: f64,
    /// Oxygen atoms per carbon atom.
    pub oxygen_carbon_ratio: f64,
    /// Density, kg/m³.
    pub density: f64,
}

impl FuelKind {
    /// Its typical properties (common practice; heating values near the US Department of Energy's
    /// table of alternative fuels: diesel 42.8, petrol 43.4, ethanol 26.9, methanol 20.1 MJ/kg).
    pub const fn properties(self) -> FuelProperties {
        let (lower_heating_value, hydrogen_carbon_ratio, oxygen_carbon_ratio, density) = match self
        {
            Self::Diesel => (42.8e6, 1.80, 0.0, 835.0),
            Self::Petrol => (43.4e6, 1.87, 0.0, 745.0),
            Self::Ethanol => (26.9e6, 3.0, 0.5, 789.0),
            Self::Methanol => (20.0e6, 4.0, 1.0, 792.0),
            Self::E85 => (29.3e6, 2.755, 0.392, 782.0),
        };
        FuelProperties {
            lower_heating_value,
            hydrogen_carbon_ratio,
            oxygen_carbon_ratio,
            density,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::FuelFormula;
    use approx::assert_relative_eq;

    /// Heywood 1988, table D.4 (from memory): lower heating value in MJ/kg, stoichiometric ratio, density in
    /// kg/m³ of gasoline, light diesel, methanol and ethanol. Blends differ: heating values of the first two by
    /// 1.5 %, of the pure alcohols by their last digit; ratios by 1 %, densities within their range.
    #[test]
    fn fuels_are_those_of_the_handbook() {
        let printed = [
            (FuelKind::Petrol, 44.0e6, 0.015, 14.6, (720.0, 780.0)),
            (FuelKind::Diesel, 42.5e6, 0.015, 14.5, (820.0, 880.0)),
            (FuelKind::Methanol, 20.0e6, 0.005, 6.47, (785.0, 795.0)),
            (FuelKind::Ethanol, 26.9e6, 0.004, 9.00, (780.0, 795.0)),
        ];
        for (kind, heat, blends, ratio, density) in printed {
            let fuel = kind.properties();
            assert_relative_eq!(fuel.lower_heating_value, heat, max_relative = blends);
            let formula = FuelFormula {
                hydrogen_carbon_ratio: fuel.hydrogen_carbon_ratio,
                oxygen_carbon_ratio: fuel.oxygen_carbon_ratio,
            };
            assert_relative_eq!(formula.stoichiometric_ratio(), ratio, max_relative = 0.01);
            assert!((density.0..density.1).contains(&fuel.density), "{kind:?}");
        }
    }

    /// By mixing 85 parts of ethanol by volume with 15 of petrol: mass, heat, and carbon with its hydrogen and
    /// oxygen add up. Last digits of the table.
    #[test]
    fn e85_is_its_two_parts() {
        let [spirit, petrol, blend] =
            [FuelKind::Ethanol, FuelKind::Petrol, FuelKind::E85].map(FuelKind::properties);
        let [spirit_mass, petrol_mass] = [0.85 * spirit.density, 0.15 * petrol.density];
        let mass = spirit_mass + petrol_mass;
        assert_relative_eq!(blend.density, mass, epsilon = 0.5);
        let heat =
            spirit_mass * spirit.lower_heating_value + petrol_mass * petrol.lower_heating_value;
        assert_relative_eq!(blend.lower_heating_value, heat / mass, epsilon = 0.05e6);
        // Carbon per mass: kmol/kg of CH3O0.5 and CH1.87.
        let [spirit_carbon, petrol_carbon] = [spirit_mass / 23.034, petrol_mass / 13.896];
        let carbon = spirit_carbon + petrol_carbon;
        let hydrogen = 3.0 * spirit_carbon + 1.87 * petrol_carbon;
        assert_relative_eq!(
            blend.hydrogen_carbon_ratio,
            hydrogen / carbon,
            epsilon = 0.001
        );
        let oxygen = 0.5 * spirit_carbon / carbon;
        assert_relative_eq!(blend.oxygen_carbon_ratio, oxygen, epsilon = 0.0005);
    }
}
