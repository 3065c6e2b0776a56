//! Pressure drops: rated figures, pipes.

/// Gas constant of dry air for turning a rating's pressure and temperature into a density,
/// J/(kg K) (ISO 2533).
const RATING_GAS_CONSTANT: f64 = 287.052_87;

/// A pressure drop rated at one flow: Δp = K m²/ρ, with the density ρ at the part's inlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedDrop {
    /// K in Δp = K m²/ρ, 1/m⁴.
    pub coefficient: f64,
}

impl RatedDrop {
    /// No drop at all.
    pub const NONE: Self = Self { coefficient: 0.0 };
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
        }
    }

    /// The drop in Pa at a mass flow in kg/s and the inlet density in kg/m³.
    pub fn pressure_drop(self, mass_flow: f64, density: f64) -> f64 {
        self.coefficient * mass_flow * mass_flow / density
    }
}

/// A pipe of the air path.
#[derive(Debug, Clone, PartialEq)]
pub struct Duct {
    /// How its pressure drop is known.
    pub pressure_drop: DuctPressureDrop,
}

/// How the pressure drop of a duct is known.
#[derive(Debug, Clone, PartialEq)]
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
