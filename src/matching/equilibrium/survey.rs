//! Every stable equilibrium at one speed, and from where on the climb each is reached.
//!
//! At a held climb the gate does what its boost asks: shut below the limit, wide open above it. So
//! the excess that drives the shaft is that of the shut gate where the boost with it is within the
//! limit, else that of the open one. An equilibrium is stable where this excess falls through zero
//! (a shut or a wide open gate), or where it jumps from above to below zero at the limit (a gate
//! that holds). Where it rises through zero, or jumps from below to above, the shaft leaves to
//! either side: a threshold. Past the limit a faster turbo may bring less boost, because it takes
//! the supercharger's load; then the open gate lies on the slow side of the limit and the shut one
//! on the fast side, and both may balance.

use super::between_steps::equilibrium_between;
use super::end_of_march::is_idle;
use super::from_rest::{from_rest, shaft_of};
use super::march::{Until, march};
use super::rest::rest;
use super::shaft::{AT_THE_LIMIT, Equilibrium, Shaft};
use super::step::{MarchStep, STEP_AT_THE_LIMIT, crossings_of, step_at};
use super::wastegate::hold_limit;
use crate::matching::balances::{TIGHT, solve_near};
use crate::matching::equations::Equations;
use crate::matching::error::MatchError;
use crate::matching::variables::{GateMode, Trial};
use crate::numeric::crossing::Crossing;

/// Looks for the place where a limit is met between two steps.
const LOOKS: usize = 12;
/// Two equilibria nearer than this on the climb are one.
const ONE: f64 = 1e-6;

/// What stands along the climb of the first turbine.
#[derive(Debug, Clone, Default)]
pub(in crate::matching) struct Survey {
    /// Every stable equilibrium, rising along the climb.
    pub stable: Vec<(f64, Trial)>,
    /// Every place from which the shaft leaves to both sides, rising.
    thresholds: Vec<f64>,
    /// First and last step with the gate shut.
    ends: Option<(MarchStep, MarchStep)>,
}

impl Survey {
    fn add(&mut self, shaft: &Shaft, trial: Trial) {
        self.stable.push((trial.x[shaft.driven().climb], trial));
    }

    /// The equilibrium to which a shaft runs that is let go at a place of the climb. `None` where it
    /// runs to an end instead.
    pub fn reached_from(&self, at: f64) -> Option<&Trial> {
        let is_free = |to: f64| {
            let (low, high) = (at.min(to), at.max(to));
            !self
                .thresholds
                .iter()
                .any(|&place| low < place && place < high)
        };
        (self.stable.iter())
            .filter(|(place, _)| is_free(*place))
            .min_by(|(a, _), (b, _)| (a - at).abs().total_cmp(&(b - at).abs()))
            .map(|(_, trial)| trial)
    }
}

/// Surveys the climb of the first turbine. Of several in series the later ones find their own first
/// equilibrium at each of its steps.
pub(in crate::matching) fn survey(equations: &mut Equations) -> Result<Survey, MatchError> {
    let mut found = Survey::default();
    if equations.setup.driven.is_empty() {
        return Ok(found);
    }
    let start = rest(equations)?;
    let shaft = &mut shaft_of(equations, 0);
    let shut = march(shaft, &start, 0.0, Until::End)?;
    let falls = shut.get(1).is_none_or(|second| second.excess <= 0.0);
    if let Some(first) = shut.first().filter(|first| is_idle(first) && falls) {
        let idle = solve_near(shaft.equations, &first.trial, TIGHT)?;
        found.add(shaft, idle);
    }
    add_equilibria(shaft, &shut, GateMode::Fixed, &mut found);
    let (_, end) = shaft.range();
    let ended_early = shut.last().is_none_or(|last| last.at < end * (1.0 - 1e-9));
    let passes = shut.iter().any(|step| step.beyond > STEP_AT_THE_LIMIT);
    let largest = shaft.driven().largest_share;
    if shaft.driven().gate.is_some() && (ended_early || passes) && largest > 0.0 {
        add_where_limit_is_met(shaft, &shut, &mut found);
        let open = march(shaft, &start, largest, Until::End)?;
        add_equilibria(shaft, &open, GateMode::WideOpen, &mut found);
    }
    found.stable.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    found
        .stable
        .dedup_by(|(a, _), (b, _)| (*a - *b).abs() < ONE);
    found.thresholds.sort_by(f64::total_cmp);
    found.ends = shut.first().copied().zip(shut.last().copied());
    Ok(found)
}

