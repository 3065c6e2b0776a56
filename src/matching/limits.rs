//! The limits that a build may set.

/// What the builder does not want passed. SI, pressures absolute; absent where nothing was said.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Limits {
    /// Manifold pressure, Pa absolute.
    pub max_manifold_pressure: Option<f64>,
    /// Charge temperature in the manifold, K.
    pub max_charge_temperature: Option<f64>,
    /// Exhaust temperature at the turbine inlet, K.
    pub max_exhaust_temperature: Option<f64>,
    /// Peak cylinder pressure, Pa.
    pub max_cylinder_pressure: Option<f64>,
    /// Drive pressure over manifold pressure, both absolute.
    pub max_drive_pressure_ratio: Option<f64>,
    /// Air temperature at the supercharger's outlet, K.
    pub max_supercharger_outlet_temperature: Option<f64>,
    /// Air temperature at a turbo compressor's outlet, K.
    pub max_compressor_outlet_temperature: Option<f64>,
    /// Smallest surge margin, a share of the flow.
    pub min_surge_margin: Option<f64>,
    /// Smallest excess of the studs' clamp over the gas force on the head, a share of that force.
    pub min_clamp_margin: Option<f64>,
    /// Share of the time that injectors may stand open.
    pub max_injector_duty: Option<f64>,
    /// Pull of the belt on the supercharger's shaft, N.
    pub max_belt_pull: Option<f64>,
    /// Speed of the supercharger's rotor tips, m/s.
    pub max_rotor_tip_speed: Option<f64>,
    /// Mean piston speed, m/s.
    pub max_piston_speed: Option<f64>,
}
