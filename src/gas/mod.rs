//! Ideal-gas mixtures: species data, mixtures as one gas, humid air, combustion products.
//!
//! SI throughout: K, Pa, J/kg, J/(kg K). Enthalpy is sensible, counted from 298.15 K; entropy is
//! the part that hangs on temperature alone (s°). Valid from 200 to 6000 K: a temperature outside
//! is an error, never a number. Knows nothing of engines.

mod combustion;
mod humid_air;
mod mixture;
mod polynomial;
mod species;

pub use combustion::{BurnError, FuelFormula, Products};
pub use humid_air::{HumidAir, HumidityError, saturation_pressure, saturation_temperature};
pub use mixture::{Gas, GasError, Moles};
pub use polynomial::{HIGHEST_TEMPERATURE, LOWEST_TEMPERATURE};
pub use species::{SPECIES, Species};

/// Molar gas constant, J/(mol K) (CODATA 2018, exact).
pub const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618;

/// Temperature from which enthalpy is counted, K.
pub const REFERENCE_TEMPERATURE: f64 = 298.15;
