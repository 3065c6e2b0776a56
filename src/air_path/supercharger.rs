//! The supercharger: a stage turned by the engine, and the bypass around it.

use std::sync::Arc;

use super::belt::{BeltDrive, BeltPath};
use super::displacement::Displacement;
use super::turbo_compressor::PrescribedStage;
use crate::map::CompressorMap;
use crate::numeric::Schedule;

/// A supercharger and the bypass around it.
#[derive(Debug, Clone)]
pub struct Supercharger {
    /// What kind of machine it is.
    pub kind: SuperchargerKind,
    /// Highest permitted speed of the shaft that the belt turns, rpm.
    pub max_speed: Option<f64>,
    /// Diameter of the rotors or the wheel over their tips, m, where given.
    pub rotor_diameter: Option<f64>,
    /// The belt's pulleys, where given.
    pub belt_path: Option<BeltPath>,
    /// What leads air around it.
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
    Centrifugal(Centrifugal),
}

/// A compressor wheel turned by the belt.
#[derive(Debug, Clone)]
pub struct Centrifugal {
    /// Its map.
    pub map: Arc<CompressorMap>,
    /// The belt that turns it.
    pub belt: BeltDrive,
    /// Power to the air over shaft power, over 0 to 1.
    pub mechanical_efficiency: f64,
}

/// What leads air around a supercharger.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bypass {
    /// Nothing: a pressure ratio below 1 is a real answer.
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

impl Bypass {
    /// Pressure drop of the open bypass in Pa; `None` where there is none.
    pub fn open_drop(self) -> Option<f64> {
        match self {
            Self::None => None,
            Self::Check { drop } | Self::Regulated { drop, .. } => Some(drop),
        }
    }
}

/// Where a regulated bypass feels its pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BypassAt {
    /// At the supercharger's outlet.
    SuperchargerOutlet,
    /// At the engine's manifold.
    Manifold,
}

impl Supercharger {
    /// Whether the clutch is engaged at an engine speed in rpm.
    pub fn is_engaged(&self, rpm: f64) -> bool {
        self.engaged
            .as_ref()
            .is_none_or(|table| table.at(rpm) > 0.5)
    }

    /// The belt, where there is one.
    pub fn belt(&self) -> Option<BeltDrive> {
        match &self.kind {
            SuperchargerKind::Prescribed(_) => None,
            SuperchargerKind::Displacement(machine) => Some(machine.belt),
            SuperchargerKind::Centrifugal(machine) => Some(machine.belt),
        }
    }
}
