//! From rest to the first stable balance, or to the boost limit, whichever comes first.
//!
//! Along the climb (turbo speed where there is a map, else its pressure ratio) every other balance
//! is settled, and the power that the turbine gives beyond what the compressor takes is watched.
//! A balance is stable where that excess falls through zero. Where the boost reaches the gate's
//! limit first, the gate's share follows from the limit and both powers; at its largest share the
//! gate is wide open and boost is the answer again.
//!
//! Of several turbines in series, the climb of the first in exhaust order is the outer one: at each
//! of its steps the others find their own balance.
//!
//! More than one balance may be stable. [`mod@survey`] finds them all and the part of the climb from
//! which each is reached, so that an engine that comes from a neighbouring speed ends where its
//! shaft would run to.

mod gate;
mod near;
mod scan;
mod survey;

pub(super) use near::from_neighbour;
pub(super) use scan::power_curve;
pub(super) use survey::{reached, survey};

use super::error::MatchError;
use super::settle::{LOOSE, TIGHT, polish, settle_from_afar};
use super::setup::Setup;
use super::solver::Solver;
use super::variables::Trial;
use crate::air_path::SuperchargerKind;
use crate::numeric::crossing::Crossing;
use crate::numeric::newton::InverseJacobian;
use crate::numeric::root::{Bracketed, between};
use scan::{Step, Until, balances_of, scan, step_at};

/// A match as found, before it is written out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    /// Values of all variables.
    pub trial: Trial,
    /// Sign changes of the power balance that were seen.
    pub equilibria: usize,
}

impl Found {
    pub fn new(trial: Trial) -> Self {
        Self {
            trial,
            equilibria: 0,
        }
    }
}

/// ln of the largest pressure ratio of a turbo without map: 12, more than any one stage reaches.
const LARGEST_LN_RATIO: f64 = 2.484_9;
/// Turbo speed at rest and at the end, over the top speed of its map.
const SPEED_RANGE: (f64, f64) = (0.06, 1.40);
/// How far the boost of a solution may pass its limit before that counts as reached, relative. A
/// regulated bypass on the same pressure holds it to rounding, and moves first.
const AT_THE_LIMIT: f64 = 1e-7;
/// The same for a step of the climb, which is solved no closer than a third of this.
const STEP_AT_THE_LIMIT: f64 = 1e-4;

/// How far beside the two steps around it a balance may lie, as a share of their distance: the steps
/// are solved loosely, so that one which stands on the balance may have its excess on either side.
const BESIDE: f64 = 0.02;

/// Filling of engines and displacement machines that a first guess counts with.
const USUAL_FILLING: f64 = 0.9;

/// Exponent of the density over the pressure ratio of stages with a cooler that a first guess counts
/// with.
const USUAL_DENSITY_EXPONENT: f64 = 0.85;

/// The match at the solver's speed, from nothing.
pub(super) fn from_rest(solver: &mut Solver) -> Result<Found, MatchError> {
    if solver.setup.driven.is_empty() {
        let start = first_trial(&solver.setup);
        return nothing_driven(solver, &start).map(Found::new);
    }
    let start = rest(solver)?;
    climb(solver, 0, &start)
}

/// Everything settled with the turbos at rest.
fn rest(solver: &mut Solver) -> Result<Trial, MatchError> {
    let start = first_trial(&solver.setup);
    settle_from_afar(solver, &start, LOOSE)
}

/// The match with every turbo held at rest and every gate shut.
pub(super) fn at_rest(solver: &mut Solver) -> Result<Found, MatchError> {
    let start = first_trial(&solver.setup);
    settle_from_afar(solver, &start, TIGHT).map(Found::new)
}

/// Without a turbo only the flow balance is left, which has one answer. Where only given ratios and
/// losses stand before the engine, what is swallowed hardly hangs on the flow that passes, and the
/// pressure ahead of the pipe hardly on itself: each variable moves its own balance by about as
/// much, which is as good as a Jacobian.
fn nothing_driven(solver: &mut Solver, start: &Trial) -> Result<Trial, MatchError> {
    if solver.setup.belts.is_empty() {
        let alone = [-1.0, 1.0];
        solver.work.inverse = InverseJacobian::diagonal(&alone[..solver.setup.variables.len()]);
        solver.work.inverse_of = *start;
        if let Ok(found) = polish(solver, start, TIGHT) {
            return Ok(found);
        }
    }
    settle_from_afar(solver, start, TIGHT)
}

