//! What is asked of a run, and what comes of it.

use super::network::HeatPassed;
use crate::matching::{LayoutError, MatchError};

/// What is asked.
#[derive(Debug, Clone, Copy)]
pub struct SoakRequest {
    /// Which cooler, counted from 0 in flow order.
    pub cooler: usize,
    /// How long, s.
    pub seconds: f64,
    /// At which engine speed.
    pub speed: Speed,
    /// Temperature of metal and water at the start, K; without it they stand at the sink's.
    pub start: Option<f64>,
    /// Charge temperature in the manifold that must not be passed, K.
    pub target: Option<f64>,
}

/// The engine's speed over the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Speed {
    /// One speed, rpm.
    Held(f64),
    /// Evenly from one speed to another, rpm.
    Swept {
        /// At the start.
        from: f64,
        /// At the end.
        to: f64,
    },
}

/// One row of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoakRow {
    /// Time from the start, s.
    pub seconds: f64,
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Of the core's metal, K, where its mass is known.
    pub metal_temperature: Option<f64>,
    /// Of the water in the tank, K, where there is one.
    pub water_temperature: Option<f64>,
    /// Ice left, kg, where there was any.
    pub ice: Option<f64>,
    /// Of the charge behind the cooler, K.
    pub outlet_temperature: f64,
    /// Of the charge in the manifold, K.
    pub charge_temperature: f64,
    /// Absolute manifold pressure, Pa.
    pub manifold_pressure: f64,
    /// Brake power, W, where known.
    pub brake_power: Option<f64>,
    /// Heat out of the charge, W.
    pub heat: f64,
}

/// A run.
#[derive(Debug, Clone, PartialEq)]
pub struct SoakRun {
    /// Rows at even times from 0 to the end.
    pub rows: Vec<SoakRow>,
    /// When the charge first passed the target, s; 0 where it was hotter from the start.
    pub passed_at: Option<f64>,
    /// The hottest charge of the run, K.
    pub hottest: f64,
    /// When that was, s.
    pub hottest_at: f64,
    /// Heat that has passed, J.
    pub heat: HeatPassed,
    /// Heat stored by the core's metal, J, where its mass is known.
    pub stored_in_metal: Option<f64>,
    /// Heat stored by water and ice, J, where there is a tank.
    pub stored_in_water: Option<f64>,
    /// When the last ice melted, s.
    pub ice_gone_at: Option<f64>,
    /// Why the run ended early, where it did.
    pub stopped: Option<Stop>,
}

/// Where a run ends early.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// When, s.
    pub seconds: f64,
    /// Engine speed, rpm.
    pub rpm: f64,
    /// Why.
    pub reason: StopReason,
}

/// Why a run ends early.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StopReason {
    /// A moment has no match.
    NoMatch(MatchError),
    /// The water that leaves the cooler boils, K.
    Boils(f64),
}

/// Why there is no run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SoakError {
    /// Neither metal nor tank is known.
    NothingStores,
    /// There is no such cooler.
    NoCooler,
    /// The installation cannot be matched.
    Layout(LayoutError),
    /// Not even the start can be worked out.
    NoStart {
        /// Engine speed, rpm.
        rpm: f64,
        /// Why.
        reason: StopReason,
    },
}

impl From<MatchError> for StopReason {
    fn from(error: MatchError) -> Self {
        Self::NoMatch(error)
    }
}

impl From<LayoutError> for SoakError {
    fn from(error: LayoutError) -> Self {
        Self::Layout(error)
    }
}

impl SoakRun {
    /// One that has not begun.
    pub(super) fn empty() -> Self {
        Self {
            rows: Vec::new(),
            passed_at: None,
            hottest: 0.0,
            hottest_at: 0.0,
            heat: HeatPassed::default(),
            stored_in_metal: None,
            stored_in_water: None,
            ice_gone_at: None,
            stopped: None,
        }
    }
}
