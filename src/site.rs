//! The air outside: the International Standard Atmosphere (ISO 2533, lower layer).

/// Standard pressure at sea level, Pa (ISO 2533).
pub const SEA_LEVEL_PRESSURE: f64 = 101_325.0;

/// Standard pressure at a geometric altitude in metres, Pa, up to 11 km (ISO 2533).
pub fn standard_pressure(altitude: f64) -> f64 {
    let geopotential = 6_356_766.0 * altitude / (6_356_766.0 + altitude);
    SEA_LEVEL_PRESSURE * (1.0 - 0.0065 * geopotential / 288.15).powf(9.80665 / (287.05287 * 0.0065))
}