/// A trial at rest: the climbs held at their lowest, the gates shut; the flow that engine or
/// displacement supercharger, whichever is larger, would sweep of the air outside, raised by the
/// given ratios.
fn first_trial(setup: &Setup) -> Trial {
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

/// The range of a climb.
fn range(setup: &Setup, turbine: usize) -> (f64, f64) {
    if setup.driven[turbine].has_map {
        SPEED_RANGE
    } else {
        (0.0, LARGEST_LN_RATIO)
    }
}

/// Climbs with one turbine, all later ones finding their own balance on the way.
fn climb(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Found, MatchError> {
    let steps = scan(solver, turbine, start, 0.0, Until::Limit)?;
    let Some(first) = steps.first() else {
        return Err(stalls(solver, turbine, start));
    };
    let falls = steps.get(1).is_none_or(|second| second.excess <= 0.0);
    if is_idle(first) && falls {
        // A wheel that gives nothing to a compressor that takes nothing.
        return polish(solver, &first.trial, TIGHT).map(Found::new);
    }
    if first.beyond > STEP_AT_THE_LIMIT {
        return gate::wide_open(solver, turbine, start);
    }
    let limit = steps
        .iter()
        .position(|step| step.beyond > STEP_AT_THE_LIMIT);
    let balances = balances_of(&steps);
    let first_stable = balances.iter().find(|crossing| crossing.falls).copied();
    let reached = first_stable.filter(|crossing| limit.is_none_or(|limit| crossing.above <= limit));
    if let Some(crossing) = reached {
        let (low, high) = (steps[crossing.above - 1], steps[crossing.above]);
        let found = balance(solver, turbine, &low, &high)?;
        let held_there = beyond(solver, turbine, &found).is_some_and(|by| by > AT_THE_LIMIT);
        if !held_there {
            let mut found = Found::new(found);
            found.equilibria = below_limit(&steps, &balances, limit).len();
            return Ok(found);
        }
    }
    if let Some(limit) = limit {
        let mut found = gate::hold(solver, turbine, &steps[limit - 1], &steps[limit], start)?;
        found.equilibria = below_limit(&steps, &balances, Some(limit)).len();
        return Ok(found);
    }
    at_an_end(solver, turbine, &steps)
}

/// The balances that come before the boost limit, by straight lines between the two steps around it.
fn below_limit<'b>(
    steps: &[Step],
    balances: &'b [Crossing],
    limit: Option<usize>,
) -> &'b [Crossing] {
    let Some(limit) = limit else {
        return balances;
    };
    let (low, high) = (&steps[limit - 1], &steps[limit]);
    let share = low.beyond / (low.beyond - high.beyond);
    let at_limit = low.at + share * (high.at - low.at);
    let before = balances.partition_point(|crossing| crossing.at < at_limit);
    &balances[..before]
}

/// Work that counts as none, J per kilogram of air: a billionth of what a stage takes; rounding of
/// enthalpies of about 3e5 J/kg stays a thousandfold below it.
const NOTHING: f64 = 1e-4;

/// Whether wheel and compressor do no work to speak of.
fn is_idle(step: &Step) -> bool {
    step.excess.abs() <= NOTHING * step.trial.x[0].exp()
}

/// No balance between rest and the end: at rest already, or never.
fn at_an_end(solver: &mut Solver, turbine: usize, steps: &[Step]) -> Result<Found, MatchError> {
    let (first, last) = (steps[0], steps[steps.len() - 1]);
    if is_idle(&first) {
        return polish(solver, &first.trial, TIGHT).map(Found::new);
    }
    if first.excess < 0.0 {
        return Err(stalls(solver, turbine, &first.trial));
    }
    Err(runs_away(solver, turbine, &first.trial, &last))
}

/// No balance from a trial upwards to the last step.
fn runs_away(solver: &mut Solver, turbine: usize, from: &Trial, last: &Step) -> MatchError {
    let (_, end) = range(&solver.setup, turbine);
    let from = pressure_ratio(solver, turbine, from).unwrap_or(1.0);
    let to = pressure_ratio(solver, turbine, &last.trial).unwrap_or(1.0);
    let turbine = turbine + 1;
    if last.at < end * (1.0 - 1e-9) {
        MatchError::NoWay { turbine, from, to }
    } else {
        MatchError::RunsAway { turbine, from, to }
    }
}

fn stalls(solver: &mut Solver, turbine: usize, at: &Trial) -> MatchError {
    let at = pressure_ratio(solver, turbine, at).unwrap_or(1.0);
    MatchError::Stalls {
        turbine: turbine + 1,
        at,
    }
}

/// Turbine power less compressor power at a settled trial, W.
fn excess(solver: &mut Solver, turbine: usize, trial: &Trial) -> f64 {
    if solver.see(trial) {
        solver.work.record.turbines[turbine].excess
    } else {
        f64::NEG_INFINITY
    }
}

/// Boost beyond the limit of a turbine's gate, relative.
fn beyond(solver: &mut Solver, turbine: usize, trial: &Trial) -> Option<f64> {
    let gate = solver.setup.driven[turbine].gate?;
    solver.see(trial).then(|| solver.work.balances[gate])
}

/// Pressure ratio of the compressor that a turbine drives.
fn pressure_ratio(solver: &mut Solver, turbine: usize, trial: &Trial) -> Option<f64> {
    if !solver.see(trial) {
        return None;
    }
    let stage = solver.setup.driven[turbine].stage;
    let stage = solver.work.record.stages.get(stage)?;
    Some(stage.outlet.pressure / stage.inlet.pressure)
}

/// The balance between two steps of opposite excess.
fn balance(
    solver: &mut Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
) -> Result<Trial, MatchError> {
    let share = (low.excess / (low.excess - high.excess)).clamp(0.0, 1.0);
    let climb = solver.setup.driven[turbine].climb;
    for mut trial in gate::between_steps(solver, turbine, low, high, share)
        .into_iter()
        .flatten()
    {
        trial.held[turbine] = false;
        let slack = BESIDE * (high.at - low.at);
        if let Ok(found) = polish(solver, &trial, TIGHT)
            && found.x[climb] >= low.at - slack
            && found.x[climb] <= high.at + slack
            && gate::later_gates_agree(solver, turbine, &found)
        {
            return Ok(found);
        }
    }
    bracketed_balance(solver, turbine, low, high)
}

/// The same by closing the bracket, and Newton from its end.
fn bracketed_balance(
    solver: &mut Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
) -> Result<Trial, MatchError> {
    let slack = BESIDE * (high.at - low.at);
    let mut nearest = low.trial;
    let mut fault = None;
    let found = between(
        low.at - slack,
        high.at + slack,
        |at| match step_at(solver, turbine, at, &nearest) {
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
            nearest.held[turbine] = false;
            polish(solver, &nearest, TIGHT)
        }
        Bracketed::NoSign(..) => Err(fault.unwrap_or(MatchError::Unsettled {
            flow: nearest.x[0].exp(),
            residual: None,
        })),
    }
}
