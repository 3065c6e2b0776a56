//! On the branch of a neighbour's.

use super::{AT_THE_LIMIT, Found, beyond, range};
use crate::exhaust::BoostAt;
use crate::matching::settle::{Active, TIGHT, polish};
use crate::matching::setup::{Driven, Setup};
use crate::matching::solver::{Solver, Work};
use crate::matching::variables::{Gate, Trial};
use crate::matching::walk::{Manner, walk};
use crate::numeric::newton::MAX_UNKNOWNS;

/// How often gates may change their mind on the way.
const CHANGES: usize = 3;
/// How far a probe of stability steps along the climb.
const PROBE: f64 = 1e-5;
/// Share of the exhaust that a gate which has just opened starts from.
const FIRST_SHARE: f64 = 0.01;

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

/// A later gate that feels the same pressure against the same limit as this turbine's and is not
/// wide open yet. Two such gates leave open which of them moves: the last in exhaust order does,
/// as on the climb from rest, where the later turbines find their balance within each step of the
/// first. So a match is a function of the build and the speed alone.
fn moves_first(setup: &Setup, turbine: usize, gates: &[Gate]) -> Option<usize> {
    let felt = |turbine: usize| {
        let gate = setup.installation.turbines[turbine].wastegate.as_ref()?;
        let at_manifold = gate.boost_at == BoostAt::Manifold;
        at_manifold.then(|| gate.boost_limit.at(setup.rpm))
    };
    let own = felt(turbine)?;
    (turbine + 1..setup.driven.len()).find(|&later| {
        let same = felt(later).is_some_and(|limit| (limit - own).abs() <= AT_THE_LIMIT * own.abs());
        same && gates[later] != Gate::WideOpen
    })
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
        let first = moves_first(&solver.setup, turbine, &found.gates);
        match found.gates[turbine] {
            Gate::Fixed if by > AT_THE_LIMIT && first.is_some() => {}
            Gate::Holding if first.is_some() => {
                other.gates[turbine] = Gate::Fixed;
                other.x[gate] = 0.0;
                agrees = false;
                if let Some(later) = first
                    && let Some(gate) = solver.setup.driven[later].gate
                    && found.gates[later] == Gate::Fixed
                {
                    other.gates[later] = Gate::Holding;
                    other.x[gate] = FIRST_SHARE;
                }
            }
            Gate::Fixed if by > AT_THE_LIMIT => {
                other.gates[turbine] = Gate::Holding;
                other.x[gate] = FIRST_SHARE;
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
/// near a turn of the branch. A gate that holds is asked with its shaft, see [`holds`].
fn is_stable(solver: &mut Solver, found: &Trial) -> bool {
    let active = Active::of(&solver.setup, found);
    let held = solver
        .setup
        .driven
        .iter()
        .enumerate()
        .all(|(turbine, driven)| {
            found.gates[turbine] != Gate::Holding || holds(&solver.work, &active, driven)
        });
    if !held {
        return false;
    }
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

/// Whether a gate that feels its limit holds it. The gate opens while the boost is beyond the limit
/// and its shaft gains speed while its excess is above 0; with the gate much the faster of the two
/// that comes to rest where ∂excess/∂climb ∂boost/∂share − ∂excess/∂share ∂boost/∂climb > 0 (the
/// determinant of the pair's Jacobian, all other balances kept; Routh and Hurwitz for two states).
/// It fails where a faster turbo brings less boost, because it takes the supercharger's load: such
/// a gate opens or shuts for good.
fn holds(work: &Work, active: &Active, driven: &Driven) -> bool {
    let Some(gate) = driven.gate else {
        return true;
    };
    let (Some(climb), Some(gate)) = (active.place(driven.climb), active.place(gate)) else {
        return true;
    };
    let change = |row, column| work.inverse.change(row, column);
    match (
        change(climb, climb),
        change(climb, gate),
        change(gate, climb),
        change(gate, gate),
    ) {
        // The determinant of the inverse's block is that of the block's inverse, inverted.
        (Some(zz), Some(zs), Some(sz), Some(ss)) => zz * ss - zs * sz > 0.0,
        _ => false,
    }
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
