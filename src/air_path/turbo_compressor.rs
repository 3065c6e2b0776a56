//! The compressor of a turbocharger.

use std::sync::Arc;

use crate::map::CompressorMap;
use crate::numeric::Schedule;

/// A stage whose pressure ratio is given.
#[derive(Debug, Clone, PartialEq)]
pub struct PrescribedStage {
    /// Outlet pressure over inlet pressure, over engine speed in rpm.
    pub pressure_ratio: Schedule,
    /// Isentropic efficiency, over 0 to 1, over engine speed in rpm. Absent where a map gives it.
    pub efficiency: Option<Schedule>,
}

/// What is known of a compressor's performance.
#[derive(Debug, Clone)]
pub enum CompressorPerformance {
    /// Pressure ratio given; the stage is not driven by a turbine of the build.
    Prescribed(PrescribedStage),
    /// One isentropic efficiency wherever it runs; its speed is unknown.
    Efficiency(Schedule),
    /// Flow, pressure ratio and efficiency from the map of the compressor.
    Map,
}

/// The compressor of a turbocharger.
#[derive(Debug, Clone)]
pub struct TurboCompressor {
    /// What is known of its performance.
    pub performance: CompressorPerformance,
    /// Its map, where there is one: needed by [`CompressorPerformance::Map`]; beside given ratios
    /// it is drawn, checked against, and gives the efficiency where none is written.
    pub map: Option<Arc<CompressorMap>>,
    /// Highest permitted shaft speed, rpm.
    pub max_speed: Option<f64>,
}
