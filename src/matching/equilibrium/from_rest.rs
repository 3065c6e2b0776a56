//! From rest to the first stable equilibrium, or to the boost limit, whichever comes first.

use super::between_steps::equilibrium_between;
use super::end_of_march::{at_an_end, is_idle};
use super::march::{Until, march};
use super::rest::{first_trial, rest};
use super::shaft::{AT_THE_LIMIT, Equilibrium, Shaft};
use super::step::{MarchStep, STEP_AT_THE_LIMIT, crossings_of};
use super::wastegate::{hold_limit, wide_open};
use crate::matching::balances::{TIGHT, solve_cold, solve_near};
use crate::matching::equations::Equations;
use crate::matching::error::MatchError;
use crate::matching::variables::Trial;
use crate::numeric::crossing::Crossing;
use crate::numeric::newton::InverseJacobian;

/// The equilibrium at the equations' speed, from nothing.
pub(in crate::matching) fn from_rest(equations: &mut Equations) -> Result<Equilibrium, MatchError> {
    if equations.setup.driven.is_empty() {
        let start = first_trial(&equations.setup);
        return nothing_driven(equations, &start).map(Equilibrium::at);
    }
    let start = rest(equations)?;
    first_equilibrium(equations, 0, &start)
}

/// Without a turbo only the flow balance is left, which has one answer. Where only given ratios and
/// losses stand before the engine, what is swallowed hardly hangs on the flow that passes, and the
/// pressure ahead of the pipe hardly on itself: each variable moves its own balance by about as
/// much, which is as good as a Jacobian.
fn nothing_driven(equations: &mut Equations, start: &Trial) -> Result<Trial, MatchError> {
    if equations.setup.belts.is_empty() {
        let alone = [-1.0, 1.0];
        equations.work.inverse =
            InverseJacobian::diagonal(&alone[..equations.setup.variables.len()]);
        equations.work.inverse_of = *start;
        if let Ok(found) = solve_near(equations, start, TIGHT) {
            return Ok(found);
        }
    }
    solve_cold(equations, start, TIGHT)
}

/// The shaft of a turbine, counted in exhaust order.
pub(super) fn shaft_of<'e, 'a>(equations: &'e mut Equations<'a>, turbine: usize) -> Shaft<'e, 'a> {
    Shaft {
        equations,
        turbine,
        equilibrium_of_later: first_equilibrium,
    }
}

/// The first stable equilibrium of a turbine's shaft, or its boost limit; all later ones find their
/// own on the way.
fn first_equilibrium(
    equations: &mut Equations<'_>,
    turbine: usize,
    start: &Trial,
) -> Result<Equilibrium, MatchError> {
    let shaft = &mut shaft_of(equations, turbine);
    let steps = march(shaft, start, 0.0, Until::Limit)?;
    let Some(first) = steps.first() else {
        return Err(shaft.stalls(start));
    };
    let falls = steps.get(1).is_none_or(|second| second.excess <= 0.0);
    if is_idle(first) && falls {
        // A wheel that gives nothing to a compressor that takes nothing.
        return solve_near(shaft.equations, &first.trial, TIGHT).map(Equilibrium::at);
    }
    if first.beyond > STEP_AT_THE_LIMIT {
        return wide_open(shaft, start);
    }
    let limit = steps
        .iter()
        .position(|step| step.beyond > STEP_AT_THE_LIMIT);
    let crossings = crossings_of(&steps);
    let first_stable = crossings.iter().find(|crossing| crossing.falls).copied();
    let reached = first_stable.filter(|crossing| limit.is_none_or(|limit| crossing.above <= limit));
    if let Some(crossing) = reached {
        let (low, high) = (steps[crossing.above - 1], steps[crossing.above]);
        let found = equilibrium_between(shaft, &low, &high)?;
        let held_there = shaft
            .boost_beyond_limit(&found)
            .is_some_and(|by| by > AT_THE_LIMIT);
        if !held_there {
            let mut found = Equilibrium::at(found);
            found.crossings = below_limit(&steps, &crossings, limit).len();
            return Ok(found);
        }
    }
    if let Some(limit) = limit {
        let mut found = hold_limit(shaft, &steps[limit - 1], &steps[limit], start)?;
        found.crossings = below_limit(&steps, &crossings, Some(limit)).len();
        return Ok(found);
    }
    at_an_end(shaft, &steps)
}

/// The crossings of the excess that come before the boost limit, by straight lines between the two steps around it.
fn below_limit<'b>(
    steps: &[MarchStep],
    crossings: &'b [Crossing],
    limit: Option<usize>,
) -> &'b [Crossing] {
    let Some(limit) = limit else {
        return crossings;
    };
    let (low, high) = (&steps[limit - 1], &steps[limit]);
    let share = low.beyond / (low.beyond - high.beyond);
    let at_limit = low.at + share * (high.at - low.at);
    let before = crossings.partition_point(|crossing| crossing.at < at_limit);
    &crossings[..before]
}
