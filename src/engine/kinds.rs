//! The kinds of engine and fuel that are known by name.

/// How many piston strokes make one working cycle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strokes {
    /// One working cycle per revolution.
    Two,
    /// One working cycle per two revolutions.
    Four,
}

/// How the charge is lit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EngineKind {
    /// By compression.
    Diesel,
    /// By a spark.
    SparkIgnition,
}

/// Fuels known by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FuelKind {
    /// Road diesel.
    Diesel,
    /// Road petrol.
    Petrol,
    /// Pure ethanol.
    Ethanol,
    /// Pure methanol.
    Methanol,
    /// 85 % by volume ethanol in petrol.
    E85,
}
