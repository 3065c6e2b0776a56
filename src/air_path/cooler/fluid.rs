//! Properties of air and water that heat transfer needs. K, Pa s, W/(m K), J/(kg K), kg/m³.
//!
//! Held against CoolProp in tests/outside/fluid_reference.rs.

use crate::gas::{Gas, GasError};

/// Lowest and highest temperature of the water's fits, K.
const WATER: (f64, f64) = (273.15, 393.15);

/// T_0 of Sutherland's law, K.
const ZERO: f64 = 273.15;

/// What a stream brings to a surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluid {
    /// Density, kg/m³.
    pub density: f64,
    /// Heat capacity at constant pressure, J/(kg K).
    pub heat_capacity: f64,
    /// Dynamic viscosity, Pa s.
    pub viscosity: f64,
    /// Thermal conductivity, W/(m K).
    pub conductivity: f64,
}

impl Fluid {
    /// Air (a gas like it) at an absolute pressure and a temperature. Viscosity and conductivity
    /// are those of dry air at low pressure.
    pub fn air(gas: &Gas, pressure: f64, temperature: f64) -> Result<Self, GasError> {
        let power = three_halves(temperature);
        Ok(Self {
            density: gas.density(pressure, temperature),
            heat_capacity: gas.cp(temperature)?,
            viscosity: VISCOSITY.at(temperature, power),
            conductivity: CONDUCTIVITY.at(temperature, power),
        })
    }

    /// Liquid water without anything against frost: least-squares fits to values of IAPWS-95 and
    /// its companions (CoolProp 8.0.0) at 400 kPa from 0 to 120 °C, beyond which the end values
    /// hold; cp within 0.06 %, viscosity 0.4 %, conductivity 0.2 %, density 0.04 %.
    pub fn water(temperature: f64) -> Self {
        let t = temperature.clamp(WATER.0, WATER.1) - 273.15;
        let power =
            |coefficients: &[f64]| coefficients.iter().rev().fold(0.0, |sum, c| sum * t + c);
        Self {
            density: power(&[1000.32, -4.52522e-3, -5.31982e-3, 1.171e-5]),
            heat_capacity: power(&[4215.5, -2.55578, 5.7393e-2, -4.96198e-4, 1.76734e-6]),
            viscosity: power(&[-6.32895, -3.35046e-2, 2.63907e-4, -1.55621e-6, 4.20696e-9]).exp(),
            conductivity: power(&[0.556954, 2.3066e-3, -1.39185e-5, 2.86806e-8]),
        }
    }

    /// Pr = μ cp/k.
    pub fn prandtl(&self) -> f64 {
        self.viscosity * self.heat_capacity / self.conductivity
    }
}

/// Sutherland's law: x = x_0 (T/T_0)^(3/2) (T_0 + S)/(T + S), T_0 = 273.15 K.
struct Sutherland {
    at_zero: f64,
    constant: f64,
}

/// White, Viscous Fluid Flow, table 1-2, from memory; within 1.5 % of CoolProp from 250 to 500 K.
const VISCOSITY: Sutherland = Sutherland {
    at_zero: 1.716e-5,
    constant: 110.4,
};
/// White, Viscous Fluid Flow, table 1-3, from memory; within 1.7 % of CoolProp from 250 to 500 K.
const CONDUCTIVITY: Sutherland = Sutherland {
    at_zero: 0.0241,
    constant: 194.0,
};

impl Sutherland {
    /// At a temperature in K with its [`three_halves`].
    fn at(&self, t: f64, power: f64) -> f64 {
        self.at_zero * power * (ZERO + self.constant) / (t + self.constant)
    }
}

/// (T/T_0)^(3/2): a root costs a tenth of a power.
fn three_halves(t: f64) -> f64 {
    let ratio = t / ZERO;
    ratio * ratio.sqrt()
}

/// Dynamic viscosity of air in Pa s at a temperature in K.
pub fn air_viscosity(t: f64) -> f64 {
    VISCOSITY.at(t, three_halves(t))
}
