//! The equilibrium between two steps of the march whose excess has opposite signs.

use super::shaft::{AT_THE_LIMIT, Shaft, boost_beyond_limit};
use super::step::{MarchStep, step_at};
use crate::matching::balances::{TIGHT, solve_near};
use crate::matching::error::MatchError;
use crate::matching::variables::{GateMode, Trial};
use crate::numeric::root::{Bracketed, between};

/// How far beside the two steps around it an equilibrium may lie, as a share of their distance: the steps
/// are solved loosely, so that one which stands on it may have its excess on either side.
const BESIDE: f64 = 0.02;

/// Trials between two steps, with gates and bypasses as on the one side and, where they differ, as on
/// the other. The later gates stand as what they do demands.
pub(super) fn trials_between(
    shaft: &Shaft,
    low: &MarchStep,
    high: &MarchStep,
    share: f64,
) -> [Option<Trial>; 2] {
    let driven = &shaft.equations.setup.driven;
    let with_later_gates = |mut trial: Trial| {
        for (later, driven) in driven.iter().enumerate().skip(shaft.turbine + 1) {
            match (driven.gate, trial.gates[later]) {
                (Some(gate), GateMode::Fixed) => trial.x[gate] = 0.0,
                (Some(gate), GateMode::WideOpen) => trial.x[gate] = driven.largest_share,
                _ => {}
            }
        }
        trial
    };
    let from_below = with_later_gates(low.trial.towards(&high.trial, share));
    let from_above = with_later_gates(high.trial.towards(&low.trial, 1.0 - share));
    let differ = !low.trial.is_like(&high.trial);
    [Some(from_below), differ.then_some(from_above)]
}

/// Whether the later gates do in a solution what it asks of them.
pub(super) fn later_gates_agree(shaft: &mut Shaft, found: &Trial) -> bool {
    let equations = &mut *shaft.equations;
    (shaft.turbine + 1..equations.setup.driven.len()).all(|later| {
        let driven = equations.setup.driven[later];
        let Some(gate) = driven.gate else {
            return true;
        };
        let by = boost_beyond_limit(equations, later, found).unwrap_or(0.0);
        match found.gates[later] {
            GateMode::Fixed => by <= AT_THE_LIMIT,
            GateMode::Holding => (-1e-12..=driven.largest_share).contains(&found.x[gate]),
            GateMode::WideOpen => by >= -AT_THE_LIMIT,
        }
    })
}

/// Where the excess falls through zero between the two: by Newton, and where that leaves them, by
/// closing the bracket.
pub(super) fn equilibrium_between(
    shaft: &mut Shaft,
    low: &MarchStep,
    high: &MarchStep,
) -> Result<Trial, MatchError> {
    let share = (low.excess / (low.excess - high.excess)).clamp(0.0, 1.0);
    let climb = shaft.driven().climb;
    for mut trial in trials_between(shaft, low, high, share)
        .into_iter()
        .flatten()
    {
        trial.held[shaft.turbine] = false;
        let slack = BESIDE * (high.at - low.at);
        if let Ok(found) = solve_near(shaft.equations, &trial, TIGHT)
            && found.x[climb] >= low.at - slack
            && found.x[climb] <= high.at + slack
            && later_gates_agree(shaft, &found)
        {
            return Ok(found);
        }
    }
    equilibrium_by_bracket(shaft, low, high)
}

/// Closes the bracket, and lets Newton start from its end.
fn equilibrium_by_bracket(
    shaft: &mut Shaft,
    low: &MarchStep,
    high: &MarchStep,
) -> Result<Trial, MatchError> {
    let slack = BESIDE * (high.at - low.at);
    let mut nearest = low.trial;
    let mut fault = None;
    let found = between(
        low.at - slack,
        high.at + slack,
        |at| match step_at(shaft, at, &nearest) {
            Ok(step) => {
                nearest = step.trial;
                step.excess
            }
            Err(why) => {
                fault = Some(why);
                f64::NAN
            }
        },
        1e-7 * low.excess.abs().max(high.excess.abs()),
        1e-12,
    );
    match found {
        Bracketed::Root(_) | Bracketed::Jump(_) => {
            nearest.held[shaft.turbine] = false;
            solve_near(shaft.equations, &nearest, TIGHT)
        }
        Bracketed::NoSign(..) => Err(fault.unwrap_or(MatchError::Unsettled {
            flow: nearest.x[0].exp(),
            residual: None,
        })),
    }
}
