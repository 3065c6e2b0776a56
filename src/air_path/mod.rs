//! The parts between the air outside and the engine, in flow order. Each takes the state of the
//! air at its inlet and gives the state at its outlet. SI, total states, absolute pressures; knows
//! nothing of files, units or of how a match is found.

mod belt;
mod cooler;
mod displacement;
mod loss;
mod state;
mod supercharger;
mod turbo_compressor;

pub use belt::{BeltDrive, BeltKind, BeltLoad, BeltPath, wrap_angle};
pub use cooler::{
    Arrangement, Cooled, Cooler, Core, CoreError, CorePassage, CoreSizes, Correlated, Exchange,
    Exchanger, FanCurve, FanError, Fin, FinKind, Fluid, OutOfRange, Rated, RatedError, RatedFigure,
    RatedPoint, Side, SideConductance, Sink, SinkFlow, SinkFluid, SinkSide, WaterCircuit,
};
pub use displacement::{Displacement, Filling, NoLoad};
pub use loss::{Duct, DuctPressureDrop, RatedDrop};
pub use state::{AirState, compress, compress_by, isentropic_rise, stage_efficiency};
pub use supercharger::{Bypass, BypassAt, Centrifugal, Supercharger, SuperchargerKind};
pub use turbo_compressor::{CompressorPerformance, PrescribedStage, TurboCompressor};

use std::sync::Arc;

use crate::map::CompressorMap;
use crate::numeric::Schedule;

/// One element of the air path.
#[derive(Debug, Clone)]
pub enum Part {
    /// An air filter: a pressure drop.
    Filter(RatedDrop),
    /// A pipe.
    Duct(Duct),
    /// A stage driven by the engine's belt, or with a given pressure ratio.
    Supercharger(Box<Supercharger>),
    /// A stage driven by a turbine, or with a given pressure ratio.
    TurboCompressor(TurboCompressor),
    /// A charge cooler.
    Cooler(Cooler),
    /// A throttle: a pressure drop.
    Throttle(RatedDrop),
}

impl Part {
    /// The given pressure ratio over engine speed in rpm of a stage that has one.
    pub fn given_ratio(&self) -> Option<&Schedule> {
        let given = match self {
            Self::Supercharger(stage) => match &stage.kind {
                SuperchargerKind::Prescribed(given) => given,
                _ => return None,
            },
            Self::TurboCompressor(turbo) => match &turbo.performance {
                CompressorPerformance::Prescribed(given) => given,
                _ => return None,
            },
            _ => return None,
        };
        Some(&given.pressure_ratio)
    }

    /// The compressor map of a stage that has one: a turbo compressor's, or that of a supercharger
    /// with a wheel.
    pub fn compressor_map(&self) -> Option<&Arc<CompressorMap>> {
        match self {
            Self::TurboCompressor(turbo) => turbo.map.as_ref(),
            Self::Supercharger(stage) => match &stage.kind {
                SuperchargerKind::Centrifugal(machine) => Some(&machine.map),
                _ => None,
            },
            _ => None,
        }
    }
}
