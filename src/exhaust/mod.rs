//! What the exhaust passes: turbine, wastegate, pipe. SI, absolute pressures; knows nothing of the
//! air path or of how a match is found.

mod nozzle;
mod turbine;

pub use nozzle::{critical_ratio, flow_function, flow_function_and_choking, inlet_pressure};
pub use turbine::Expansion;

use std::sync::Arc;

use crate::air_path::RatedDrop;
use crate::map::TurbineMap;
use crate::numeric::Schedule;

/// A turbine and the gate around it.
#[derive(Debug, Clone)]
pub struct Turbine {
    /// What it swallows.
    pub swallowing: Swallowing,
    /// Its efficiency, total to static.
    pub efficiency: TurbineEfficiency,
    /// Power of the turbo compressor over power of the wheel, over 0 to 1.
    pub mechanical_efficiency: f64,
    /// Which turbo compressor it drives, counted from 0 in flow order of the air.
    pub drives: usize,
    /// The gate around it, where there is one.
    pub wastegate: Option<Wastegate>,
}

/// What a turbine swallows.
#[derive(Debug, Clone)]
pub enum Swallowing {
    /// As one nozzle of an effective area.
    Area {
        /// m², discharge coefficient inside.
        effective_area: f64,
        /// How the flow rises with the expansion ratio.
        law: FlowLaw,
    },
    /// As its map says.
    Map(Arc<TurbineMap>),
}

/// How the flow through an effective area rises with the expansion ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FlowLaw {
    /// One throat takes the whole expansion: chokes near an expansion ratio of 1.85.
    Nozzle,
    /// Two throats share it: chokes near 3.4.
    TwoThroats,
}

/// The efficiency of a turbine, total to static.
#[derive(Debug, Clone)]
pub enum TurbineEfficiency {
    /// One figure, over 0 to 1.
    Figure(f64),
    /// A parabola over blade speed ratio; needs the shaft's speed.
    BladeSpeed {
        /// Best efficiency, over 0 to 1.
        best: f64,
        /// Wheel diameter, m.
        wheel_diameter: f64,
    },
    /// As its map says.
    Map,
}

/// The gate that lets exhaust pass around the turbine.
#[derive(Debug, Clone)]
pub struct Wastegate {
    /// Pressure that it holds, Pa above the site's pressure, over engine speed in rpm.
    pub boost_limit: Schedule,
    /// Where it feels the boost.
    pub boost_at: BoostAt,
    /// How far it opens.
    pub opening: GateOpening,
}

/// Where a wastegate feels the boost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoostAt {
    /// At the engine's manifold.
    Manifold,
    /// At the outlet of the turbo compressor it belongs to.
    CompressorOutlet,
}

/// How far a wastegate opens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GateOpening {
    /// At most this share of the exhaust flow passes it, 0 to 1.
    LargestShare(f64),
    /// From the valve's diameter, m.
    ValveDiameter(f64),
}

/// The pipe behind the last turbine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExhaustPipe {
    /// Its pressure drop, with the density of the products ahead of it.
    pub pressure_drop: RatedDrop,
}
