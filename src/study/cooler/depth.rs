//! Where more depth stops paying: density gain against pressure drop for cores of other depths, at
//! the hardest point's own charge (its flow and its state ahead of the cooler held).
//!
//! Held, because the trade is the cooler's own: on an engine whose wastegate holds the manifold
//! pressure the turbine pays for every pascal unseen, and more depth would always seem to pay. What
//! the engine makes of the best depth is matched anew beside it.

use super::changed::{cooler_at, with_cooler};
use super::point::{CoolerPoint, EngineSide, least_transfer_units};
use crate::air_path::{AirState, Cooler};
use crate::gas::Gas;
use crate::matching::{Installation, LayoutError, Match, Solver};

/// Cores of other depths.
#[derive(Debug, Clone, PartialEq)]
pub struct Depths {
    /// Cores from the shallowest to the deepest.
    pub points: Vec<DepthPoint>,
    /// The depth with the largest density gain, among these.
    pub best: DepthPoint,
    /// Whether that is at an end of what was looked at.
    pub best_at_end: bool,
    /// The engine with the best depth, matched anew at the hardest speed; none without a match.
    pub engine_with_best: Option<EngineSide>,
    /// Whether the size follows an assumption, because only an effectiveness is known.
    pub assumed: bool,
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
    /// Density behind over density ahead.
    pub density_gain: f64,
}

/// Depths looked at, over the build's own.
const SHALLOWEST: f64 = 0.5;
const DEEPEST: f64 = 4.0;
/// Steps between them: a hundredth of the build's depth.
const STEPS: u32 = 350;
/// Of these every so many stands in the result, up to these depths: the latter past the best.
const SHOWN_EVERY: usize = 10;
const SHOWN_TO: f64 = 2.5;
const SHOWN_PAST_BEST: f64 = 0.5;

/// The depths of a cooler at its hardest point. `None` where it has no pressure drop, so that every
/// depth would pay.
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
    let gas = Solver::new(installation)?.gas().clone();
    let mut all = Vec::new();
    for step in 0..=STEPS {
        let factor = SHALLOWEST + (DEEPEST - SHALLOWEST) * f64::from(step) / f64::from(STEPS);
        let Some(point) = at_depth(cooler, &gas, hardest, factor) else {
            break;
        };
        all.push(point);
    }
    let best = all
        .iter()
        .max_by(|a, b| a.density_gain.total_cmp(&b.density_gain))
        .copied();
    let (Some(best), Some(last)) = (best, all.last()) else {
        return Ok(None);
    };
    let ends = [SHALLOWEST, last.factor];
    Ok(Some(Depths {
        best_at_end: ends.iter().any(|end| (best.factor - end).abs() < 1e-9),
        engine_with_best: engine_with(installation, part, hardest, best.factor),
        assumed: hardest.state.exchanger.is_none(),
        points: all
            .into_iter()
            .step_by(SHOWN_EVERY)
            .filter(|point| point.factor < SHOWN_TO.max(best.factor + SHOWN_PAST_BEST) + 1e-9)
            .collect(),
        best,
    }))
}

fn at_depth(cooler: &Cooler, gas: &Gas, hardest: &CoolerPoint, factor: f64) -> Option<DepthPoint> {
    let other = with_depth(cooler, hardest, factor)?;
    let inlet = AirState::new(gas, hardest.inlet_pressure, hardest.state.inlet_temperature).ok()?;
    let cooled = other
        .cool(gas, &inlet, hardest.charge_flow, hardest.rpm)
        .ok()?;
    // A core that leaves nothing of the pressure has no density either.
    (cooled.outlet.pressure > 0.0).then(|| DepthPoint {
        factor,
        effectiveness: cooled.effectiveness,
        pressure_drop: inlet.pressure - cooled.outlet.pressure,
        density_gain: cooled.outlet.density(gas) / inlet.density(gas),
    })
}

/// The cooler with its core deeper by a factor. Where only an effectiveness is known: transfer
/// units and pressure drop grow with the depth, and the sink does not warm.
fn with_depth(cooler: &Cooler, hardest: &CoolerPoint, factor: f64) -> Option<Cooler> {
    let units = least_transfer_units(hardest.state.effectiveness)?;
    let effectiveness = -(-units * factor).exp_m1();
    let mut other = super::changed::with_effectiveness(cooler, effectiveness);
    other.pressure_drop.coefficient *= factor;
    Some(other)
}

/// The engine with a core of another depth, matched anew at the hardest speed.
fn engine_with(
    installation: &Installation,
    part: usize,
    hardest: &CoolerPoint,
    factor: f64,
) -> Option<EngineSide> {
    let cooler = with_depth(cooler_at(installation, part)?, hardest, factor)?;
    let other = with_cooler(installation, part, cooler);
    let mut solver = Solver::new(&other).ok()?;
    let mut found = Match::default();
    solver.solve(hardest.rpm, &mut found).ok()?;
    EngineSide::new(solver.layout(), &found)
}
