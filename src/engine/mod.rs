//! The engine: what it swallows, what it burns, what it turns into work and heat. SI; knows
//! nothing of turbines or of how a match is found.

mod breathing;
mod crank;
mod cylinder;
mod delivery;
mod evaporation;
mod fuel;
mod head;
mod heat;
mod knock;
pub mod usual;

pub use crank::CrankPower;
pub use cylinder::{CylinderState, PeakBasis, Spread, Surroundings};
pub use delivery::Injectors;
pub use evaporation::{Evaporated, Evaporation};
pub use fuel::{Burned, Fuel, FuelKind, FuelProperties};
pub use head::{Head, Preload, Tightening, separation_factor};
pub use heat::{Burnt, Charge, CylinderEnds, CylinderEnergy, HeatError, air_moles, burn};
pub use usual::{EngineKind, UsualEngine, Volatility};

use crate::numeric::Schedule;

/// How many piston strokes make one working cycle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strokes {
    /// One working cycle per revolution.
    Two,
    /// One working cycle per two revolutions.
    Four,
}

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
    pub measured_at_drive_ratio: f64,
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
