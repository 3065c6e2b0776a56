//! Solving all balances that are not held: Newton from a near trial; where that fails, the flow by a
//! closing bracket, and Newton from there.

use super::error::MatchError;
use super::record::Record;
use super::solver::Solver;
use super::variables::{Gate, Trial, Variable, Way};
use super::walk::{Balances, Snag, is_holding, walk};
use crate::air_path::{Bypass, BypassAt, Part, Supercharger};
use crate::numeric::newton::{self, MAX_UNKNOWNS, NewtonSettings};
use crate::numeric::root::{Bracketed, between};

/// Every balance is solved to this, relative; a thousandth of what a match promises.
const TOLERANCE: f64 = 1e-12;
/// Largest residual that still counts where rounding forbids more.
const GOOD_ENOUGH: f64 = 2e-10;
const NEWTON: NewtonSettings = NewtonSettings {
    tolerance: TOLERANCE,
    evaluations: 160,
    largest_step: 0.5,
};
/// How often a bypass may change its mind.
const CHANGES: usize = 8;

/// Settles a trial. `cold`: the values may be far off, so that the flow is bracketed at once.
pub(super) fn settle(solver: &mut Solver, near: &Trial, cold: bool) -> Result<Trial, MatchError> {
    if !cold && let Ok(settled) = polish(solver, near) {
        return Ok(settled);
    }
    let bracketed = bracket(solver, near)?;
    polish(solver, &bracketed)
}

/// Solves from a near trial by Newton alone, letting bypasses open and shut as they must.
pub(super) fn polish(solver: &mut Solver, near: &Trial) -> Result<Trial, MatchError> {
    let mut record = std::mem::take(&mut solver.record);
    let result = polish_with(solver, near, &mut record);
    solver.record = record;
    result
}

fn polish_with(solver: &Solver, near: &Trial, record: &mut Record) -> Result<Trial, MatchError> {
    let mut trial = *near;
    let mut residual = f64::INFINITY;
    for _ in 0..CHANGES {
        residual = newton_once(solver, &mut trial, record);
        if residual > GOOD_ENOUGH {
            break;
        }
        if !change_ways(solver, &mut trial, record) {
            return Ok(trial);
        }
    }
    Err(MatchError::Unsettled {
        flow: trial.x[0].exp(),
        residual,
    })
}

/// Which variables are solved for in a trial.
fn is_active(solver: &Solver, trial: &Trial, variable: usize) -> bool {
    match solver.variables[variable] {
        Variable::Flow | Variable::TurbineInlet { .. } | Variable::Pipe => true,
        Variable::Climb { turbine } => !trial.held[turbine],
        Variable::Gate { turbine } => is_holding(trial, turbine),
        Variable::Ratio { part } | Variable::Place { part } => match belt_of(solver, part) {
            Some((belt, supercharger)) => {
                supercharger.is_engaged(solver.rpm)
                    && matches!(trial.ways[belt], Way::Shut | Way::HoldingManifold)
            }
            None => true,
        },
    }
}

/// The number of a belt-driven stage among its like, and the stage; `None` for another part.
fn belt_of<'s>(solver: &'s Solver, part: usize) -> Option<(usize, &'s Supercharger)> {
    let driven = |kind: &'s Part| match kind {
        Part::Supercharger(supercharger) if supercharger.belt().is_some() => Some(&**supercharger),
        _ => None,
    };
    let parts = &solver.installation.air_path;
    let supercharger = driven(&parts[part])?;
    Some((
        parts[..part].iter().filter_map(driven).count(),
        supercharger,
    ))
}

/// One Newton solution with the ways as they stand. Leaves the best values in the trial, what was
/// seen there in the record, and returns the largest residual.
fn newton_once(solver: &Solver, trial: &mut Trial, record: &mut Record) -> f64 {
    let mut active = [0; MAX_UNKNOWNS];
    let mut count = 0;
    for variable in 0..solver.variables.len() {
        if is_active(solver, trial, variable) {
            active[count] = variable;
            count += 1;
        }
    }
    let active = &active[..count];
    let mut values = [0.0; MAX_UNKNOWNS];
    for (value, &variable) in values.iter_mut().zip(active) {
        *value = trial.x[variable];
    }
    let start = *trial;
    let mut balances: Balances = [0.0; MAX_UNKNOWNS];
    let outcome = newton::solve(
        &mut values[..count],
        |x, residuals| {
            let mut walked = start;
            for (value, &variable) in x.iter().zip(active) {
                walked.x[variable] = *value;
            }
            if walk(solver, &mut walked, &mut balances, record, false).is_err() {
                return false;
            }
            for (residual, &variable) in residuals.iter_mut().zip(active) {
                *residual = balances[variable];
            }
            true
        },
        NEWTON,
        &mut None,
    );
    for (value, &variable) in values.iter().zip(active) {
        trial.x[variable] = *value;
    }
    if walk(solver, trial, &mut balances, record, false).is_err() {
        return f64::INFINITY;
    }
    outcome.largest_residual
}

