//! The supercharger: a stage turned by the engine.

use std::sync::Arc;

use super::PrescribedStage;
use crate::map::{CompressorMap, SuperchargerMap};
use crate::numeric::Schedule;

/// A supercharger and the bypass around it.
#[derive(Debug, Clone)]
pub struct Supercharger {
    /// What kind of machine it is.
    pub kind: SuperchargerKind,
    /// Highest permitted speed of the shaft that the drive ratio turns, rpm.
    pub max_speed: Option<f64>,
    /// The way around it.
    pub bypass: Bypass,
    /// Where the clutch is engaged: 1 or 0 over engine speed in rpm, each up to the next row.
    /// Absent: always engaged.
    pub engaged: Option<Schedule>,
}

/// The kinds of supercharger.
#[derive(Debug, Clone)]
pub enum SuperchargerKind {
    /// Pressure ratio and efficiency given.
    Prescribed(PrescribedStage),
    /// Roots or screw.
    Displacement(Displacement),
    /// A compressor wheel turned by the belt.
    Centrifugal {
        /// Its map.
        map: Arc<CompressorMap>,
        /// The belt that turns it.
        belt: BeltDrive,
        /// Mechanical efficiency between its shaft and the air, over 0 to 1.
        mechanical_efficiency: f64,
    },
}

/// The way from the crank to the supercharger's shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeltDrive {
    /// Speed of the supercharger's shaft over engine speed.
    pub ratio: f64,
    /// Power at the shaft over power taken from the crank, over 0 to 1.
    pub efficiency: f64,
}

/// A positive-displacement machine.
#[derive(Debug, Clone)]
pub struct Displacement {
    /// Volume swept per revolution of the shaft that the drive ratio turns, m³.
    pub displacement: f64,
    /// The belt that turns it.
    pub belt: BeltDrive,
    /// What passes back through the gaps.
    pub filling: Filling,
    /// Internal volume ratio: 1 for Roots, above 1 for a screw.
    pub internal_volume_ratio: f64,
    /// Work by the ideal indicator diagram over the power given to the air, over 0 to 1.
    pub indicated_efficiency: f64,
    /// Power to the air over shaft power without the no-load part, over 0 to 1.
    pub mechanical_efficiency: f64,
    /// Shaft power at pressure ratio 1, W, and the shaft speed at which it was measured, rpm.
    pub no_load: Option<(f64, f64)>,
}

/// How much of the swept volume arrives.
#[derive(Debug, Clone)]
pub enum Filling {
    /// From the one-figure slip test: the shaft speed, rpm, that just holds 1 psi against a shut
    /// outlet.
    SlipSpeed(f64),
    /// From a map of volumetric efficiency.
    Map(Arc<SuperchargerMap>),
}

/// The way around the supercharger.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bypass {
    /// No way around.
    None,
    /// A flap that opens when the pressure ratio would fall below 1.
    Check {
        /// Pressure drop of the open flap, Pa.
        drop: f64,
    },
    /// A valve that returns air to the inlet to hold a pressure, and opens like a check flap.
    Regulated {
        /// The pressure held, Pa above the site's pressure.
        pressure: f64,
        /// Where it is held.
        at: BypassAt,
        /// Pressure drop of the open flap, Pa.
        drop: f64,
    },
}

/// Where a regulated bypass feels its pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BypassAt {
    /// At the supercharger's outlet.
    SuperchargerOutlet,
    /// At the engine's manifold.
    Manifold,
}
