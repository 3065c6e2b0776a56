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

use super::error::MatchError;
use super::outcome::SecondEquilibrium;
use super::record::Record;
use super::settle::{polish, settle};
use super::solver::Solver;
use super::variables::{Gate, Trial, Variable};
use super::walk::largest_share;
use crate::air_path::{CompressorPerformance, Part};
use crate::numeric::root::{Bracketed, between};

/// A match as found, before it is written out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    /// Values of all variables.
    pub trial: Trial,
    /// Sign changes of the power balance that were seen.
    pub equilibria: usize,
    /// A further stable equilibrium.
    pub second: Option<SecondEquilibrium>,
}

impl Found {
    fn new(trial: Trial) -> Self {
        Self {
            trial,
            equilibria: 0,
            second: None,
        }
    }
}

/// Steps of the climb over its range.
const STEPS: usize = 48;
/// Steps of the climb where several turbines stand in series and each step costs a climb.
const STEPS_IN_SERIES: usize = 24;
/// ln of the largest pressure ratio of a turbo without map: 12, more than any one stage reaches.
const LARGEST_LN_RATIO: f64 = 2.484_9;
/// Turbo speed at rest and at the end, over the top speed of its map.
const SPEED_RANGE: (f64, f64) = (0.06, 1.40);
/// How far the boost may pass its limit before that counts as reached, relative. A regulated bypass
/// on the same pressure holds it to rounding, and moves first.
const AT_THE_LIMIT: f64 = 1e-7;

/// The match at the solver's speed, from nothing.
pub(super) fn from_rest(solver: &mut Solver) -> Result<Found, MatchError> {
    let start = settle(solver, &first_trial(solver), true)?;
    if solver.driven.is_empty() {
        return Ok(Found::new(start));
    }
    climb(solver, 0, &start)
}

/// A trial at rest: the climbs held at their lowest, the gates shut.
fn first_trial(solver: &Solver) -> Trial {
    let mut trial = Trial::empty();
    let engine = &solver.installation.engine;
    let density = solver.ambient.density(&solver.gas);
    trial.x[0] = (engine.swept_flow(solver.rpm) * density).ln();
    for turbine in 0..solver.driven.len() {
        if let Some(i) = solver.index(Variable::Climb { turbine }) {
            trial.x[i] = range(solver, turbine).0;
        }
        if let Some(i) = solver.index(Variable::TurbineInlet { turbine }) {
            trial.x[i] = 0.2;
        }
    }
    trial
}

/// The range of a climb.
fn range(solver: &Solver, turbine: usize) -> (f64, f64) {
    match &solver.installation.air_path[solver.driven[turbine]] {
        Part::TurboCompressor(turbo) if matches!(turbo.performance, CompressorPerformance::Map) => {
            SPEED_RANGE
        }
        _ => (0.0, LARGEST_LN_RATIO),
    }
}

/// One step of a climb.
#[derive(Debug, Clone, Copy)]
struct Step {
    /// Value of the climb.
    at: f64,
    /// Turbine power less compressor power, W.
    excess: f64,
    /// Boost beyond its limit, relative; below 0 without gate.
    beyond: f64,
    /// All values there.
    trial: Trial,
}

