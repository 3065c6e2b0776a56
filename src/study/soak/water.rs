//! The water of a closed circuit with ice in it, by its heat content.

use crate::air_path::WaterCircuit;

/// Density of water, kg/m³ (IAPWS-95 at 20 °C and 101.325 kPa: 998.21).
pub const DENSITY: f64 = 998.21;
/// Heat capacity of water, J/(kg K) (IAPWS-95 at 20 °C and 101.325 kPa: 4184.1; from 0 to 90 °C
/// within 0.9 %).
pub const HEAT_CAPACITY: f64 = 4184.1;
/// Heat that melts ice, J/kg (CRC Handbook of Chemistry and Physics, from memory).
pub const MELTING_HEAT: f64 = 333.55e3;
/// Where it melts, K.
pub const MELTING_POINT: f64 = 273.15;

/// Water and ice of a tank, well mixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    /// Water's temperature, K; with ice that of melting ice.
    pub temperature: f64,
    /// Ice left, kg.
    pub ice: f64,
    /// Heat capacity of all water, melted ice with it, J/K.
    pub capacity: f64,
}

impl Tank {
    /// The tank where a run starts. With ice in it the water stands at 0 °C, whatever was said.
    pub fn new(circuit: &WaterCircuit, temperature: f64) -> Self {
        let water = DENSITY * circuit.tank_volume;
        Self {
            temperature: if circuit.ice_mass > 0.0 {
                MELTING_POINT
            } else {
                temperature
            },
            ice: circuit.ice_mass,
            capacity: HEAT_CAPACITY * (water + circuit.ice_mass),
        }
    }

    /// Heat that it holds above another state of the same tank, J.
    pub fn heat_above(&self, other: &Self) -> f64 {
        self.capacity * (self.temperature - other.temperature)
            - MELTING_HEAT * (self.ice - other.ice)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn ice_holds_the_tank_at_its_melting_point_and_counts_as_heat_not_yet_taken() {
        let circuit = WaterCircuit {
            tank_volume: 0.010,
            ice_mass: 2.0,
            radiator_conductance: 0.0,
            pressure: 101_325.0,
        };
        let start = Tank::new(&circuit, 300.0);
        assert_relative_eq!(start.temperature, 273.15);
        let melted = Tank {
            ice: 0.0,
            temperature: 283.15,
            ..start
        };
        // 2 kg × 333.55 kJ/kg + (9.9821 + 2) kg × 4.1841 kJ/(kg K) × 10 K.
        assert_relative_eq!(melted.heat_above(&start), 1_168_443.0, max_relative = 1e-5);
    }
}
