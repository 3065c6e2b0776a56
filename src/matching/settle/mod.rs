//! Solving all balances that are not held: Newton from a near trial; where that fails, the flow by a
//! closing bracket, and Newton from there.

mod afar;
mod ways;

pub(in crate::matching) use afar::settle_from_afar;

use ways::change_ways;

use crate::matching::error::MatchError;
use crate::matching::setup::Setup;
use crate::matching::solver::{Solver, Work};
use crate::matching::variables::{Gate, Trial, Way};
use crate::matching::walk::{Manner, walk};
use crate::numeric::newton::{self, InverseJacobian, MAX_UNKNOWNS, NewtonOutcome, NewtonSettings};

/// How closely balances are solved, relative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::matching) struct Closeness {
    /// What is aimed at.
    tolerance: f64,
    /// Largest residual that still counts where rounding forbids more.
    enough: f64,
    /// Relative difference within which a bypass is left as it is.
    indifference: f64,
}

/// For a match: a thousandth of what it promises.
pub(in crate::matching) const TIGHT: Closeness = Closeness {
    tolerance: 1e-12,
    enough: 2e-10,
    indifference: 1e-11,
};
/// For a look along the climb, where only signs and starting values are wanted.
pub(in crate::matching) const LOOSE: Closeness = Closeness {
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

/// Settles a near trial.
pub(in crate::matching) fn settle(
    solver: &mut Solver,
    near: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    match polish(solver, near, closeness) {
        Ok(settled) => Ok(settled),
        Err(_) => settle_from_afar(solver, near, closeness),
    }
}

/// Solves from a near trial by Newton alone, letting bypasses open and shut as they must. What was
/// seen at the solution stays in the solver's record.
pub(in crate::matching) fn polish(
    solver: &mut Solver,
    near: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    let (setup, work) = (&solver.setup, &mut solver.work);
    let mut trial = *near;
    let mut residual = f64::INFINITY;
    work.evaluations = 0;
    for change in 0..CHANGES {
        if !work.inverse_of.is_like(&trial) {
            work.inverse = InverseJacobian::UNKNOWN;
        }
        work.inverse_of = trial;
        work.seen = None;
        residual = newton_once(setup, work, &mut trial, closeness);
        if residual > closeness.enough {
            break;
        }
        let stays_open = change >= CHANGES / 2;
        let indifference = closeness.indifference;
        if !change_ways(setup, &mut trial, &work.record, indifference, stays_open) {
            work.seen = Some(trial);
            return Ok(trial);
        }
    }
    Err(MatchError::Unsettled {
        flow: trial.x[0].exp(),
        residual: residual.is_finite().then_some(residual),
    })
}

/// The variables that are solved for in a trial, in order.
pub(in crate::matching) struct Active {
    list: [usize; MAX_UNKNOWNS],
    count: usize,
}

impl Active {
    pub fn of(setup: &Setup, trial: &Trial) -> Self {
        let mut is_active = [true; MAX_UNKNOWNS];
        for (turbine, driven) in setup.driven.iter().enumerate() {
            is_active[driven.climb] = !trial.held[turbine];
            if let Some(gate) = driven.gate {
                is_active[gate] = trial.gates[turbine] == Gate::Holding;
            }
        }
        for (belt, described) in setup.belts.iter().enumerate() {
            let turns = setup
                .supercharger(described)
                .is_some_and(|stage| stage.is_engaged(setup.rpm));
            let free = matches!(trial.ways[belt], Way::Shut | Way::HoldingManifold);
            is_active[described.variable] = turns && free;
        }
        let mut active = Self {
            list: [0; MAX_UNKNOWNS],
            count: 0,
        };
        for (variable, _) in is_active[..setup.variables.len()]
            .iter()
            .enumerate()
            .filter(|(_, active)| **active)
        {
            active.list[active.count] = variable;
            active.count += 1;
        }
        active
    }

    pub fn variables(&self) -> &[usize] {
        &self.list[..self.count]
    }

    /// The place of a variable among the active ones.
    pub fn place(&self, variable: usize) -> Option<usize> {
        self.variables().iter().position(|v| *v == variable)
    }
}

/// One Newton solution with the ways as they stand. Leaves the best values in the trial, what was
/// seen there in record and balances, and returns the largest residual.
fn newton_once(setup: &Setup, work: &mut Work, trial: &mut Trial, closeness: Closeness) -> f64 {
    let active = Active::of(setup, trial);
    let mut values = [0.0; MAX_UNKNOWNS];
    for (value, &variable) in values.iter_mut().zip(active.variables()) {
        *value = trial.x[variable];
    }
    let mut walked = *trial;
    let Work {
        record,
        balances,
        inverse,
        evaluations,
        ..
    } = work;
    let outcome: NewtonOutcome = newton::solve(
        &mut values[..active.count],
        |x, residuals| {
            for (value, &variable) in x.iter().zip(active.variables()) {
                walked.x[variable] = *value;
            }
            if walk(setup, &mut walked, balances, record, Manner::Ordinary).is_err() {
                return false;
            }
            for (residual, &variable) in residuals.iter_mut().zip(active.variables()) {
                *residual = balances[variable];
            }
            true
        },
        NewtonSettings {
            tolerance: closeness.tolerance,
            evaluations: EVALUATIONS,
            largest_step: LARGEST_STEP,
        },
        inverse,
    );
    *evaluations += outcome.evaluations;
    for (value, &variable) in values.iter().zip(active.variables()) {
        walked.x[variable] = *value;
    }
    *trial = walked;
    let there =
        outcome.ended_there || walk(setup, trial, balances, record, Manner::Ordinary).is_ok();
    if there {
        outcome.largest_residual
    } else {
        f64::INFINITY
    }
}
