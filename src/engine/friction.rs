//! The friction of an engine as meant.

/// Friction mean effective pressure: constant + peak_pressure_share × peak pressure + linear × u +
/// quadratic × u², with the mean piston speed u (Chen and Flynn, SAE 650733, from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// Pa.
    pub constant: f64,
    /// Share of the peak cylinder pressure.
    pub peak_pressure_share: f64,
    /// Pa per m/s of mean piston speed.
    pub linear: f64,
    /// Pa per (m/s)² of mean piston speed.
    pub quadratic: f64,
}

impl Friction {
    /// The coefficients where the build has no friction section (Chen and Flynn, SAE 650733, from
    /// memory, diesel).
    pub const CHEN_FLYNN: Self = Self {
        constant: 13_700.0,
        peak_pressure_share: 0.005,
        linear: 16_200.0,
        quadratic: 0.0,
    };
}
