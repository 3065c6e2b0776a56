//! Gates: holding the limit, and wide open.

use super::scan::{Step, Until, scan};
use super::{AT_THE_LIMIT, Found, at_an_end, balance, beyond, range};
use crate::matching::error::MatchError;
use crate::matching::settle::{TIGHT, polish};
use crate::matching::solver::Solver;
use crate::matching::variables::{Gate, Trial};
use crate::numeric::root::{Bracketed, between};

/// Shares that the search for a held limit starts from.
const GUESSES: [f64; 3] = [0.02, 0.1, 0.3];

/// The gate holds the limit that was reached between two steps.
pub(super) fn hold(
    solver: &mut Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
    start: &Trial,
) -> Result<Found, MatchError> {
    let driven = solver.setup.driven[turbine];
    let (Some(gate), climb) = (driven.gate, driven.climb) else {
        return Err(no_share(solver, turbine));
    };
    let share = (low.beyond / (low.beyond - high.beyond)).clamp(0.0, 1.0);
    for mut at_limit in between_steps(solver, turbine, low, high, share)
        .into_iter()
        .flatten()
    {
        at_limit.held[turbine] = false;
        at_limit.gates[turbine] = Gate::Holding;
        for guess in GUESSES {
            at_limit.x[gate] = guess;
            let Ok(found) = polish(solver, &at_limit, TIGHT) else {
                continue;
            };
            if !later_gates_agree(solver, turbine, &found) {
                break;
            }
            if found.x[gate] > driven.largest_share {
                return wide_open(solver, turbine, start);
            }
            if found.x[gate] >= -1e-12 && found.x[climb] > range(&solver.setup, turbine).0 {
                return Ok(Found::new(found));
            }
        }
    }
    hold_by_share(solver, turbine, start)
}

/// Trials between two steps, with gates and bypasses as on the one side and, where they differ, as on
/// the other. The later gates stand as what they do demands.
pub(super) fn between_steps(
    solver: &Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
    share: f64,
) -> [Option<Trial>; 2] {
    let settled = |mut trial: Trial| {
        for (later, driven) in solver.setup.driven.iter().enumerate().skip(turbine + 1) {
            match (driven.gate, trial.gates[later]) {
                (Some(gate), Gate::Fixed) => trial.x[gate] = 0.0,
                (Some(gate), Gate::WideOpen) => trial.x[gate] = driven.largest_share,
                _ => {}
            }
        }
        trial
    };
    let from_below = settled(low.trial.towards(&high.trial, share));
    let from_above = settled(high.trial.towards(&low.trial, 1.0 - share));
    let differ = !low.trial.is_like(&high.trial);
    [Some(from_below), differ.then_some(from_above)]
}

/// Whether the later gates do in a solution what it asks of them.
pub(super) fn later_gates_agree(solver: &mut Solver, turbine: usize, found: &Trial) -> bool {
    (turbine + 1..solver.setup.driven.len()).all(|later| {
        let driven = solver.setup.driven[later];
        let Some(gate) = driven.gate else {
            return true;
        };
        let by = beyond(solver, later, found).unwrap_or(0.0);
        match found.gates[later] {
            Gate::Fixed => by <= AT_THE_LIMIT,
            Gate::Holding => (-1e-12..=driven.largest_share).contains(&found.x[gate]),
            Gate::WideOpen => by >= -AT_THE_LIMIT,
        }
    })
}

fn no_share(solver: &Solver, turbine: usize) -> MatchError {
    MatchError::Gate {
        turbine: turbine + 1,
        largest: solver.setup.driven[turbine].largest_share,
    }
}

/// The gate's share by closing a bracket between shut and wide open: at each share the first stable
/// balance, and its boost against the limit.
fn hold_by_share(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Found, MatchError> {
    let driven = solver.setup.driven[turbine];
    let fault = no_share(solver, turbine);
    let gate = driven.gate.ok_or(fault)?;
    let mut nearest = None;
    let found = between(
        0.0,
        driven.largest_share,
        |share| match at_share(solver, turbine, share, start) {
            Ok(found) => {
                let by = beyond(solver, turbine, &found.trial).unwrap_or(f64::NAN);
                nearest = Some(found.trial);
                by
            }
            // So far shut it runs away: beyond any limit.
            Err(MatchError::RunsAway { .. } | MatchError::NoWay { .. }) => 1.0,
            Err(_) => f64::NAN,
        },
        1e-8,
        1e-12,
    );
    match (found, nearest) {
        (Bracketed::Root(share), Some(mut trial)) => {
            trial.x[gate] = share;
            trial.gates[turbine] = Gate::Holding;
            trial.held[turbine] = false;
            polish(solver, &trial, TIGHT).map(Found::new)
        }
        // At rest above the limit, and every balance below it: the gate has nothing to do.
        (Bracketed::NoSign(shut, open), _) if shut <= 0.0 && open <= 0.0 => {
            at_share(solver, turbine, 0.0, start)
        }
        (Bracketed::NoSign(_, open), _) if open > AT_THE_LIMIT => wide_open(solver, turbine, start),
        _ => Err(fault),
    }
}

/// The first stable balance with the gate at its largest share; where its boost then stays below the
/// limit, the share between that holds it.
pub(super) fn wide_open(
    solver: &mut Solver,
    turbine: usize,
    start: &Trial,
) -> Result<Found, MatchError> {
    let largest = solver.setup.driven[turbine].largest_share;
    let mut found = at_share(solver, turbine, largest, start)?;
    let by = beyond(solver, turbine, &found.trial).unwrap_or(0.0);
    if by < -AT_THE_LIMIT {
        return hold_by_share(solver, turbine, start);
    }
    found.trial.gates[turbine] = Gate::WideOpen;
    Ok(found)
}

/// The first stable balance with the gate at a fixed share, whatever the boost.
fn at_share(
    solver: &mut Solver,
    turbine: usize,
    share: f64,
    start: &Trial,
) -> Result<Found, MatchError> {
    let steps = scan(solver, turbine, start, share, Until::FirstFall)?;
    if let [.., low, high] = steps.as_slice()
        && low.excess > 0.0
        && high.excess <= 0.0
    {
        let (low, high) = (*low, *high);
        return balance(solver, turbine, &low, &high).map(Found::new);
    }
    at_an_end(solver, turbine, &steps)
}
