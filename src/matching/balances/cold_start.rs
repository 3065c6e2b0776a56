//! Solving with nothing known but a rough flow: an evaluation with the flow alone given, or a closing
//! bracket of the flow.

use super::newton::{Tolerances, solve_near};
use crate::matching::equations::{Equations, Workspace};
use crate::matching::error::MatchError;
use crate::matching::evaluate::{Balances, GivenValues, Infeasible, evaluate};
use crate::matching::variables::{BypassMode, GateMode, MOST_STAGES, Trial};
use crate::numeric::newton::MAX_UNKNOWNS;
use crate::numeric::root::{Bracketed, between};

/// Solves with nothing known but a rough flow.
pub(in crate::matching) fn solve_cold(
    equations: &mut Equations,
    from: &Trial,
    tolerances: Tolerances,
) -> Result<Trial, MatchError> {
    equations.work.record.soot = None;
    flow_first(equations, from, tolerances).map_err(|fault| match equations.work.record.soot {
        Some((air_fuel_ratio, smallest)) => MatchError::Soot {
            air_fuel_ratio,
            smallest,
        },
        None => fault,
    })
}

/// What the engine swallows falls against the flow, so that any balance found is the only one: an
/// evaluation at the rough flow is tried first, then a wide bracket, which is nearly always near enough,
/// and then a narrow one.
fn flow_first(
    equations: &mut Equations,
    from: &Trial,
    tolerances: Tolerances,
) -> Result<Trial, MatchError> {
    if let Some(explicit) = explicit_at(equations, from)
        && let Ok(found) = solve_near(equations, &explicit, tolerances)
    {
        return Ok(found);
    }
    let wide = bracket(equations, from, WIDE)?;
    if let Ok(found) = solve_near(equations, &wide, tolerances) {
        return Ok(found);
    }
    let narrow = bracket(equations, from, NARROW)?;
    solve_near(equations, &narrow, tolerances)
}

/// The trial that follows from the flow and the climbs of another.
fn explicit_at(equations: &mut Equations, from: &Trial) -> Option<Trial> {
    let mut trial = *from;
    prepare(&mut trial);
    let work = &mut equations.work;
    work.evaluated = None;
    let Workspace {
        record, balances, ..
    } = work;
    evaluate(
        &equations.setup,
        &mut trial,
        balances,
        record,
        GivenValues::FlowAndClimbs(ROUGHLY),
    )
    .is_ok()
    .then_some(trial)
}

/// Relative closeness of pressures that only start a solution.
const ROUGHLY: f64 = 1e-3;
/// Logarithmic width of a bracket of the flow that Newton starts well from.
const WIDE: f64 = 3e-2;
/// Logarithmic width of one that it starts from where the wide one does not do.
const NARROW: f64 = 1e-9;

/// Widenings of the bracket by a factor of 1.35 each way: from a 150th to the 150-fold of the start.
const WIDENINGS: i32 = 17;
/// Logarithmic width of one widening.
const WIDENING: f64 = 0.3;

/// Brackets the flow to a logarithmic width: an evaluation at each flow finds all other values,
/// and what the engine swallows falls against the flow, because every pressure falls with it.
fn bracket(equations: &mut Equations, near: &Trial, width: f64) -> Result<Trial, MatchError> {
    let (setup, work) = (&equations.setup, &mut equations.work);
    work.evaluated = None;
    let record = &mut work.record;
    let mut trial = *near;
    prepare(&mut trial);
    let start = near.x[0];
    let given = GivenValues::FlowAndClimbs(0.01 * width.min(1e-2));
    let mut at = |ln_flow: f64, trial: &mut Trial| {
        trial.x[0] = ln_flow;
        let mut balances: Balances = [0.0; MAX_UNKNOWNS];
        match evaluate(setup, trial, &mut balances, record, given) {
            Ok(()) => balances[0],
            Err(Infeasible::FlowTooLarge) => -1.0,
            Err(Infeasible::FlowTooSmall) => 1e3,
        }
    };
    let (mut low, mut high) = (start, start);
    let mut value = at(start, &mut trial);
    for _ in 0..WIDENINGS {
        if value > 0.0 {
            low = high;
            high += WIDENING;
            value = at(high, &mut trial);
            if value <= 0.0 {
                break;
            }
        } else {
            high = low;
            low -= WIDENING;
            value = at(low, &mut trial);
            if value > 0.0 {
                break;
            }
        }
    }
    let found = between(low, high, |x| at(x, &mut trial), width, 1e-4 * width);
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

/// Which bypass has to hold the manifold is not found from the flow alone: all start shut, and are
/// opened by what the solution then shows. A gate that holds starts as it stands.
fn prepare(trial: &mut Trial) {
    trial.bypasses = [BypassMode::Shut; MOST_STAGES];
    for (gate, held) in trial.gates.iter_mut().zip(trial.held) {
        if *gate == GateMode::Holding && held {
            *gate = GateMode::Fixed;
        }
    }
}

/// Solves from a near trial where that goes, else from its flow alone.
pub(in crate::matching) fn solve(
    equations: &mut Equations,
    near: &Trial,
    tolerances: Tolerances,
) -> Result<Trial, MatchError> {
    match solve_near(equations, near, tolerances) {
        Ok(solved) => Ok(solved),
        Err(_) => solve_cold(equations, near, tolerances),
    }
}
