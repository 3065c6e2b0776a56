//! Newton's solution of all balances that are not held, from a near trial.

use super::bypass_state::change_bypasses;
use super::free_variables::FreeVariables;
use crate::matching::equations::{Equations, Workspace};
use crate::matching::error::MatchError;
use crate::matching::evaluate::{GivenValues, evaluate};
use crate::matching::setup::Setup;
use crate::matching::variables::Trial;
use crate::numeric::newton::{self, InverseJacobian, MAX_UNKNOWNS, NewtonOutcome, NewtonSettings};

/// How closely balances are solved, relative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::matching) struct Tolerances {
    /// What is aimed at.
    tolerance: f64,
    /// Largest residual that still counts where rounding forbids more.
    enough: f64,
    /// Relative difference within which a bypass is left as it is.
    indifference: f64,
}

/// For a match: a thousandth of what it promises.
pub(in crate::matching) const TIGHT: Tolerances = Tolerances {
    tolerance: 1e-12,
    enough: 2e-10,
    indifference: 1e-11,
};
/// For a look along the climb, where only signs and starting values are wanted.
pub(in crate::matching) const LOOSE: Tolerances = Tolerances {
    tolerance: 3e-5,
    enough: 3e-5,
    indifference: 1e-4,
};
/// Most evaluations of one solution.
const EVALUATIONS: usize = 160;
/// Largest change of any variable in one step: a factor of e^0.5 in a pressure or a flow.
const LARGEST_STEP: f64 = 0.5;
/// How often a bypass may change its mind.
const CHANGES: usize = 8;

/// Solves from a near trial by Newton alone, letting bypasses open and shut as they must. What was
/// found at the solution stays in the equations' record.
pub(in crate::matching) fn solve_near(
    equations: &mut Equations,
    near: &Trial,
    tolerances: Tolerances,
) -> Result<Trial, MatchError> {
    let (setup, work) = (&equations.setup, &mut equations.work);
    let mut trial = *near;
    let mut residual = f64::INFINITY;
    work.evaluations = 0;
    for change in 0..CHANGES {
        if !work.inverse_of.is_like(&trial) {
            work.inverse = InverseJacobian::UNKNOWN;
        }
        work.inverse_of = trial;
        work.evaluated = None;
        residual = newton_once(setup, work, &mut trial, tolerances);
        if residual > tolerances.enough {
            break;
        }
        let stays_open = change >= CHANGES / 2;
        let indifference = tolerances.indifference;
        if !change_bypasses(setup, &mut trial, &work.record, indifference, stays_open) {
            work.evaluated = Some(trial);
            return Ok(trial);
        }
    }
    Err(MatchError::Unsettled {
        flow: trial.x[0].exp(),
        residual: residual.is_finite().then_some(residual),
    })
}

/// One Newton solution with the bypasses as they stand. Leaves the best values in the trial, what was
/// found there in record and balances, and returns the largest residual.
fn newton_once(
    setup: &Setup,
    work: &mut Workspace,
    trial: &mut Trial,
    tolerances: Tolerances,
) -> f64 {
    let free = FreeVariables::of(setup, trial);
    let mut values = [0.0; MAX_UNKNOWNS];
    for (value, &variable) in values.iter_mut().zip(free.variables()) {
        *value = trial.x[variable];
    }
    let mut given = *trial;
    let Workspace {
        record,
        balances,
        inverse,
        evaluations,
        ..
    } = work;
    let outcome: NewtonOutcome = newton::solve(
        &mut values[..free.variables().len()],
        |x, residuals| {
            for (value, &variable) in x.iter().zip(free.variables()) {
                given.x[variable] = *value;
            }
            if evaluate(setup, &mut given, balances, record, GivenValues::All).is_err() {
                return false;
            }
            for (residual, &variable) in residuals.iter_mut().zip(free.variables()) {
                *residual = balances[variable];
            }
            true
        },
        NewtonSettings {
            tolerance: tolerances.tolerance,
            evaluations: EVALUATIONS,
            largest_step: LARGEST_STEP,
        },
        inverse,
    );
    *evaluations += outcome.evaluations;
    for (value, &variable) in values.iter().zip(free.variables()) {
        given.x[variable] = *value;
    }
    *trial = given;
    let there =
        outcome.ended_there || evaluate(setup, trial, balances, record, GivenValues::All).is_ok();
    if there {
        outcome.largest_residual
    } else {
        f64::INFINITY
    }
}
