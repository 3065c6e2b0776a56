//! The engine: what it swallows, what it burns, what it turns into work and heat. SI; knows
//! nothing of turbines or of how a match is found.

mod breathing;
mod crank;
mod cylinder;
mod delivery;
mod evaporation;
mod friction;
mod fuel;
mod head;
mod heat;
mod kinds;
mod knock;
mod spread;
pub mod typical;

pub use crank::CrankPower;
pub use cylinder::{CylinderState, PeakBasis, Surroundings};
pub use delivery::Injectors;
pub use evaporation::{Evaporated, Evaporation, Volatility};
pub use friction::Friction;
pub use fuel::{Fuel, FuelProperties, Fuelling};
pub use head::{Head, Preload, Tightening, separation_factor};
pub use heat::{Burnt, Charge, CylinderEnds, CylinderEnergy, HeatError, air_moles, burn};
pub use kinds::{EngineKind, FuelKind, Strokes};
pub use spread::Spread;
pub use typical::TypicalEngine;

use crate::numeric::Schedule;

/// The engine's speeds that a line runs over: from, by steps, always ending on `to`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeedRange {
    /// First speed, rpm.
    pub from: f64,
    /// Last speed, rpm; equal to `from` for one point.
    pub to: f64,
    /// Step, rpm.
    pub step: f64,
}

/// The engine as meant.
#[derive(Debug, Clone)]
pub struct Engine {
    /// How the charge is lit, where known.
    pub kind: Option<EngineKind>,
    /// Swept volume of all cylinders, m³.
    pub displacement: f64,
    /// Number of cylinders, where given.
    pub cylinders: Option<u32>,
    /// Bore, m, where given or known from displacement, stroke and cylinders.
    pub bore: Option<f64>,
    /// Stroke, m, where given.
    pub stroke: Option<f64>,
    /// Strokes per working cycle.
    pub strokes: Strokes,
    /// Geometric compression ratio, above 1, where given.
    pub compression_ratio: Option<f64>,
    /// Volumetric efficiency on manifold density over engine speed in rpm (delivery ratio of a
    /// two-stroke).
    pub volumetric_efficiency: Schedule,
    /// Exhaust pressure over manifold pressure at which the volumetric efficiency was measured.
    pub measured_at_exhaust_pressure_ratio: f64,
    /// The speeds of the operating line.
    pub speeds: SpeedRange,
    /// Combustion, where given.
    pub combustion: Option<Combustion>,
    /// Friction.
    pub friction: Friction,
    /// Head and studs, where given.
    pub head: Option<Head>,
}

/// What becomes of the heat released.
#[derive(Debug, Clone)]
pub struct Combustion {
    /// Work of the compression and expansion strokes over heat released, over engine speed in rpm.
    pub gross_indicated_efficiency: Schedule,
    /// Heat to the walls (cylinders, ports, manifold as far as the turbine) over heat released,
    /// over engine speed in rpm.
    pub heat_loss_share: Schedule,
    /// Peak pressure over compression pressure, where given, over engine speed in rpm.
    pub pressure_rise_ratio: Option<Schedule>,
}