/// Climbs with one turbine, all later ones finding their own balance on the way.
fn climb(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Found, MatchError> {
    let steps = scan(solver, turbine, start)?;
    let Some(first) = steps.first() else {
        return Err(stalls(solver, turbine, start));
    };
    if first.beyond > AT_THE_LIMIT {
        return wide_open(solver, turbine, start);
    }
    let limit = steps.iter().position(|step| step.beyond > AT_THE_LIMIT);
    let balances = crossings(&steps);
    let first_stable = balances.iter().find(|crossing| crossing.stable).copied();
    let reached = first_stable.filter(|crossing| limit.is_none_or(|limit| crossing.above <= limit));
    if let Some(crossing) = reached {
        let found = balance(
            solver,
            turbine,
            &steps[crossing.above - 1],
            &steps[crossing.above],
        )?;
        let held_there = beyond(solver, turbine, &found).is_some_and(|by| by > AT_THE_LIMIT);
        if !held_there {
            let mut found = Found::new(found);
            found.equilibria = balances.len();
            found.second = second(solver, turbine, &steps, &balances, crossing.above, limit);
            return Ok(found);
        }
    }
    if let Some(limit) = limit {
        let mut found = hold(solver, turbine, &steps[limit - 1], &steps[limit], start)?;
        found.equilibria = balances
            .iter()
            .filter(|crossing| crossing.above < limit)
            .count();
        return Ok(found);
    }
    at_an_end(solver, turbine, &steps)
}

/// No balance between rest and the end: at rest already, or never.
fn at_an_end(solver: &Solver, turbine: usize, steps: &[Step]) -> Result<Found, MatchError> {
    let (first, last) = (steps[0], steps[steps.len() - 1]);
    if first.excess.abs() <= f64::EPSILON * first.trial.x[0].exp() {
        // A wheel that gives nothing to a compressor that takes nothing.
        return Ok(Found::new(first.trial));
    }
    if first.excess < 0.0 {
        return Err(stalls(solver, turbine, &first.trial));
    }
    let ratio = |step: &Step| pressure_ratio(solver, turbine, &step.trial).unwrap_or(1.0);
    Err(MatchError::RunsAway {
        turbine: turbine + 1,
        from: ratio(&first),
        to: ratio(&last),
    })
}

fn stalls(solver: &Solver, turbine: usize, at: &Trial) -> MatchError {
    let at = pressure_ratio(solver, turbine, at).unwrap_or(1.0);
    MatchError::Stalls {
        turbine: turbine + 1,
        at,
    }
}

/// A change of sign of the excess between two steps.
#[derive(Debug, Clone, Copy)]
struct Crossing {
    /// The step above it.
    above: usize,
    /// Whether the excess falls.
    stable: bool,
}

fn crossings(steps: &[Step]) -> Vec<Crossing> {
    let mut found = Vec::new();
    for above in 1..steps.len() {
        let (before, after) = (steps[above - 1].excess, steps[above].excess);
        if before > 0.0 && after <= 0.0 {
            found.push(Crossing {
                above,
                stable: true,
            });
        } else if before <= 0.0 && after > 0.0 && above > 1 {
            found.push(Crossing {
                above,
                stable: false,
            });
        }
    }
    found
}

/// Settles every step of the climb, as far as it can be settled and no further than the boost limit
/// (one step beyond it). Where the excess comes close to zero and turns, the turning point is looked
/// at too.
fn scan(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Vec<Step>, MatchError> {
    let (from, to) = range(solver, turbine);
    let count = if solver.driven.len() > 1 {
        STEPS_IN_SERIES
    } else {
        STEPS
    };
    let mut steps: Vec<Step> = Vec::with_capacity(count + 8);
    let mut trial = *start;
    for k in 0..=count {
        let at = from + (to - from) * k as f64 / count as f64;
        let ahead = match steps.as_slice() {
            [.., older, newer] => newer.trial.towards(&older.trial, -1.0),
            _ => trial,
        };
        let step = match step_at(solver, turbine, at, &ahead) {
            Ok(step) => step,
            Err(fault) if steps.is_empty() => return Err(fault),
            Err(_) => break,
        };
        trial = step.trial;
        steps.push(step);
        if let [.., a, b, c] = *steps.as_slice()
            && let Some(turned) = turning_point(solver, turbine, &a, &b, &c)
        {
            let before_last = steps.len() - if turned.at < b.at { 2 } else { 1 };
            steps.insert(before_last, turned);
        }
        if step.beyond > AT_THE_LIMIT {
            break;
        }
    }
    Ok(steps)
}

/// A step between three whose excess has one sign and is smallest at the middle one, if the parabola
/// through them dips to zero or beyond it.
fn turning_point(
    solver: &mut Solver,
    turbine: usize,
    a: &Step,
    b: &Step,
    c: &Step,
) -> Option<Step> {
    let one_sign = a.excess * b.excess > 0.0 && b.excess * c.excess > 0.0;
    let dips = b.excess.abs() < a.excess.abs() && b.excess.abs() < c.excess.abs();
    if !(one_sign && dips) {
        return None;
    }
    let mut best = *b;
    let (mut low, mut high) = (*a, *c);
    for _ in 0..4 {
        let (d0, d1) = (low.at - best.at, high.at - best.at);
        let (e0, e1) = (low.excess - best.excess, high.excess - best.excess);
        let (top, bottom) = (d1 * d1 * e0 - d0 * d0 * e1, 2.0 * (d1 * e0 - d0 * e1));
        let at = best.at + top / bottom;
        if !at.is_finite() || at <= low.at || at >= high.at || (at - best.at).abs() < 1e-6 {
            return None;
        }
        let step = step_at(solver, turbine, at, &best.trial).ok()?;
        if step.excess * b.excess <= 0.0 {
            return Some(step);
        }
        if step.excess.abs() >= best.excess.abs() {
            return None;
        }
        if at < best.at {
            high = best;
        } else {
            low = best;
        }
        best = step;
    }
    None
}

/// Settles everything at one value of a climb.
fn step_at(solver: &mut Solver, turbine: usize, at: f64, near: &Trial) -> Result<Step, MatchError> {
    let mut trial = *near;
    if let Some(i) = solver.index(Variable::Climb { turbine }) {
        trial.x[i] = at;
    }
    trial.held[turbine] = true;
    let settled = settle(solver, &trial, false)?;
    let settled = if turbine + 1 < solver.driven.len() {
        let mut inner = settled;
        for later in turbine + 1..solver.driven.len() {
            inner.held[later] = true;
            inner.gates[later] = Gate::Fixed;
            if let Some(i) = solver.index(Variable::Climb { turbine: later }) {
                inner.x[i] = range(solver, later).0;
            }
            if let Some(i) = solver.index(Variable::Gate { turbine: later }) {
                inner.x[i] = 0.0;
            }
        }
        let inner = settle(solver, &inner, false)?;
        climb(solver, turbine + 1, &inner)?.trial
    } else {
        settled
    };
    let excess = excess(solver, turbine, &settled);
    let beyond = beyond(solver, turbine, &settled).unwrap_or(-1.0);
    Ok(Step {
        at,
        excess,
        beyond,
        trial: settled,
    })
}

/// Turbine power less compressor power at a settled trial, W.
fn excess(solver: &mut Solver, turbine: usize, trial: &Trial) -> f64 {
    look(solver, trial, |record, _| record.turbines[turbine].excess).unwrap_or(f64::NEG_INFINITY)
}

/// Boost beyond the limit of a turbine's gate, relative.
fn beyond(solver: &mut Solver, turbine: usize, trial: &Trial) -> Option<f64> {
    let i = solver.index(Variable::Gate { turbine })?;
    look(solver, trial, |_, balances| balances[i])
}

/// Walks once more through a settled trial and looks at what was seen.
fn look<T>(
    solver: &mut Solver,
    trial: &Trial,
    see: impl FnOnce(&Record, &[f64]) -> T,
) -> Option<T> {
    let mut record = std::mem::take(&mut solver.record);
    let mut balances = [0.0; crate::numeric::newton::MAX_UNKNOWNS];
    let mut walked = *trial;
    let seen = super::walk::walk(solver, &mut walked, &mut balances, &mut record, false);
    let seen = seen.ok().map(|()| see(&record, &balances));
    solver.record = record;
    seen
}

/// Pressure ratio of the compressor that a turbine drives.
fn pressure_ratio(solver: &Solver, turbine: usize, trial: &Trial) -> Option<f64> {
    let mut record = Record::default();
    let mut balances = [0.0; crate::numeric::newton::MAX_UNKNOWNS];
    let mut walked = *trial;
    super::walk::walk(solver, &mut walked, &mut balances, &mut record, false).ok()?;
    let part = solver.driven[turbine];
    let stage = solver
        .layout
        .stages
        .iter()
        .position(|(_, at)| *at == part)?;
    let stage = record.stages.get(stage)?;
    Some(stage.outlet.pressure / stage.inlet.pressure)
}

/// The balance between two steps of opposite excess.
fn balance(
    solver: &mut Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
) -> Result<Trial, MatchError> {
    let share = low.excess / (low.excess - high.excess);
    let mut trial = low.trial.towards(&high.trial, share.clamp(0.0, 1.0));
    trial.held[turbine] = false;
    if let Some(i) = solver.index(Variable::Climb { turbine })
        && let Ok(found) = polish(solver, &trial)
        && found.x[i] >= low.at - 1e-9
        && found.x[i] <= high.at + 1e-9
    {
        return Ok(found);
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
    let mut nearest = low.trial;
    let mut fault = None;
    let found = between(
        low.at,
        high.at,
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
            polish(solver, &nearest)
        }
        Bracketed::NoSign(..) => Err(fault.unwrap_or(MatchError::RunsAway {
            turbine: turbine + 1,
            from: low.at.exp(),
            to: high.at.exp(),
        })),
    }
}

/// The gate holds the limit that was reached between two steps.
fn hold(
    solver: &mut Solver,
    turbine: usize,
    low: &Step,
    high: &Step,
    start: &Trial,
) -> Result<Found, MatchError> {
    let (Some(gate), Some(climb)) = (
        solver.index(Variable::Gate { turbine }),
        solver.index(Variable::Climb { turbine }),
    ) else {
        return Err(MatchError::Gate {
            turbine: turbine + 1,
            largest: 0.0,
        });
    };
    let largest = largest_share(solver, turbine).unwrap_or(0.0);
    let share = (low.beyond / (low.beyond - high.beyond)).clamp(0.0, 1.0);
    let mut at_limit = low.trial.towards(&high.trial, share);
    at_limit.held[turbine] = false;
    at_limit.gates[turbine] = Gate::Holding;
    for guess in [0.02, 0.1, 0.3] {
        let mut trial = at_limit;
        trial.x[gate] = guess;
        if let Ok(found) = polish(solver, &trial) {
            if found.x[gate] > largest {
                return wide_open(solver, turbine, start);
            }
            if found.x[gate] >= -1e-12 && found.x[climb] > range(solver, turbine).0 {
                return Ok(Found::new(found));
            }
        }
    }
    hold_by_share(solver, turbine, start)
}

/// The gate's share by closing a bracket between shut and wide open: at each share the first stable
/// balance, and its boost against the limit.
fn hold_by_share(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Found, MatchError> {
    let largest = largest_share(solver, turbine).unwrap_or(0.0);
    let fault = MatchError::Gate {
        turbine: turbine + 1,
        largest,
    };
    let gate = solver.index(Variable::Gate { turbine }).ok_or(fault)?;
    let mut nearest = None;
    let found = between(
        0.0,
        largest,
        |share| match at_share(solver, turbine, share, start) {
            Ok(found) => {
                let by = beyond(solver, turbine, &found.trial).unwrap_or(f64::NAN);
                nearest = Some(found.trial);
                by
            }
            // With a shut gate it runs away: beyond any limit.
            Err(MatchError::RunsAway { .. }) => 1.0,
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
            polish(solver, &trial).map(Found::new)
        }
        (Bracketed::NoSign(_, open), _) if open > 0.0 => wide_open(solver, turbine, start),
        _ => Err(fault),
    }
}

/// The first stable balance with the gate at its largest share; where its boost then stays below the
/// limit, the share between that holds it.
fn wide_open(solver: &mut Solver, turbine: usize, start: &Trial) -> Result<Found, MatchError> {
    let largest = largest_share(solver, turbine).unwrap_or(0.0);
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
    let mut trial = *start;
    if let Some(i) = solver.index(Variable::Gate { turbine }) {
        trial.x[i] = share;
    }
    let (from, to) = range(solver, turbine);
    let count = if solver.driven.len() > 1 {
        STEPS_IN_SERIES
    } else {
        STEPS
    };
    let mut steps: Vec<Step> = Vec::with_capacity(count + 1);
    for k in 0..=count {
        let at = from + (to - from) * k as f64 / count as f64;
        match step_at(solver, turbine, at, &trial) {
            Ok(step) => {
                trial = step.trial;
                steps.push(step);
            }
            Err(fault) if steps.is_empty() => return Err(fault),
            Err(_) => break,
        }
        if let [.., low, high] = *steps.as_slice()
            && low.excess > 0.0
            && high.excess <= 0.0
        {
            return balance(solver, turbine, &low, &high).map(Found::new);
        }
    }
    at_an_end(solver, turbine, &steps)
}

/// A further stable equilibrium beyond the first: another balance, or the limit that the gate would
/// hold.
fn second(
    solver: &mut Solver,
    turbine: usize,
    steps: &[Step],
    balances: &[Crossing],
    first: usize,
    limit: Option<usize>,
) -> Option<SecondEquilibrium> {
    let next = balances
        .iter()
        .find(|crossing| crossing.stable && crossing.above > first);
    let trial = match (next, limit) {
        (Some(crossing), _) => balance(
            solver,
            turbine,
            &steps[crossing.above - 1],
            &steps[crossing.above],
        )
        .ok()?,
        (None, Some(limit)) if steps[limit].excess > 0.0 => {
            hold(
                solver,
                turbine,
                &steps[limit - 1],
                &steps[limit],
                &steps[0].trial,
            )
            .ok()?
            .trial
        }
        _ => return None,
    };
    let pressure_ratio = pressure_ratio(solver, turbine, &trial)?;
    look(solver, &trial, |record, _| SecondEquilibrium {
        pressure_ratio,
        manifold_pressure: record.manifold.map_or(0.0, |state| state.pressure),
        air_mass_flow: record.flow,
    })
}

/// The match on the branch of a neighbour's. `None` where it cannot be followed.
pub(super) fn from_neighbour(solver: &mut Solver, neighbour: &Trial) -> Option<Found> {
    let mut trial = *neighbour;
    // Flow follows speed; a first guess saves steps.
    for _ in 0..3 {
        let found = polish(solver, &trial).ok()?;
        match next_gates(solver, &found) {
            Next::Agrees => return Some(Found::new(found)),
            Next::Try(other) => trial = other,
            Next::Lost => return None,
        }
    }
    None
}

/// What a gate's state says of a solution.
enum Next {
    Agrees,
    Try(Trial),
    Lost,
}

/// Checks every gate of a solution and changes what does not agree.
fn next_gates(solver: &mut Solver, found: &Trial) -> Next {
    let mut other = *found;
    let mut agrees = true;
    for turbine in 0..solver.driven.len() {
        let (low, high) = range(solver, turbine);
        let climb = solver
            .index(Variable::Climb { turbine })
            .map_or(low, |i| found.x[i]);
        if climb <= low || climb > high {
            return Next::Lost;
        }
        let Some(gate) = solver.index(Variable::Gate { turbine }) else {
            continue;
        };
        let largest = largest_share(solver, turbine).unwrap_or(0.0);
        let by = beyond(solver, turbine, found).unwrap_or(0.0);
        match found.gates[turbine] {
            Gate::Fixed if by > AT_THE_LIMIT => {
                other.gates[turbine] = Gate::Holding;
                other.x[gate] = 0.01;
                agrees = false;
            }
            Gate::Holding if found.x[gate] < 0.0 => {
                other.gates[turbine] = Gate::Fixed;
                other.x[gate] = 0.0;
                agrees = false;
            }
            Gate::Holding if found.x[gate] > largest => return Next::Lost,
            Gate::WideOpen if by < -AT_THE_LIMIT => return Next::Lost,
            _ => {}
        }
    }
    if agrees {
        Next::Agrees
    } else {
        Next::Try(other)
    }
}
