//! The wastegate: holding the boost limit, and wide open.

use super::between_steps::{equilibrium_between, later_gates_agree, trials_between};
use super::end_of_march::at_an_end;
use super::march::{Until, march};
use super::shaft::{AT_THE_LIMIT, Equilibrium, Shaft};
use super::step::MarchStep;
use crate::matching::balances::{TIGHT, solve_near};
use crate::matching::error::MatchError;
use crate::matching::variables::{GateMode, Trial};
use crate::numeric::root::{Bracketed, between};

/// Shares that the search for a held limit starts from.
const GUESSES: [f64; 3] = [0.02, 0.1, 0.3];

/// The gate holds the limit that was reached between two steps.
pub(super) fn hold_limit(
    shaft: &mut Shaft,
    low: &MarchStep,
    high: &MarchStep,
    start: &Trial,
) -> Result<Equilibrium, MatchError> {
    let driven = shaft.driven();
    let (Some(gate), climb) = (driven.gate, driven.climb) else {
        return Err(no_share(shaft));
    };
    let share = (low.beyond / (low.beyond - high.beyond)).clamp(0.0, 1.0);
    for mut at_limit in trials_between(shaft, low, high, share)
        .into_iter()
        .flatten()
    {
        at_limit.held[shaft.turbine] = false;
        at_limit.gates[shaft.turbine] = GateMode::Holding;
        for guess in GUESSES {
            at_limit.x[gate] = guess;
            let Ok(found) = solve_near(shaft.equations, &at_limit, TIGHT) else {
                continue;
            };
            if !later_gates_agree(shaft, &found) {
                break;
            }
            if found.x[gate] > driven.largest_share {
                return wide_open(shaft, start);
            }
            if found.x[gate] >= -1e-12 && found.x[climb] > shaft.range().0 {
                return Ok(Equilibrium::at(found));
            }
        }
    }
    hold_by_share(shaft, start)
}

fn no_share(shaft: &Shaft) -> MatchError {
    MatchError::Gate {
        turbine: shaft.turbine + 1,
        largest: shaft.driven().largest_share,
    }
}

/// The gate's share by closing a bracket between shut and wide open: at each share the first stable
/// equilibrium, and its boost against the limit.
fn hold_by_share(shaft: &mut Shaft, start: &Trial) -> Result<Equilibrium, MatchError> {
    let driven = shaft.driven();
    let fault = no_share(shaft);
    let gate = driven.gate.ok_or(fault)?;
    let mut nearest = None;
    let found = between(
        0.0,
        driven.largest_share,
        |share| match at_share(shaft, share, start) {
            Ok(found) => {
                let by = shaft.boost_beyond_limit(&found.trial).unwrap_or(f64::NAN);
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
            trial.gates[shaft.turbine] = GateMode::Holding;
            trial.held[shaft.turbine] = false;
            solve_near(shaft.equations, &trial, TIGHT).map(Equilibrium::at)
        }
        // At rest above the limit, and every equilibrium below it: the gate has nothing to do.
        (Bracketed::NoSign(shut, open), _) if shut <= 0.0 && open <= 0.0 => {
            at_share(shaft, 0.0, start)
        }
        (Bracketed::NoSign(_, open), _) if open > AT_THE_LIMIT => wide_open(shaft, start),
        _ => Err(fault),
    }
}

/// The first stable equilibrium with the gate at its largest share; where its boost then stays below the
/// limit, the share between that holds it.
pub(super) fn wide_open(shaft: &mut Shaft, start: &Trial) -> Result<Equilibrium, MatchError> {
    let largest = shaft.driven().largest_share;
    let mut found = at_share(shaft, largest, start)?;
    let by = shaft.boost_beyond_limit(&found.trial).unwrap_or(0.0);
    if by < -AT_THE_LIMIT {
        return hold_by_share(shaft, start);
    }
    found.trial.gates[shaft.turbine] = GateMode::WideOpen;
    Ok(found)
}

/// The first stable equilibrium with the gate at a fixed share, whatever the boost.
fn at_share(shaft: &mut Shaft, share: f64, start: &Trial) -> Result<Equilibrium, MatchError> {
    let steps = march(shaft, start, share, Until::FirstFall)?;
    if let [.., low, high] = steps.as_slice()
        && low.excess > 0.0
        && high.excess <= 0.0
    {
        let (low, high) = (*low, *high);
        return equilibrium_between(shaft, &low, &high).map(Equilibrium::at);
    }
    at_an_end(shaft, &steps)
}
