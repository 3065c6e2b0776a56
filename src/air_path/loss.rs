//! Pressure drops: rated figures, pipes.

use super::cooler::air_viscosity;

/// Gas constant of dry air for turning a rating's pressure and temperature into a density,
/// J/(kg K) (ISO 2533).
const RATING_GAS_CONSTANT: f64 = 287.052_87;
/// Loss coefficient of a 90° bend with a middle radius of about 1.5 diameters (common practice;
/// handbooks give 0.2 to 0.4).
const BEND_LOSS: f64 = 0.3;
/// Roughness of a drawn tube or a smooth hose, m (common practice; handbooks give 1.5 µm for drawn
/// tube, 45 µm for steel pipe).
const ROUGHNESS: f64 = 10e-6;

/// A pressure drop rated at one flow: Δp = K m²/ρ, with the density ρ at the part's inlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedDrop {
    /// K in Δp = K m²/ρ, 1/m⁴.
    pub coefficient: f64,
    /// The flow that it was rated at, kg/s, where it was.
    pub at_flow: Option<f64>,
}

impl RatedDrop {
    /// No drop at all.
    pub const NONE: Self = Self {
        coefficient: 0.0,
        at_flow: None,
    };
    /// Absolute pressure at which a drop is rated unless said otherwise, Pa.
    pub const RATING_PRESSURE: f64 = 101_325.0;
    /// Temperature at which a drop is rated unless said otherwise, K (20 °C).
    pub const RATING_TEMPERATURE: f64 = 293.15;

    /// From a drop in Pa at a flow in kg/s (above 0), rated with dry air at an absolute pressure
    /// in Pa and a temperature in K at the part's inlet.
    pub fn rated(pressure_drop: f64, at_flow: f64, at_pressure: f64, at_temperature: f64) -> Self {
        let density = at_pressure / (RATING_GAS_CONSTANT * at_temperature);
        Self {
            coefficient: pressure_drop * density / (at_flow * at_flow),
            at_flow: Some(at_flow),
        }
    }

    /// The drop in Pa at a mass flow in kg/s and the inlet density in kg/m³.
    pub fn pressure_drop(self, mass_flow: f64, density: f64) -> f64 {
        self.coefficient * mass_flow * mass_flow / density
    }
}

/// A pipe of the air path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duct {
    /// How its pressure drop is known.
    pub pressure_drop: DuctPressureDrop,
}

/// How the pressure drop of a duct is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DuctPressureDrop {
    /// From a rated figure.
    Rated(RatedDrop),
    /// From its dimensions, by Darcy–Weisbach with a loss coefficient for each bend.
    Pipe {
        /// Inner diameter, m.
        diameter: f64,
        /// Length along the middle line, m.
        length: f64,
        /// Number of 90° bends.
        bends: f64,
    },
}

impl Duct {
    /// The drop in Pa at a mass flow in kg/s, the inlet density in kg/m³ and temperature in K.
    pub fn pressure_drop(&self, mass_flow: f64, density: f64, temperature: f64) -> f64 {
        match self.pressure_drop {
            DuctPressureDrop::Rated(drop) => drop.pressure_drop(mass_flow, density),
            DuctPressureDrop::Pipe {
                diameter,
                length,
                bends,
            } => {
                let area = std::f64::consts::PI * diameter * diameter / 4.0;
                let reynolds = mass_flow * diameter / (area * air_viscosity(temperature));
                let friction = friction_factor(reynolds, ROUGHNESS / diameter);
                let losses = friction * length / diameter + bends * BEND_LOSS;
                losses * mass_flow * mass_flow / (2.0 * density * area * area)
            }
        }
    }
}

/// Darcy friction factor: 64/Re below a Reynolds number of 2000, Haaland (1983, from memory) above
/// 4000, straight between.
fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    let haaland = |re: f64| {
        let inner = (relative_roughness / 3.7).powf(1.11) + 6.9 / re;
        (-1.8 * inner.log10()).powi(-2)
    };
    if reynolds <= 0.0 {
        return 0.0;
    }
    if reynolds < 2000.0 {
        return 64.0 / reynolds;
    }
    if reynolds > 4000.0 {
        return haaland(reynolds);
    }
    let share = (reynolds - 2000.0) / 2000.0;
    (1.0 - share) * 64.0 / 2000.0 + share * haaland(4000.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_rated_drop_comes_back_at_its_own_rating() {
        let drop = RatedDrop::rated(1500.0, 0.25, 101_325.0, 293.15);
        assert_relative_eq!(
            drop.pressure_drop(0.25, 101_325.0 / (287.052_87 * 293.15)),
            1500.0
        );
        assert!(
            RatedDrop::rated(0.0, 0.25, 101_325.0, 293.15)
                .pressure_drop(1.0, 1.0)
                .abs()
                < 1e-12
        );
    }

    /// Moody chart by the Colebrook equation, solved by hand iteration: Re 1e5 and smooth 0.01799,
    /// Re 1e6 and ε/D 0.001 0.01994. Haaland's formula is within 2 % of Colebrook's.
    #[test]
    fn friction_is_within_two_per_cent_of_the_moody_chart() {
        assert_relative_eq!(friction_factor(1e5, 0.0), 0.01799, max_relative = 0.02);
        assert_relative_eq!(friction_factor(1e6, 0.001), 0.01994, max_relative = 0.02);
        assert_relative_eq!(friction_factor(1000.0, 0.0), 0.064);
    }

    #[test]
    fn no_flow_has_no_drop() {
        let pipe = DuctPressureDrop::Pipe {
            diameter: 0.06,
            length: 1.0,
            bends: 2.0,
        };
        let drop = Duct {
            pressure_drop: pipe,
        }
        .pressure_drop(0.0, 1.2, 300.0);
        assert!(drop.abs() < f64::EPSILON);
    }
}
