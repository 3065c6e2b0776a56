//! The equilibrium on the branch of a neighbour's, from which the solution starts.

use super::shaft::{AT_THE_LIMIT, Equilibrium, boost_beyond_limit, range};
use crate::exhaust::BoostAt;
use crate::matching::balances::{FreeVariables, TIGHT, solve_near};
use crate::matching::equations::{Equations, Workspace};
use crate::matching::evaluate::{GivenValues, evaluate};
use crate::matching::setup::{DrivenStage, Setup};
use crate::matching::variables::{GateMode, Trial};
use crate::numeric::newton::MAX_UNKNOWNS;

/// How often gates may change their mind on the way.
const CHANGES: usize = 3;
/// How far a probe of stability steps along the climb.
const PROBE: f64 = 1e-5;
/// Share of the exhaust that a gate which has just opened starts from.
const FIRST_SHARE: f64 = 0.01;

/// The equilibrium on the branch of a neighbour's. `None` where it cannot be followed or is not stable.
pub(in crate::matching) fn from_neighbour(
    equations: &mut Equations,
    neighbour: &Trial,
) -> Option<Equilibrium> {
    let mut trial = *neighbour;
    for _ in 0..CHANGES {
        let found = solve_near(equations, &trial, TIGHT).ok()?;
        match next_gates(equations, &found) {
            GateCheck::Agrees => {
                return is_stable(equations, &found).then_some(Equilibrium::at(found));
            }
            GateCheck::Try(other) => trial = other,
            GateCheck::Lost => return None,
        }
    }
    None
}

/// What a gate's state says of a solution.
enum GateCheck {
    Agrees,
    Try(Trial),
    Lost,
}

/// A later gate that feels the same pressure against the same limit as this turbine's and is not
/// wide open yet. Two such gates leave open which of them moves: the last in exhaust order does,
/// as on the climb from rest, where the later turbines find their balance within each step of the
/// first. So a match is a function of the build and the speed alone.
fn later_gate_that_moves_first(setup: &Setup, turbine: usize, gates: &[GateMode]) -> Option<usize> {
    let felt = |turbine: usize| {
        let gate = setup.installation.turbines[turbine].wastegate.as_ref()?;
        let at_manifold = gate.boost_at == BoostAt::Manifold;
        at_manifold.then(|| gate.boost_limit.at(setup.rpm))
    };
    let own = felt(turbine)?;
    (turbine + 1..setup.driven.len()).find(|&later| {
        let same = felt(later).is_some_and(|limit| (limit - own).abs() <= AT_THE_LIMIT * own.abs());
        same && gates[later] != GateMode::WideOpen
    })
}

/// Checks every gate of a solution and changes what does not agree.
fn next_gates(equations: &mut Equations, found: &Trial) -> GateCheck {
    let mut other = *found;
    let mut agrees = true;
    for turbine in 0..equations.setup.driven.len() {
        let (low, high) = range(&equations.setup, turbine);
        let driven = equations.setup.driven[turbine];
        let climb = found.x[driven.climb];
        if climb <= low || climb > high {
            return GateCheck::Lost;
        }
        let Some(gate) = driven.gate else {
            continue;
        };
        let largest = driven.largest_share;
        let by = boost_beyond_limit(equations, turbine, found).unwrap_or(0.0);
        let first = later_gate_that_moves_first(&equations.setup, turbine, &found.gates);
        match found.gates[turbine] {
            GateMode::Fixed if by > AT_THE_LIMIT && first.is_some() => {}
            GateMode::Holding if first.is_some() => {
                other.gates[turbine] = GateMode::Fixed;
                other.x[gate] = 0.0;
                agrees = false;
                if let Some(later) = first
                    && let Some(gate) = equations.setup.driven[later].gate
                    && found.gates[later] == GateMode::Fixed
                {
                    other.gates[later] = GateMode::Holding;
                    other.x[gate] = FIRST_SHARE;
                }
            }
            GateMode::Fixed if by > AT_THE_LIMIT => {
                other.gates[turbine] = GateMode::Holding;
                other.x[gate] = FIRST_SHARE;
                agrees = false;
            }
            GateMode::Holding if found.x[gate] < 0.0 => {
                other.gates[turbine] = GateMode::Fixed;
                other.x[gate] = 0.0;
                agrees = false;
            }
            GateMode::Holding if found.x[gate] > largest => return GateCheck::Lost,
            GateMode::WideOpen if by < -AT_THE_LIMIT => return GateCheck::Lost,
            _ => {}
        }
    }
    if agrees {
        GateCheck::Agrees
    } else {
        GateCheck::Try(other)
    }
}

