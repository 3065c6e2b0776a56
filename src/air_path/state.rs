//! The air at one place, and the two ways of compressing it.

use crate::gas::{Gas, GasError};

/// Below this |ln pressure ratio| a stage has no efficiency worth the name.
const NO_COMPRESSION: f64 = 1e-6;

/// Total state of the air at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirState {
    /// Absolute pressure, Pa.
    pub pressure: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Sensible enthalpy from 298.15 K, J/kg.
    pub enthalpy: f64,
}

impl AirState {
    /// The state at an absolute pressure in Pa and a temperature in K.
    pub fn new(gas: &Gas, pressure: f64, temperature: f64) -> Result<Self, GasError> {
        Ok(Self {
            pressure,
            temperature,
            enthalpy: gas.enthalpy(temperature)?,
        })
    }

    /// The state at an absolute pressure in Pa and an enthalpy in J/kg.
    pub fn with_enthalpy(
        gas: &Gas,
        pressure: f64,
        enthalpy: f64,
        guess: f64,
    ) -> Result<Self, GasError> {
        let temperature = gas.temperature_at_enthalpy(enthalpy, guess)?;
        Ok(Self {
            pressure,
            temperature,
            enthalpy,
        })
    }

    /// Density, kg/m³.
    pub fn density(&self, gas: &Gas) -> f64 {
        gas.density(self.pressure, self.temperature)
    }

    /// The same air behind a pressure drop in Pa, without heat or work.
    #[must_use]
    pub fn dropped(self, pressure_drop: f64) -> Self {
        Self {
            pressure: self.pressure - pressure_drop,
            ..self
        }
    }
}

/// Isentropic enthalpy rise in J/kg for a pressure ratio: s°(T2s) = s°(T1) + R ln PR,
/// h2s − h1 (any textbook of thermodynamics with variable heat capacity, e.g. Moran and Shapiro,
/// §6.11). Negative below a ratio of 1.
pub fn isentropic_rise(gas: &Gas, inlet: &AirState, pressure_ratio: f64) -> Result<f64, GasError> {
    let s1 = gas.entropy(inlet.temperature)?;
    let ln_ratio = pressure_ratio.ln();
    let s2s = s1 + gas.gas_constant() * ln_ratio;
    // (γ−1)/γ of cold air is 0.2857; a guess only.
    let guess = inlet.temperature * (0.2857 * ln_ratio).exp();
    let (_, h2s) = gas.state_at_entropy(s2s, guess)?;
    Ok(h2s - inlet.enthalpy)
}

/// Outlet of a stage with an isentropic efficiency: h2 = h1 + (h2s − h1)/efficiency.
pub fn compress(
    gas: &Gas,
    inlet: &AirState,
    pressure_ratio: f64,
    efficiency: f64,
) -> Result<AirState, GasError> {
    let rise = isentropic_rise(gas, inlet, pressure_ratio)? / efficiency;
    compress_by(gas, inlet, pressure_ratio, rise)
}

/// Outlet of a stage that raises the enthalpy by `rise` J/kg.
pub fn compress_by(
    gas: &Gas,
    inlet: &AirState,
    pressure_ratio: f64,
    rise: f64,
) -> Result<AirState, GasError> {
    let guess = inlet.temperature + rise / 1010.0;
    AirState::with_enthalpy(
        gas,
        inlet.pressure * pressure_ratio,
        inlet.enthalpy + rise,
        guess,
    )
}

/// Isentropic over actual enthalpy rise between two states. `None` where there is no compression
/// or no work.
pub fn stage_efficiency(gas: &Gas, inlet: &AirState, outlet: &AirState) -> Option<f64> {
    let pressure_ratio = outlet.pressure / inlet.pressure;
    let rise = outlet.enthalpy - inlet.enthalpy;
    if pressure_ratio.ln() < NO_COMPRESSION || rise <= 0.0 {
        return None;
    }
    Some(isentropic_rise(gas, inlet, pressure_ratio).ok()? / rise)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas::HumidAir;
    use approx::assert_relative_eq;

    /// 28 °C, ratio 2.05, efficiency 0.62: 138.0 °C with Cantera, 138.07 °C with CoolProp, both
    /// with variable heat capacity. A rise of 110 K is not a temperature of 110 °C.
    #[test]
    fn outlet_temperature_is_the_inlet_plus_the_rise() {
        let gas = HumidAir::dry().gas();
        let inlet = AirState::new(&gas, 100e3, 301.15).unwrap();
        let outlet = compress(&gas, &inlet, 2.05, 0.62).unwrap();
        assert_relative_eq!(outlet.temperature - 273.15, 138.0, epsilon = 0.2);
        assert_relative_eq!(
            stage_efficiency(&gas, &inlet, &outlet).unwrap(),
            0.62,
            epsilon = 1e-12
        );
    }

    #[test]
    fn a_stage_that_does_nothing_has_no_efficiency() {
        let gas = HumidAir::dry().gas();
        let inlet = AirState::new(&gas, 100e3, 301.15).unwrap();
        assert_eq!(stage_efficiency(&gas, &inlet, &inlet), None);
        assert_eq!(stage_efficiency(&gas, &inlet, &inlet.dropped(5e3)), None);
    }
}