/// The equilibrium that a shaft reaches which is let go as a neighbour's stood; an error where it runs to
/// an end of what can be balanced.
pub(in crate::matching) fn reached_from(
    equations: &mut Equations,
    neighbour: &Trial,
) -> Result<Equilibrium, MatchError> {
    let Some(first) = equations.setup.driven.first() else {
        return from_rest(equations);
    };
    let at = neighbour.x[first.climb];
    let survey = survey(equations)?;
    if let Some(trial) = survey.reached_from(at) {
        return Ok(Equilibrium::at(*trial));
    }
    let is_above = survey.stable.iter().all(|(place, _)| *place < at);
    match survey.ends {
        Some((_, last)) if is_above && last.excess > 0.0 => {
            Err(shaft_of(equations, 0).runs_away(neighbour, &last.trial))
        }
        _ => from_rest(equations),
    }
}

/// Adds the equilibria of one state of the gate (shut or wide open), where the boost agrees with it.
fn add_equilibria(shaft: &mut Shaft, steps: &[MarchStep], gate: GateMode, found: &mut Survey) {
    let agrees = |by: f64| match gate {
        GateMode::WideOpen => by >= -AT_THE_LIMIT,
        _ => by <= AT_THE_LIMIT,
    };
    for Crossing { above, at, falls } in crossings_of(steps) {
        let (low, high) = (steps[above - 1], steps[above]);
        if falls {
            let Ok(mut trial) = equilibrium_between(shaft, &low, &high) else {
                continue;
            };
            if agrees(shaft.boost_beyond_limit(&trial).unwrap_or(-1.0)) {
                trial.gates[0] = gate;
                found.add(shaft, trial);
            }
        } else {
            let share = (at - low.at) / (high.at - low.at);
            if agrees(low.beyond + share * (high.beyond - low.beyond)) {
                found.thresholds.push(at);
            }
        }
    }
}

/// What happens where the boost with a shut gate meets the limit.
fn add_where_limit_is_met(shaft: &mut Shaft, shut: &[MarchStep], found: &mut Survey) {
    let largest = shaft.driven().largest_share;
    let Some(gate) = shaft.driven().gate else {
        return;
    };
    for pair in shut.windows(2) {
        let (low, high) = (pair[0], pair[1]);
        let passed = [low.beyond, high.beyond].map(|by| by > STEP_AT_THE_LIMIT);
        if passed[0] == passed[1] {
            continue;
        }
        let Some((low, high)) = bracket_limit(shaft, low, high) else {
            continue;
        };
        let shut_excess = 0.5 * (low.excess + high.excess);
        let mut opened = low.trial;
        opened.x[gate] = largest;
        let Ok(open) = step_at(shaft, low.at, &opened) else {
            continue;
        };
        if shut_excess > 0.0 && open.excess < 0.0 {
            let rises = passed[1];
            if rises {
                let held = hold_limit(shaft, &low, &high, &shut[0].trial);
                if let Ok(held) = held
                    && held.trial.gates[0] == GateMode::Holding
                {
                    found.add(shaft, held.trial);
                }
            } else {
                found.thresholds.push(0.5 * (low.at + high.at));
            }
        }
    }
}

/// Two steps close around the place where the boost meets the limit.
fn bracket_limit(
    shaft: &mut Shaft,
    mut low: MarchStep,
    mut high: MarchStep,
) -> Option<(MarchStep, MarchStep)> {
    let first = low.beyond > STEP_AT_THE_LIMIT;
    for look in 0..LOOKS {
        let width = low.beyond - high.beyond;
        if width.abs() < STEP_AT_THE_LIMIT {
            break;
        }
        // Every third look halves, so that both sides close.
        let share = if look % 3 == 2 {
            0.5
        } else {
            (low.beyond / width).clamp(0.02, 0.98)
        };
        let at = low.at + share * (high.at - low.at);
        let step = step_at(shaft, at, &low.trial).ok()?;
        if (step.beyond > STEP_AT_THE_LIMIT) == first {
            low = step;
        } else {
            high = step;
        }
    }
    Some((low, high))
}
