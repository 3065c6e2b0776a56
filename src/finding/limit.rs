//! The limits that a build may set, and the rules of thumb where it says nothing.

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
}

/// Air temperature behind a supercharger, K (150 °C), past which rotors grow towards each other and
/// the case (common practice for a Roots machine without its own cooling).
pub(super) const USUAL_SUPERCHARGER_OUTLET: f64 = 423.15;
/// Air temperature behind a turbo compressor, K (200 °C), past which a cast aluminium wheel loses
/// life and hoses need care (common practice).
pub(super) const USUAL_COMPRESSOR_OUTLET: f64 = 473.15;
/// Surge margin at the same pressure ratio, a share of the flow: pulsation and map scatter take
/// about as much (common practice).
pub(super) const USUAL_SURGE_MARGIN: f64 = 0.10;
/// Mass of dry air per mass of fuel below which a diesel smokes (common practice: 18 to 20).
pub(super) const USUAL_SMOKE_LIMIT: f64 = 18.0;
/// Per cent of manifold pressure per 1 % of fuel past which small things move the answer by much.
pub(super) const USUAL_STEEPNESS: f64 = 2.0;
/// Excess of the studs' clamp over the gas force, a share of it: the gasket needs its share of the
/// clamp, and heat takes some (common practice: clamp of 1.5 times the gas force and more).
pub(super) const USUAL_CLAMP_MARGIN: f64 = 0.5;
/// Share of the time that an injector may stand open: past it, it hardly closes between two
/// injections (common practice: 80 to 90 %).
pub(super) const USUAL_INJECTOR_DUTY: f64 = 0.85;
/// Speed of a belt, m/s, past which pulleys want balancing and cast iron ones burst (common practice:
/// 33 m/s for cast iron, about 50 for steel).
pub(super) const USUAL_BELT_SPEED: f64 = 50.0;
