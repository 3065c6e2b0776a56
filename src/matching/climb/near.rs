//! On the branch of a neighbour's.

use super::{AT_THE_LIMIT, Found, beyond, range};
use crate::matching::settle::{Active, TIGHT, polish};
use crate::matching::solver::{Solver, Work};
use crate::matching::variables::{Gate, Trial};
use crate::matching::walk::{Manner, walk};
use crate::numeric::newton::MAX_UNKNOWNS;

/// How often gates may change their mind on the way.
const CHANGES: usize = 3;
/// How far a probe of stability steps along the climb.
const PROBE: f64 = 1e-5;

/// The match on the branch of a neighbour's. `None` where it cannot be followed or is not stable.
pub(in crate::matching) fn from_neighbour(solver: &mut Solver, neighbour: &Trial) -> Option<Found> {
    let mut trial = *neighbour;
    for _ in 0..CHANGES {
        let found = polish(solver, &trial, TIGHT).ok()?;
        match next_gates(solver, &found) {
            Next::Agrees => return is_stable(solver, &found).then_some(Found::new(found)),
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
    for turbine in 0..solver.setup.driven.len() {
        let (low, high) = range(&solver.setup, turbine);
        let driven = solver.setup.driven[turbine];
        let climb = found.x[driven.climb];
        if climb <= low || climb > high {
            return Next::Lost;
        }
        let Some(gate) = driven.gate else {
            continue;
        };
        let largest = driven.largest_share;
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

/// Whether every turbine that nothing holds is stable: its excess falls along its climb while all
/// other balances are kept.
///
/// The inverse Jacobian holds that slope: 1/(∂climb/∂residual). Of several in series each is asked
/// with the earlier ones held, which are the pivots of their block. The first is asked once more by
/// stepping that way, because an inverse that was only updated may be wrong just where it matters,
/// near a turn of the branch.
fn is_stable(solver: &mut Solver, found: &Trial) -> bool {
    let active = Active::of(&solver.setup, found);
    let mut free = [0; MAX_UNKNOWNS];
    let mut count = 0;
    for (turbine, driven) in solver.setup.driven.iter().enumerate() {
        let place = active.place(driven.climb);
        if let (Some(place), true) = (place, found.gates[turbine] != Gate::Holding) {
            free[count] = place;
            count += 1;
        }
    }
    let free = &free[..count];
    let Some(&first) = free.first() else {
        return true;
    };
    pivots_fall(&solver.work, free) && probe_falls(solver, found, &active, first)
}

/// Whether all pivots of the inverse's block are below 0.
fn pivots_fall(work: &Work, free: &[usize]) -> bool {
    let mut block = [[0.0; MAX_UNKNOWNS]; MAX_UNKNOWNS];
    for (i, &row) in free.iter().enumerate() {
        for (j, &column) in free.iter().enumerate() {
            let Some(change) = work.inverse.change(row, column) else {
                return false;
            };
            block[i][j] = change;
        }
    }
    for k in 0..free.len() {
        let pivot = block[k][k];
        if pivot.is_nan() || pivot >= 0.0 {
            return false;
        }
        for i in k + 1..free.len() {
            let factor = block[i][k] / pivot;
            for j in k..free.len() {
                block[i][j] -= factor * block[k][j];
            }
        }
    }
    true
}

/// Whether a step that keeps the other balances lets the excess fall; false also where it does not
/// keep them, so that nothing can be said.
fn probe_falls(solver: &mut Solver, found: &Trial, active: &Active, power: usize) -> bool {
    let Work { inverse, aside, .. } = &mut solver.work;
    let mut probe = *found;
    let Some(own) = inverse.change(power, power) else {
        return false;
    };
    for (place, &variable) in active.variables().iter().enumerate() {
        let along = inverse.change(place, power).unwrap_or(0.0) / own;
        probe.x[variable] += PROBE * along;
    }
    let mut balances = [0.0; MAX_UNKNOWNS];
    if walk(
        &solver.setup,
        &mut probe,
        &mut balances,
        aside,
        Manner::Ordinary,
    )
    .is_err()
    {
        return false;
    }
    let mut others = 0.0_f64;
    for (place, &variable) in active.variables().iter().enumerate() {
        if place != power {
            others = others.max(balances[variable].abs());
        }
    }
    let fall = -balances[active.variables()[power]];
    fall > 0.0 && others < fall
}
