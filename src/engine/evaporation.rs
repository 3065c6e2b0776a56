//! Fuel that evaporates into the charge ahead of the valves cools it and takes room in it.
//!
//! Per kg of moist air with f kg of fuel and the share x of it as vapour:
//! h_air(T) = h_air(T_before) − x f (L + c (T − 298.15 K)), with L at 25 °C, from which all enthalpies
//! count, and the vapour's heat capacity c. The vapour's mole fraction
//! y = n_fuel/(n_air + n_fuel) takes its part of the manifold's pressure (Dalton), the air has the
//! rest. No more evaporates than the vapour's pressure allows: y p ≤ p_s(T), with
//! p_s = p_25 exp(L M/R (1/298.15 K − 1/T)) (Clausius–Clapeyron). Nothing condenses otherwise, and
//! humidity stays vapour.
//!
//! The heat taken here comes back in the cylinders' balance, whose fuel enters as a liquid at
//! 298.15 K.

use crate::gas::Gas;
use crate::numeric::bracketed::first_not_below;

/// Molar gas constant, J/(mol K) (CODATA 2018, exact to these digits).
const MOLAR_GAS_CONSTANT: f64 = 8.314_462_618;
/// Temperature of the volatility's figures, K.
const REFERENCE: f64 = 298.15;

/// Most passes over the charge's temperature, and the change that ends them, relative.
const PASSES: usize = 40;
const ROUNDING: f64 = 1e-15;

/// How a fuel evaporates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Volatility {
    /// Heat of evaporation at 25 °C, J/kg.
    pub latent_heat: f64,
    /// Heat capacity of its vapour, J/(kg K).
    pub vapour_heat_capacity: f64,
    /// kg/mol.
    pub molar_mass: f64,
    /// Vapour pressure at 25 °C, Pa.
    pub vapour_pressure: f64,
}

/// Fuel that is meant to evaporate ahead of the valves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporation {
    /// Share of the fuel that would evaporate if the vapour found room, 0 to 1.
    pub share: f64,
    /// How the fuel evaporates.
    pub volatility: Volatility,
}

/// What evaporated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporated {
    /// Share of the fuel that is vapour.
    pub share: f64,
    /// Mole fraction of the vapour in the charge.
    pub vapour_fraction: f64,
    /// Heat taken from the air, J per kg of moist air.
    pub heat: f64,
    /// Temperature of the charge, K.
    pub temperature: f64,
    /// Whether the vapour's pressure held some of it back.
    pub is_held_back: bool,
}

impl Volatility {
    /// Vapour pressure in Pa at a temperature in K.
    pub fn vapour_pressure_at(&self, temperature: f64) -> f64 {
        let slope = self.latent_heat * self.molar_mass / MOLAR_GAS_CONSTANT;
        self.vapour_pressure * (slope * (1.0 / REFERENCE - 1.0 / temperature)).exp()
    }
}

impl Evaporation {
    /// Temperature in K and heat taken from the air in J/kg where `vapour` kg per kg of air of a
    /// temperature in K and an enthalpy in J/kg evaporated. Each pass shrinks the error by the
    /// vapour's heat capacity over the air's, a tenth at most.
    fn cooled(&self, gas: &Gas, (before, enthalpy): (f64, f64), vapour: f64) -> Option<(f64, f64)> {
        let Volatility {
            latent_heat,
            vapour_heat_capacity,
            ..
        } = self.volatility;
        let mut t = before;
        for _ in 0..PASSES {
            let heat = vapour * (latent_heat + vapour_heat_capacity * (t - REFERENCE));
            let next = gas.temperature_at_enthalpy(enthalpy - heat, t).ok()?;
            let change = (next - t).abs();
            t = next;
            if change <= ROUNDING * t {
                break;
            }
        }
        Some((t, enthalpy - gas.enthalpy(t).ok()?))
    }

    /// What evaporates of `fuel_per_air` kg of fuel per kg of moist air, in air of an absolute
    /// pressure in Pa, a temperature in K and a sensible enthalpy in J/kg. `None` where the gas
    /// leaves every range.
    pub fn into_air(
        &self,
        gas: &Gas,
        (pressure, temperature, enthalpy): (f64, f64, f64),
        fuel_per_air: f64,
    ) -> Option<Evaporated> {
        let fuel = fuel_per_air / self.volatility.molar_mass;
        let air = 1.0 / gas.molar_mass();
        let at = |share: f64| {
            let (temperature, heat) =
                self.cooled(gas, (temperature, enthalpy), share * fuel_per_air)?;
            let vapour_fraction = share * fuel / (air + share * fuel);
            Some(Evaporated {
                share,
                vapour_fraction,
                heat,
                temperature,
                is_held_back: false,
            })
        };
        // Positive where more would be vapour than has room; where it is too cold for the gas too.
        let excess = |share: f64| {
            at(share).map_or(1.0, |there| {
                let room = self.volatility.vapour_pressure_at(there.temperature);
                there.vapour_fraction * pressure / room - 1.0
            })
        };
        if excess(self.share) <= 0.0 {
            return at(self.share);
        }
        let share = first_not_below(|x| (excess(x), 0.0), (0.0, self.share), 0.0, 0.0);
        at(share).map(|there| Evaporated {
            is_held_back: true,
            ..there
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::FuelKind;
    use crate::gas::HumidAir;
    use approx::assert_relative_eq;

    fn cooled(kind: FuelKind, share: f64, fuel_per_air: f64, temperature: f64) -> Evaporated {
        let gas = HumidAir::new(101_325.0, 298.15, 0.0).unwrap().gas();
        let state = (200e3, temperature, gas.enthalpy(temperature).unwrap());
        let evaporation = Evaporation {
            share,
            volatility: kind.volatility().unwrap(),
        };
        evaporation.into_air(&gas, state, fuel_per_air).unwrap()
    }

    /// By hand with cp 1007 J/(kg K): half of 0.07 kg of petrol per kg of air takes 12.25 kJ and 1.10 kJ
    /// to warm from 25 to 43.7 °C: 13.26 K.
    #[test]
    fn petrol_cools_the_charge_by_its_latent_heat() {
        let there = cooled(FuelKind::Petrol, 0.5, 0.07, 330.0);
        assert!(!there.is_held_back);
        assert_relative_eq!(330.0 - there.temperature, 13.26, max_relative = 5e-3);
        // 0.035/105 over 1/28.96 moles.
        assert_relative_eq!(there.vapour_fraction, 0.009_56, max_relative = 2e-3);
    }

    #[test]
    fn nothing_evaporates_at_a_share_of_nothing() {
        let there = cooled(FuelKind::Methanol, 0.0, 0.18, 330.0);
        assert_relative_eq!(there.temperature, 330.0, max_relative = 1e-12);
        assert_relative_eq!(there.vapour_fraction, 0.0);
    }

    /// All of a methanol engine's fuel would cool the charge by 200 K; the vapour's pressure stops
    /// it where both meet.
    #[test]
    fn methanol_stops_where_its_vapour_is_saturated() {
        let there = cooled(FuelKind::Methanol, 1.0, 0.18, 330.0);
        assert!(there.is_held_back && there.share < 0.4, "{there:?}");
        let room = FuelKind::Methanol
            .volatility()
            .unwrap()
            .vapour_pressure_at(there.temperature);
        assert_relative_eq!(there.vapour_fraction * 200e3, room, max_relative = 1e-9);
        assert!(there.temperature > 270.0, "{there:?}");
    }
}
