//! The air outside: the International Standard Atmosphere (ISO 2533, lower layer) and what is
//! measured in its place. Knows altitudes and weather, nothing of engines.

/// Standard pressure at sea level, Pa (ISO 2533).
pub const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
/// Standard temperature at sea level, K (ISO 2533).
pub const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// Highest altitude of the lower layer, m.
pub const HIGHEST_ALTITUDE: f64 = 11_000.0;
/// Fall of temperature with geopotential altitude, K/m (ISO 2533).
const LAPSE: f64 = 0.0065;
/// Radius of the Earth that turns geometric into geopotential altitude, m (ISO 2533).
const EARTH_RADIUS: f64 = 6_356_766.0;
/// Standard acceleration of gravity, m/s² (ISO 2533).
const GRAVITY: f64 = 9.806_65;
/// Gas constant of the standard's air, J/(kg K) (ISO 2533).
const STANDARD_GAS_CONSTANT: f64 = 287.052_87;

/// The place where the engine runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Absolute pressure of the air there, Pa.
    pub pressure: f64,
    /// Temperature of the air there, K.
    pub temperature: f64,
    /// Relative humidity, 0 to 1: over liquid water above 0.01 °C, over ice below.
    pub relative_humidity: f64,
    /// Geometric altitude above sea level, m, where it was given.
    pub altitude: Option<f64>,
}

/// The standard atmosphere at one altitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardAir {
    /// Absolute pressure, Pa.
    pub pressure: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Density, kg/m³, with the standard's own gas constant.
    pub density: f64,
}

/// The standard atmosphere at a geometric altitude in m (ISO 2533, lower layer).
/// `None` above 11 km, and so far below sea level (5 km) that no road leads there.
pub fn standard_air(altitude: f64) -> Option<StandardAir> {
    if !(-5_000.0..=HIGHEST_ALTITUDE).contains(&altitude) {
        return None;
    }
    let geopotential = EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude);
    let temperature = SEA_LEVEL_TEMPERATURE - LAPSE * geopotential;
    let exponent = GRAVITY / (STANDARD_GAS_CONSTANT * LAPSE);
    let pressure = SEA_LEVEL_PRESSURE * (temperature / SEA_LEVEL_TEMPERATURE).powf(exponent);
    let density = pressure / (STANDARD_GAS_CONSTANT * temperature);
    Some(StandardAir {
        pressure,
        temperature,
        density,
    })
}
