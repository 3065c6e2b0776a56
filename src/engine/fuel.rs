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
