//! A mixture of species as one gas.

use thiserror::Error;

use super::polynomial::{HIGHEST_TEMPERATURE, Joined, LOWEST_TEMPERATURE, ThermalValues};
use super::species::{Coefficients, SPECIES};
use super::{MOLAR_GAS_CONSTANT, REFERENCE_TEMPERATURE};

/// Amounts of the species, mol, in the order of [`SPECIES`].
pub type Moles = [f64; 7];

/// What a gas cannot answer.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum GasError {
    /// A temperature outside 200 to 6000 K, K.
    #[error("a temperature of {0} K lies outside the 200 to 6000 K of the gas data")]
    Temperature(f64),
    /// No temperature between 200 and 6000 K has this enthalpy, J/kg from 298.15 K.
    #[error("an enthalpy of {0} J/kg belongs to no temperature between 200 and 6000 K")]
    Enthalpy(f64),
    /// No temperature between 200 and 6000 K has this entropy, J/(kg K).
    #[error("an entropy of {0} J/(kg K) belongs to no temperature between 200 and 6000 K")]
    Entropy(f64),
}

/// A mixture of fixed composition, mixed once into one set of polynomials.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gas {
    molar_mass: f64,
    gas_constant: f64,
    polynomials: Joined,
}

impl Gas {
    /// Mixes amounts of species; only their proportions matter, and at least one must be above 0.
    pub fn mix(moles: &Moles) -> Self {
        let total: f64 = moles.iter().sum();
        let mass: f64 = SPECIES
            .iter()
            .zip(moles)
            .map(|(s, n)| s.molar_mass() * n)
            .sum();
        let (mut lower, mut upper): (Coefficients, Coefficients) = ([0.0; 9], [0.0; 9]);
        for (species, amount) in SPECIES.iter().zip(moles) {
            // Per kilogram of the mixture: n_i R / m.
            let weight = amount * MOLAR_GAS_CONSTANT / mass;
            let data = species.data();
            for i in 0..9 {
                lower[i] += weight * data.lower[i];
                upper[i] += weight * data.upper[i];
            }
        }
        Self {
            molar_mass: mass / total,
            gas_constant: MOLAR_GAS_CONSTANT * total / mass,
            polynomials: Joined::new(lower, upper, REFERENCE_TEMPERATURE),
        }
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        self.molar_mass
    }

    /// Gas constant, J/(kg K).
    pub fn gas_constant(&self) -> f64 {
        self.gas_constant
    }

    /// Heat capacity at constant pressure at a temperature in K, J/(kg K).
    pub fn cp(&self, t: f64) -> Result<f64, GasError> {
        Ok(self.values(t)?.cp)
    }

    /// Ratio of heat capacities at a temperature in K.
    pub fn gamma(&self, t: f64) -> Result<f64, GasError> {
        let cp = self.cp(t)?;
        Ok(cp / (cp - self.gas_constant))
    }

    /// Sensible enthalpy from 298.15 K at a temperature in K, J/kg.
    pub fn enthalpy(&self, t: f64) -> Result<f64, GasError> {
        Ok(self.values(t)?.h)
    }

    /// Entropy at the reference pressure (s°) at a temperature in K, J/(kg K).
    pub fn entropy(&self, t: f64) -> Result<f64, GasError> {
        Ok(self.values(t)?.s)
    }

    /// Enthalpy in J/kg and s° in J/(kg K) at a temperature in K, for the price of one.
    pub fn enthalpy_and_entropy(&self, t: f64) -> Result<(f64, f64), GasError> {
        let values = self.values(t)?;
        Ok((values.h, values.s))
    }

    /// Density at an absolute pressure in Pa and a temperature in K, kg/m³.
    pub fn density(&self, pressure: f64, temperature: f64) -> f64 {
        pressure / (self.gas_constant * temperature)
    }

    /// The temperature in K at which the enthalpy is `h` J/kg. `guess` in K only saves steps.
    pub fn temperature_at_enthalpy(&self, h: f64, guess: f64) -> Result<f64, GasError> {
        // dh/dT = cp > 0, so that h rises and the root is the only one.
        let found = self.invert(guess, |v, _| (v.h - h, v.cp));
        found.map(|(t, _)| t).ok_or(GasError::Enthalpy(h))
    }

    /// The temperature in K at which s° is `s` J/(kg K). `guess` in K only saves steps.
    pub fn temperature_at_entropy(&self, s: f64, guess: f64) -> Result<f64, GasError> {
        self.state_at_entropy(s, guess).map(|(t, _)| t)
    }

    /// The temperature in K and the enthalpy in J/kg at which s° is `s` J/(kg K). `guess` in K only
    /// saves steps.
    pub fn state_at_entropy(&self, s: f64, guess: f64) -> Result<(f64, f64), GasError> {
        // ds°/dT = cp/T > 0.
        self.invert(guess, |v, t| (v.s - s, v.cp / t))
            .ok_or(GasError::Entropy(s))
    }

