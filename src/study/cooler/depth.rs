//! Where more depth stops paying: density gain against pressure drop for cores of other depths, at
//! the hardest point's own charge (its flow and its state ahead of the cooler held).
//!
//! Of a core of known sizes, depth is what the cooling side runs along: more of it gives more
//! conductance and the charge more channels side by side; it costs the cooling side its flow, where
//! that hangs on a drop. A given effectiveness and a rated point have no shape: there UA and the
//! charge's drop are taken to grow together, as if the charge passed more core one after the other;
//! and the sink of a given effectiveness as not warming.
//!
//! Held, because the trade is the cooler's own: on an engine whose wastegate holds the manifold
//! pressure the turbine pays for every pascal unseen. What the engine makes of the depth is matched
//! anew beside it.
//!
//! More depth *pays* as long as a tenth more brings [`WORTH`] more density.

use super::changed::{cooler_at, matched};
use super::point::{CoolerPoint, EngineSide};
use crate::air_path::{AirState, Cooler};
use crate::gas::Gas;
use crate::matching::{Installation, LayoutError, Solver};

/// Cores of other depths.
#[derive(Debug, Clone, PartialEq)]
pub struct Depths {
    /// Cores from the shallowest to the deepest.
    pub points: Vec<DepthPoint>,
    /// The depth up to which more pays.
    pub pays_to: DepthPoint,
    /// Where in the looked-at range that lies.
    pub place: PaysTo,
    /// The engine with that depth, matched anew at the hardest speed; none without a match.
    pub engine: Option<EngineSide>,
    /// Whether the size follows an assumption, because the core's shape is not known.
    pub assumed: bool,
}

/// Where more depth stops paying.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaysTo {
    /// Within what was looked at.
    Inside,
    /// Already at the shallowest more does not pay.
    Shallowest,
    /// Still at the deepest more would pay.
    Deepest,
}

/// A core of one depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DepthPoint {
    /// Depth over the build's own.
    pub factor: f64,
    /// Of the charge side.
    pub effectiveness: f64,
    /// Of the charge, Pa.
    pub pressure_drop: f64,
    /// Of the sink, Pa, where known.
    pub sink_pressure_drop: Option<f64>,
    /// Density behind over density ahead.
    pub density_gain: f64,
}

/// More density that a tenth more depth has to bring (our choice: about as much power, which a
/// builder would not feel).
pub const WORTH: f64 = 0.005;
/// Depths looked at, over the build's own.
const SHALLOWEST: f64 = 0.5;
/// Step between them, as far as four times.
const STEP: f64 = 0.01;
const STEPS: u32 = 350;
/// Of these every so many stands in the result, up to these depths: the latter past the answer.
const SHOWN_EVERY: usize = 10;
const SHOWN_TO: f64 = 2.5;
const SHOWN_PAST: f64 = 0.5;

/// The depths of a cooler at its hardest point. `None` where it has no pressure drop to weigh
/// against.
pub(super) fn depths(
    installation: &Installation,
    part: usize,
    hardest: &CoolerPoint,
) -> Result<Option<Depths>, LayoutError> {
    let Some(cooler) = cooler_at(installation, part) else {
        return Ok(None);
    };
    if hardest.state.pressure_drop <= 0.0 {
        return Ok(None);
    }
    let gas = *Solver::new(installation)?.gas();
    let factors = (0..=STEPS).map(|step| SHALLOWEST + STEP * f64::from(step));
    let all: Vec<DepthPoint> = factors
        .map_while(|factor| at_depth(cooler, &gas, hardest, factor))
        .collect();
    let Some((place, pays_to)) = pays_to(&all) else {
        return Ok(None);
    };
    let shown_to = SHOWN_TO.max(pays_to.factor + SHOWN_PAST) + 1e-9;
    Ok(Some(Depths {
        engine: engine_with(installation, part, hardest, pays_to.factor),
        assumed: cooler.core().is_none(),
        points: all
            .into_iter()
            .step_by(SHOWN_EVERY)
            .filter(|point| point.factor < shown_to)
            .collect(),
        pays_to,
        place,
    }))
}

/// The first depth at which a tenth more brings too little. By the slope between neighbours,
/// d ln(gain)/d ln(depth) × ln 1.1.
fn pays_to(all: &[DepthPoint]) -> Option<(PaysTo, DepthPoint)> {
    let slope = |pair: &[DepthPoint]| {
        (pair[1].density_gain / pair[0].density_gain).ln() / (pair[1].factor / pair[0].factor).ln()
    };
    let enough = |pair: &[DepthPoint]| slope(pair) * 1.1_f64.ln() < WORTH;
    match all.windows(2).position(enough) {
        Some(0) => Some((PaysTo::Shallowest, all[0])),
        Some(at) => Some((PaysTo::Inside, all[at])),
        None => all.last().map(|&last| (PaysTo::Deepest, last)),
    }
}

fn at_depth(cooler: &Cooler, gas: &Gas, hardest: &CoolerPoint, factor: f64) -> Option<DepthPoint> {
    let inlet = AirState::new(gas, hardest.inlet_pressure, hardest.state.inlet_temperature).ok()?;
    let cooled = with_depth(cooler, factor)
        .cool(gas, &inlet, hardest.charge_flow, hardest.rpm)
        .ok()?;
    // A core that leaves nothing of the pressure has no density either.
    (cooled.outlet.pressure > 0.0).then(|| DepthPoint {
        factor,
        effectiveness: cooled.effectiveness,
        pressure_drop: inlet.pressure - cooled.outlet.pressure,
        sink_pressure_drop: cooled.exchanger.and_then(|one| one.sink_pressure_drop),
        density_gain: cooled.outlet.density(gas) / inlet.density(gas),
    })
}

/// The cooler with its core deeper by a factor.
fn with_depth(cooler: &Cooler, factor: f64) -> Cooler {
    if cooler.core().is_some() {
        return cooler.with_depth_scaled(factor);
    }
    let mut deeper = cooler.with_conductance_scaled(factor);
    deeper.pressure_drop.coefficient *= factor;
    deeper
}

/// The engine with a core of another depth, matched anew at the hardest speed.
fn engine_with(
    installation: &Installation,
    part: usize,
    point: &CoolerPoint,
    factor: f64,
) -> Option<EngineSide> {
    let cooler = with_depth(cooler_at(installation, part)?, factor);
    matched(installation, part, cooler, point.rpm, &mut { point.place }).map(|(_, engine)| engine)
}
