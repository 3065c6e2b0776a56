//! What it means that a march met no equilibrium.

use super::shaft::{Equilibrium, Shaft};
use super::step::MarchStep;
use crate::matching::balances::{TIGHT, solve_near};
use crate::matching::error::MatchError;

/// Work that counts as none, J per kilogram of air: a billionth of what a stage takes; rounding of
/// enthalpies of about 3e5 J/kg stays a thousandfold below it.
const NOTHING: f64 = 1e-4;

/// Whether wheel and compressor do no work to speak of.
pub(super) fn is_idle(step: &MarchStep) -> bool {
    step.excess.abs() <= NOTHING * step.trial.x[0].exp()
}

/// No equilibrium between rest and the end: it is at rest already, or there is none.
pub(super) fn at_an_end(shaft: &mut Shaft, steps: &[MarchStep]) -> Result<Equilibrium, MatchError> {
    let (first, last) = (steps[0], steps[steps.len() - 1]);
    if is_idle(&first) {
        return solve_near(shaft.equations, &first.trial, TIGHT).map(Equilibrium::at);
    }
    if first.excess < 0.0 {
        return Err(shaft.stalls(&first.trial));
    }
    Err(shaft.runs_away(&first.trial, &last.trial))
}
