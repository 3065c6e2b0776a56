//! Dry air, water vapour in it, and the saturation pressure that ties vapour to humidity.

use thiserror::Error;

use super::mixture::{Gas, Moles};
use super::species::SPECIES;
use crate::numeric::root;

/// Mole fractions of dry air in the order of [`SPECIES`]: N2, O2, Ar, CO2 (today's mean
/// composition by volume; ISO 2533 has 78.084, 20.9476, 0.934, 0.0314 %).
const DRY_AIR: Moles = [0.780_848, 0.209_390, 0.009_332, 0.000_430, 0.0, 0.0, 0.0];
/// Water's place among the species.
const WATER: usize = 4;
/// Where ice takes the place of liquid water, K (0.01 °C, the triple point).
const TRIPLE_POINT: f64 = 273.16;

/// Why there is no such air.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum HumidityError {
    /// The temperature in K lies outside the range of the saturation formula.
    #[error("the saturation pressure is known from 173.15 to 473.15 K, not at {0} K")]
    Temperature(f64),
    /// The vapour would need more pressure than there is.
    #[error("water vapour of {vapour} Pa does not fit into air of {pressure} Pa")]
    TooMuchVapour {
        /// Partial pressure of the vapour, Pa.
        vapour: f64,
        /// Absolute pressure of the air, Pa.
        pressure: f64,
    },
}

/// Air with its water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HumidAir {
    water_fraction: f64,
    gas: Gas,
}

impl HumidAir {
    /// Air without water.
    pub fn dry() -> Self {
        Self::with_water_fraction(0.0)
    }

    /// Air at an absolute pressure in Pa, a temperature in K and a relative humidity of 0 to 1.
    pub fn new(
        pressure: f64,
        temperature: f64,
        relative_humidity: f64,
    ) -> Result<Self, HumidityError> {
        if relative_humidity <= 0.0 {
            return Ok(Self::dry());
        }
        let vapour = relative_humidity * saturation_pressure(temperature)?;
        if vapour < pressure {
            Ok(Self::with_water_fraction(vapour / pressure))
        } else {
            Err(HumidityError::TooMuchVapour { vapour, pressure })
        }
    }

    fn with_water_fraction(water_fraction: f64) -> Self {
        let mut moles = DRY_AIR.map(|fraction| fraction * (1.0 - water_fraction));
        moles[WATER] = water_fraction;
        Self {
            water_fraction,
            gas: Gas::mix(&moles),
        }
    }

    /// The mixture as one gas.
    pub fn gas(&self) -> Gas {
        self.gas
    }

    /// Mole fraction of water.
    pub fn water_fraction(&self) -> f64 {
        self.water_fraction
    }

    /// Mass of water per mass of dry air.
    pub fn humidity_ratio(&self) -> f64 {
        let x = self.water_fraction;
        x / (1.0 - x) * SPECIES[WATER].molar_mass() / dry_molar_mass()
    }

    /// Mass of dry air per mass of this air.
    pub fn dry_share(&self) -> f64 {
        1.0 / (1.0 + self.humidity_ratio())
    }

    /// Amounts of the species in as much of this air as holds 1 kg of dry air, mol.
    pub fn moles_per_dry_kilogram(&self) -> Moles {
        let dry = 1.0 / dry_molar_mass();
        let mut moles = DRY_AIR.map(|fraction| fraction * dry);
        moles[WATER] = dry * self.water_fraction / (1.0 - self.water_fraction);
        moles
    }
}

/// Molar mass of dry air, kg/mol.
fn dry_molar_mass() -> f64 {
    let mass: f64 = SPECIES
        .iter()
        .zip(DRY_AIR)
        .map(|(s, x)| s.molar_mass() * x)
        .sum();
    mass / DRY_AIR.iter().sum::<f64>()
}

/// Saturation pressure of water vapour in Pa at a temperature in K: over liquid water above
/// 0.01 °C, over ice below (Hyland and Wexler 1983, as in ASHRAE Fundamentals, psychrometrics,
/// eq. 5 and 6). Valid from −100 to 200 °C.
pub fn saturation_pressure(t: f64) -> Result<f64, HumidityError> {
    if !(173.15..=473.15).contains(&t) {
        return Err(HumidityError::Temperature(t));
    }
    let ln_p = if t > TRIPLE_POINT {
        -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t.powi(2)
            - 1.445_209_3e-8 * t.powi(3)
            + 6.545_967_3 * t.ln()
    } else {
        -5.674_535_9e3 / t + 6.392_524_7 - 9.677_843_0e-3 * t
            + 6.221_570_1e-7 * t.powi(2)
            + 2.074_782_5e-9 * t.powi(3)
            - 9.484_024_0e-13 * t.powi(4)
            + 4.163_501_9 * t.ln()
    };
    Ok(ln_p.exp())
}

/// Temperature in K at which water vapour of a pressure in Pa is saturated: its dew point, and where
/// water under that pressure boils. `None` outside the range of [`saturation_pressure`].
pub fn saturation_temperature(pressure: f64) -> Option<f64> {
    let wanted = pressure.ln();
    let left = |t: f64| saturation_pressure(t).map_or(f64::NAN, |p| p.ln() - wanted);
    // The formulas for ice and for water miss each other by 1e-4 at the triple point.
    root::between(173.15, 473.15, left, 1e-13, 1e-11).place()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_fractions_of_dry_air_add_up_to_one() {
        assert_relative_eq!(DRY_AIR.iter().sum::<f64>(), 1.0, epsilon = 1e-12);
    }

    /// PsychroLib 2.5.0 at 100 kPa, 38 °C, 90 %: density 1.0944, of its dry part 1.0528 kg/m³,
    /// humidity ratio 0.03948, water 0.0597 of the molecules (half of the last digit, and 0.02 %
    /// for the two compositions of dry air).
    #[test]
    fn density_of_moist_air_is_not_that_of_its_dry_part() {
        let air = HumidAir::new(100e3, 311.15, 0.90).unwrap();
        let density = air.gas().density(100e3, 311.15);
        assert_relative_eq!(density, 1.0944, max_relative = 3e-4);
        assert_relative_eq!(density * air.dry_share(), 1.0528, max_relative = 3e-4);
        assert_relative_eq!(air.humidity_ratio(), 0.03948, max_relative = 5e-4);
        assert_relative_eq!(air.water_fraction(), 0.0597, max_relative = 1e-3);
    }

    /// Steam tables: 100 °C at 101.42 kPa, 120.21 °C at 200 kPa, 179.88 °C at 1 MPa.
    #[test]
    fn saturation_temperature_is_that_of_the_steam_tables() {
        for (pressure, celsius) in [(101.42e3, 100.0), (200e3, 120.21), (1e6, 179.88)] {
            let found = saturation_temperature(pressure).unwrap();
            assert_relative_eq!(found - 273.15, celsius, epsilon = 0.05);
        }
        for t in [180.0, 260.0, 273.0, 273.3, 300.0, 470.0] {
            let back = saturation_temperature(saturation_pressure(t).unwrap());
            assert_relative_eq!(back.unwrap(), t, max_relative = 1e-11);
        }
        assert_eq!(saturation_temperature(2e6), None);
        assert_eq!(saturation_temperature(0.0), None);
    }

    #[test]
    fn more_vapour_than_pressure_is_refused() {
        assert!(matches!(
            HumidAir::new(5e3, 311.15, 0.90),
            Err(HumidityError::TooMuchVapour { .. })
        ));
        assert!(HumidAir::new(100e3, 500.0, 0.5).is_err());
    }
}
