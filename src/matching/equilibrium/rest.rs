//! Every turbo held at rest: where all marches start.

use super::shaft::{Equilibrium, range};
use crate::air_path::SuperchargerKind;
use crate::matching::balances::{LOOSE, TIGHT, solve_cold};
use crate::matching::equations::Equations;
use crate::matching::error::MatchError;
use crate::matching::setup::Setup;
use crate::matching::variables::Trial;

/// Filling of engines and displacement machines that a first guess counts with.
const USUAL_FILLING: f64 = 0.9;

/// Exponent of the density over the pressure ratio of stages with a cooler that a first guess counts
/// with.
const USUAL_DENSITY_EXPONENT: f64 = 0.85;

/// Everything solved with the turbos at rest, closely enough to start from.
pub(super) fn rest(equations: &mut Equations) -> Result<Trial, MatchError> {
    let start = first_trial(&equations.setup);
    solve_cold(equations, &start, LOOSE)
}

/// The match with every turbo held at rest and every gate shut.
pub(in crate::matching) fn at_rest(equations: &mut Equations) -> Result<Equilibrium, MatchError> {
    let start = first_trial(&equations.setup);
    solve_cold(equations, &start, TIGHT).map(Equilibrium::at)
}

/// A trial at rest: the climbs held at their lowest, the gates shut; the flow that engine or
/// displacement supercharger, whichever is larger, would sweep of the air outside, raised by the
/// given ratios.
pub(super) fn first_trial(setup: &Setup) -> Trial {
    let mut trial = Trial::empty();
    let density = setup.ambient.density(&setup.gas);
    let swept = setup.belts.iter().filter_map(|belt| {
        let SuperchargerKind::Displacement(machine) = &setup.supercharger(belt)?.kind else {
            return None;
        };
        Some(machine.displacement * machine.belt.ratio * setup.rpm / 60.0)
    });
    let engine = setup.installation.engine.swept_flow(setup.rpm);
    let parts = setup.installation.air_path.iter();
    let given = parts
        .filter_map(|part| part.given_ratio())
        .map(|table| table.at(setup.rpm));
    let raised = given.product::<f64>().powf(USUAL_DENSITY_EXPONENT);
    trial.x[0] = (USUAL_FILLING * density * raised * swept.fold(engine, f64::max)).ln();
    for (turbine, driven) in setup.driven.iter().enumerate() {
        trial.x[driven.climb] = range(setup, turbine).0;
        trial.x[driven.inlet] = 0.2;
    }
    trial
}
