//! The power curve: what a turbine gives beyond what its compressor takes, along the march from rest.

use super::from_rest::shaft_of;
use super::rest::rest;
use super::step::{STEP_AT_THE_LIMIT, step_at};
use crate::matching::equations::Equations;
use crate::matching::error::MatchError;

/// One step of the power curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerPoint {
    /// Turbo speed over the top speed of its map, or ln of the pressure ratio without one.
    pub climb: f64,
    /// Turbine power at the compressor less the compressor's own, W.
    pub excess: f64,
    /// Manifold (or compressor outlet) pressure over the boost limit, less 1; −1 without a gate.
    pub beyond_limit: f64,
}

/// Equal steps from rest, each solved from the one before.
pub(in crate::matching) fn power_curve(
    equations: &mut Equations,
    count: u32,
) -> Result<Vec<PowerPoint>, MatchError> {
    let mut curve = Vec::new();
    if equations.setup.driven.is_empty() || count == 0 {
        return Ok(curve);
    }
    let mut trial = rest(equations)?;
    let shaft = &mut shaft_of(equations, 0);
    let (from, to) = shaft.range();
    for k in 0..=count {
        let at = from + (to - from) * f64::from(k) / f64::from(count);
        match step_at(shaft, at, &trial) {
            Ok(step) => {
                trial = step.trial;
                curve.push(PowerPoint {
                    climb: at,
                    excess: step.excess,
                    beyond_limit: step.beyond,
                });
            }
            Err(fault) if curve.is_empty() => return Err(fault),
            Err(_) => break,
        }
        if curve[curve.len() - 1].beyond_limit > STEP_AT_THE_LIMIT {
            break;
        }
    }
    Ok(curve)
}