/// Whether every turbine that nothing holds is stable: its excess falls along its climb while all
/// other balances are kept.
///
/// The inverse Jacobian holds that slope: 1/(∂climb/∂residual). Of several in series each is asked
/// with the earlier ones held, which are the pivots of their block. The first is asked once more by
/// stepping that way, because an inverse that was only updated may be wrong just where it matters,
/// near a turn of the branch. A gate that holds is asked with its shaft, see [`gate_holds_its_limit`].
fn is_stable(equations: &mut Equations, found: &Trial) -> bool {
    let free_variables = FreeVariables::of(&equations.setup, found);
    let held = equations
        .setup
        .driven
        .iter()
        .enumerate()
        .all(|(turbine, driven)| {
            found.gates[turbine] != GateMode::Holding
                || gate_holds_its_limit(&equations.work, &free_variables, driven)
        });
    if !held {
        return false;
    }
    let mut free = [0; MAX_UNKNOWNS];
    let mut count = 0;
    for (turbine, driven) in equations.setup.driven.iter().enumerate() {
        let place = free_variables.place(driven.climb);
        if let (Some(place), true) = (place, found.gates[turbine] != GateMode::Holding) {
            free[count] = place;
            count += 1;
        }
    }
    let free = &free[..count];
    let Some(&first) = free.first() else {
        return true;
    };
    pivots_fall(&equations.work, free) && probe_falls(equations, found, &free_variables, first)
}

/// Whether a gate that feels its limit holds it. The gate opens while the boost is beyond the limit
/// and its shaft gains speed while its excess is above 0; with the gate much the faster of the two
/// that comes to rest where ∂excess/∂climb ∂boost/∂share − ∂excess/∂share ∂boost/∂climb > 0 (the
/// determinant of the pair's Jacobian, all other balances kept; Routh and Hurwitz for two states).
/// It fails where a faster turbo brings less boost, because it takes the supercharger's load: such
/// a gate opens or shuts for good.
fn gate_holds_its_limit(
    work: &Workspace,
    free_variables: &FreeVariables,
    driven: &DrivenStage,
) -> bool {
    let Some(gate) = driven.gate else {
        return true;
    };
    let (Some(climb), Some(gate)) = (
        free_variables.place(driven.climb),
        free_variables.place(gate),
    ) else {
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
fn pivots_fall(work: &Workspace, free: &[usize]) -> bool {
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
fn probe_falls(
    equations: &mut Equations,
    found: &Trial,
    free_variables: &FreeVariables,
    power: usize,
) -> bool {
    let Workspace {
        inverse,
        probe: probe_record,
        ..
    } = &mut equations.work;
    let mut probe = *found;
    let Some(own) = inverse.change(power, power) else {
        return false;
    };
    for (place, &variable) in free_variables.variables().iter().enumerate() {
        let along = inverse.change(place, power).unwrap_or(0.0) / own;
        probe.x[variable] += PROBE * along;
    }
    let mut balances = [0.0; MAX_UNKNOWNS];
    if evaluate(
        &equations.setup,
        &mut probe,
        &mut balances,
        probe_record,
        GivenValues::All,
    )
    .is_err()
    {
        return false;
    }
    let mut others = 0.0_f64;
    for (place, &variable) in free_variables.variables().iter().enumerate() {
        if place != power {
            others = others.max(balances[variable].abs());
        }
    }
    let fall = -balances[free_variables.variables()[power]];
    fall > 0.0 && others < fall
}