    fn values(&self, t: f64) -> Result<ThermalValues, GasError> {
        if (LOWEST_TEMPERATURE..=HIGHEST_TEMPERATURE).contains(&t) {
            Ok(self.polynomials.at(t))
        } else {
            Err(GasError::Temperature(t))
        }
    }

    /// Newton's method on a rising function of temperature, kept inside a shrinking bracket.
    /// `f` gives the residual and its slope. The temperature of the root and the enthalpy there;
    /// `None` where the range holds no root.
    ///
    /// The last step is carried to the second order with the curvature that the last two slopes
    /// show, which leaves errors of its third power: below rounding where it ends.
    fn invert(
        &self,
        guess: f64,
        f: impl Fn(ThermalValues, f64) -> (f64, f64),
    ) -> Option<(f64, f64)> {
        let (mut low, mut high) = (LOWEST_TEMPERATURE, HIGHEST_TEMPERATURE);
        let mut t = if guess > low && guess < high {
            guess
        } else {
            500.0
        };
        let mut before: Option<(f64, f64, f64)> = None;
        for _ in 0..80 {
            let values = self.polynomials.at(t);
            let (residual, slope) = f(values, t);
            if !residual.is_finite() {
                return None;
            }
            if residual > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let step = -residual / slope;
            let next = t + step;
            let curved = before.filter(|(t0, ..)| Joined::is_one_range(*t0, t));
            let (enough, bend, cp_bend) = match curved {
                Some((t0, slope0, cp0)) => {
                    let per_kelvin = 1.0 / (t - t0);
                    let bend = (slope - slope0) * per_kelvin / slope;
                    (1e-5, bend, (values.cp - cp0) * per_kelvin)
                }
                None => (1e-8, 0.0, 0.0),
            };
            if step.abs() <= enough * t {
                let step = step * (1.0 - 0.5 * bend * step);
                let t = t + step;
                let inside = (LOWEST_TEMPERATURE..=HIGHEST_TEMPERATURE).contains(&t);
                return inside.then_some((t, values.h + step * (values.cp + 0.5 * cp_bend * step)));
            }
            before = Some((t, slope, values.cp));
            t = if next > low && next < high {
                next
            } else {
                0.5 * (low + high)
            };
            if high - low <= 1e-12 * high {
                break;
            }
        }
        // The bracket has closed: on a root, or on an end of the range that has none.
        let inside = low > LOWEST_TEMPERATURE && high < HIGHEST_TEMPERATURE;
        inside.then(|| (t, self.polynomials.at(t).h))
    }
}

#[cfg(test)]
mod tests {
    use super::super::HumidAir;
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn any_gas() -> impl Strategy<Value = Gas> {
        prop::array::uniform7(0.01..1.0_f64).prop_map(|moles| Gas::mix(&moles))
    }

    proptest! {
        #[test]
        fn temperature_comes_back_from_enthalpy_and_from_entropy(
            gas in any_gas(), t in 200.0..6000.0_f64, guess in 0.0..9000.0_f64,
        ) {
            let (h, s) = gas.enthalpy_and_entropy(t).unwrap();
            prop_assert!((gas.temperature_at_enthalpy(h, guess).unwrap() / t - 1.0).abs() < 1e-10);
            prop_assert!((gas.temperature_at_entropy(s, guess).unwrap() / t - 1.0).abs() < 1e-10);
        }

        /// dh/dT = cp and ds°/dT = cp/T: central differences over 0.2 K, whose own error is below
        /// 1e-6 relative for polynomials as smooth as these.
        #[test]
        fn enthalpy_and_entropy_rise_with_the_heat_capacity(
            gas in any_gas(), t in 201.0..5999.0_f64,
        ) {
            prop_assume!((t - 1000.0).abs() > 1.0);
            let (h0, s0) = gas.enthalpy_and_entropy(t - 0.1).unwrap();
            let (h1, s1) = gas.enthalpy_and_entropy(t + 0.1).unwrap();
            let cp = gas.cp(t).unwrap();
            prop_assert!(((h1 - h0) / 0.2 / cp - 1.0).abs() < 1e-6);
            prop_assert!(((s1 - s0) / 0.2 / (cp / t) - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn enthalpy_and_entropy_meet_at_the_joint_to_the_last_digit() {
        let air = HumidAir::dry().gas();
        let below = air.enthalpy_and_entropy(1000.0_f64.next_down()).unwrap();
        let above = air.enthalpy_and_entropy(1000.0).unwrap();
        assert_relative_eq!(below.0, above.0, max_relative = 1e-14);
        assert_relative_eq!(below.1, above.1, max_relative = 1e-14);
    }

    #[test]
    fn a_temperature_outside_the_data_is_an_error() {
        let air = HumidAir::dry().gas();
        for t in [199.9, 6000.1, f64::NAN, f64::INFINITY, -1.0] {
            assert!(air.enthalpy(t).is_err(), "{t}");
        }
        assert!(air.temperature_at_enthalpy(1e8, 300.0).is_err());
        assert!(air.temperature_at_enthalpy(-1e6, 300.0).is_err());
        assert!(air.temperature_at_entropy(f64::NAN, 300.0).is_err());
    }
}