/// Lets each bypass do what the solution asks of it. Returns whether any changed.
fn change_ways(solver: &Solver, trial: &mut Trial, record: &Record) -> bool {
    let mut changed = false;
    for (stage, (_, part)) in solver.layout.stages.iter().enumerate() {
        let Some((belt, supercharger)) = belt_of(solver, *part) else {
            continue;
        };
        if !supercharger.is_engaged(solver.rpm) {
            continue;
        }
        let next = next_way(solver, supercharger.bypass, trial.ways[belt], stage, record);
        if next != trial.ways[belt] {
            trial.ways[belt] = next;
            changed = true;
        }
    }
    changed
}

/// What a way does next, seen from a solution in which it did `way`.
fn next_way(solver: &Solver, bypass: Bypass, way: Way, stage: usize, record: &Record) -> Way {
    let noted = &record.stages[stage];
    let Some(drop) = bypass.open_drop() else {
        return Way::Shut;
    };
    let rounding = 1.0 + 1e-11;
    let open = noted.inlet.pressure - drop;
    let delivers_too_much = noted.own_flow > record.flow * rounding;
    let too_little = noted.own_flow * rounding < record.flow;
    let felt = match bypass {
        Bypass::Regulated {
            at: BypassAt::SuperchargerOutlet,
            ..
        } => noted.outlet.pressure,
        _ => record
            .manifold
            .map_or(noted.outlet.pressure, |state| state.pressure),
    };
    let held = match bypass {
        Bypass::Regulated { pressure, .. } => solver.ambient.pressure + pressure,
        _ => f64::INFINITY,
    };
    match way {
        Way::Shut if noted.outlet.pressure * rounding < open => Way::Open,
        Way::Shut if felt > held * rounding => match bypass {
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } if held < open => Way::Open,
            Bypass::Regulated {
                at: BypassAt::SuperchargerOutlet,
                ..
            } => Way::HoldingOutlet,
            _ => Way::HoldingManifold,
        },
        // Open and delivering more than is wanted: shut, unless it is open to let off pressure.
        Way::Open if delivers_too_much && felt < held * (2.0 - rounding) => Way::Shut,
        Way::HoldingOutlet | Way::HoldingManifold if too_little => Way::Shut,
        Way::HoldingManifold if noted.outlet.pressure * rounding < open => Way::Open,
        _ => way,
    }
}

/// Brackets the flow: an explicit walk at each flow finds all other values, and what the engine
/// swallows falls against the flow, because every pressure falls with it.
fn bracket(solver: &mut Solver, near: &Trial) -> Result<Trial, MatchError> {
    let mut record = std::mem::take(&mut solver.record);
    let result = bracket_with(solver, near, &mut record);
    solver.record = record;
    result
}

/// Widenings of the bracket by a factor of 1.35 each way: from a 150th to the 150-fold of the start.
const WIDENINGS: i32 = 17;

fn bracket_with(solver: &Solver, near: &Trial, record: &mut Record) -> Result<Trial, MatchError> {
    let mut trial = *near;
    prepare(solver, &mut trial);
    let start = near.x[0];
    let mut at = |ln_flow: f64, trial: &mut Trial| {
        trial.x[0] = ln_flow;
        let mut balances: Balances = [0.0; MAX_UNKNOWNS];
        match walk(solver, trial, &mut balances, record, true) {
            Ok(()) => balances[0],
            Err(Snag::TooMuch) => -1.0,
            Err(Snag::TooLittle) => 1e3,
        }
    };
    let width = 0.3;
    let (mut low, mut high) = (start, start);
    let mut value = at(start, &mut trial);
    for _ in 0..WIDENINGS {
        if value > 0.0 {
            low = high;
            high += width;
            value = at(high, &mut trial);
            if value <= 0.0 {
                break;
            }
        } else {
            high = low;
            low -= width;
            value = at(low, &mut trial);
            if value > 0.0 {
                break;
            }
        }
    }
    let found = between(low, high, |x| at(x, &mut trial), 1e-9, 1e-13);
    match found {
        Bracketed::Root(x) | Bracketed::Jump(x) => {
            at(x, &mut trial);
            Ok(trial)
        }
        Bracketed::NoSign(..) => Err(MatchError::Flow {
            lowest: low.exp(),
            highest: high.exp(),
        }),
    }
}

/// A regulated manifold is not found on the way of an explicit walk; its rotors start at the
/// pressure to be held, which Newton then corrects.
fn prepare(solver: &Solver, trial: &mut Trial) {
    for belt in &mut trial.ways {
        *belt = Way::Shut;
    }
    for turbine in 0..solver.driven.len() {
        if trial.gates[turbine] == Gate::Holding && trial.held[turbine] {
            trial.gates[turbine] = Gate::Fixed;
        }
    }
}
