//! One step of the march: everything solved at one value of a shaft's climb.

use super::shaft::{Shaft, range};
use crate::matching::balances::{LOOSE, solve};
use crate::matching::error::MatchError;
use crate::matching::variables::{GateMode, Trial};
use crate::numeric::crossing::{Crossing, crossings};

/// How far the boost of a step of the march may pass its limit before that counts as reached,
/// relative: three times as far as steps are solved.
pub(super) const STEP_AT_THE_LIMIT: f64 = 1e-4;

/// One step of the march.
#[derive(Debug, Clone, Copy)]
pub(super) struct MarchStep {
    /// Value of the climb.
    pub at: f64,
    /// Turbine power less compressor power, W.
    pub excess: f64,
    /// Boost beyond its limit, relative; below 0 without gate.
    pub beyond: f64,
    /// All values there.
    pub trial: Trial,
}

/// Every change of sign of the excess.
pub(super) fn crossings_of(steps: &[MarchStep]) -> Vec<Crossing> {
    crossings(steps.iter().map(|step| (step.at, step.excess)))
}

/// Solves everything at one value of a climb; turbines later in series find their own equilibrium.
pub(super) fn step_at(shaft: &mut Shaft, at: f64, near: &Trial) -> Result<MarchStep, MatchError> {
    let turbine = shaft.turbine;
    let mut trial = *near;
    trial.x[shaft.driven().climb] = at;
    trial.held[turbine] = true;
    let setup = &shaft.equations.setup;
    let later = turbine + 1..setup.driven.len();
    for later in later.clone() {
        let driven = setup.driven[later];
        trial.held[later] = true;
        trial.gates[later] = GateMode::Fixed;
        trial.x[driven.climb] = range(setup, later).0;
        if let Some(gate) = driven.gate {
            trial.x[gate] = 0.0;
        }
    }
    let mut solved = solve(shaft.equations, &trial, LOOSE)?;
    if !later.is_empty() {
        solved = (shaft.equilibrium_of_later)(shaft.equations, turbine + 1, &solved)?.trial;
    }
    Ok(MarchStep {
        at,
        excess: shaft.excess(&solved),
        beyond: shaft.boost_beyond_limit(&solved).unwrap_or(-1.0),
        trial: solved,
    })
}
