//! Settling with nothing known but a rough flow: an explicit walk, or a closing bracket of the flow.

use super::{Closeness, polish};
use crate::matching::error::MatchError;
use crate::matching::solver::{Solver, Work};
use crate::matching::variables::{Gate, MOST, Trial, Way};
use crate::matching::walk::{Balances, Manner, Snag, walk};
use crate::numeric::newton::MAX_UNKNOWNS;
use crate::numeric::root::{Bracketed, between};

/// Settles a trial with nothing known but a rough flow.
pub(in crate::matching) fn settle_from_afar(
    solver: &mut Solver,
    from: &Trial,
    closeness: Closeness,
) -> Result<Trial, MatchError> {
    solver.work.record.soot = None;
    from_afar(solver, from, closeness).map_err(|fault| match solver.work.record.soot {
        Some((air_fuel_ratio, smallest)) => MatchError::Soot {
            air_fuel_ratio,
            smallest,
        },
        None => fault,
    })
}

/// What the engine swallows falls against the flow, so that any balance found is the only one: an
/// explicit walk from a rough flow is tried first, then a wide bracket, which is nearly always near
/// enough, and then a narrow one.
fn from_afar(solver: &mut Solver, from: &Trial, closeness: Closeness) -> Result<Trial, MatchError> {
    if let Some(explicit) = explicit_at(solver, from)
        && let Ok(found) = polish(solver, &explicit, closeness)
    {
        return Ok(found);
    }
    let wide = bracket(solver, from, WIDE)?;
    if let Ok(found) = polish(solver, &wide, closeness) {
        return Ok(found);
    }
    let narrow = bracket(solver, from, NARROW)?;
    polish(solver, &narrow, closeness)
}

/// The trial of an explicit walk with the flow and the climbs of another.
fn explicit_at(solver: &mut Solver, from: &Trial) -> Option<Trial> {
    let mut trial = *from;
    prepare(&mut trial);
    let work = &mut solver.work;
    work.seen = None;
    let Work {
        record, balances, ..
    } = work;
    walk(
        &solver.setup,
        &mut trial,
        balances,
        record,
        Manner::Explicit(ROUGHLY),
    )
    .is_ok()
    .then_some(trial)
}

/// Relative closeness of pressures that only start a solution.
const ROUGHLY: f64 = 1e-3;
/// Logarithmic width of a bracket of the flow that Newton starts well from.
const WIDE: f64 = 3e-2;
/// The same where nothing else helps.
const NARROW: f64 = 1e-9;

/// Widenings of the bracket by a factor of 1.35 each way: from a 150th to the 150-fold of the start.
const WIDENINGS: i32 = 17;
/// Logarithmic width of one widening.
const WIDENING: f64 = 0.3;

/// Brackets the flow to a logarithmic width: an explicit walk at each flow finds all other values,
/// and what the engine swallows falls against the flow, because every pressure falls with it.
fn bracket(solver: &mut Solver, near: &Trial, width: f64) -> Result<Trial, MatchError> {
    let (setup, work) = (&solver.setup, &mut solver.work);
    work.seen = None;
    let record = &mut work.record;
    let mut trial = *near;
    prepare(&mut trial);
    let start = near.x[0];
    let manner = Manner::Explicit(0.01 * width.min(1e-2));
    let mut at = |ln_flow: f64, trial: &mut Trial| {
        trial.x[0] = ln_flow;
        let mut balances: Balances = [0.0; MAX_UNKNOWNS];
        match walk(setup, trial, &mut balances, record, manner) {
            Ok(()) => balances[0],
            Err(Snag::TooMuch) => -1.0,
            Err(Snag::TooLittle) => 1e3,
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

/// A regulated manifold is not found on the way of an explicit walk: the way starts shut, and is
/// opened by what the solution then shows. A gate that holds starts as it stands.
fn prepare(trial: &mut Trial) {
    trial.ways = [Way::Shut; MOST];
    for (gate, held) in trial.gates.iter_mut().zip(trial.held) {
        if *gate == Gate::Holding && held {
            *gate = Gate::Fixed;
        }
    }
}
