//! Steps along a climb, and the changes of sign between them.

use super::{STEP_AT_THE_LIMIT, beyond, climb, excess, range, rest};
use crate::air_path::SuperchargerKind;
use crate::matching::error::MatchError;
use crate::matching::settle::{LOOSE, settle};
use crate::matching::setup::Setup;
use crate::matching::solver::{PowerPoint, Solver, Work};
use crate::matching::variables::{Gate, Trial, Way};
use crate::matching::walk::{Manner, walk};
use crate::numeric::crossing::{Crossing, crossings};

/// Steps of the climb over its range.
const STEPS: u32 = 32;
/// Steps of the climb where several turbines stand in series and each step costs a climb.
const STEPS_IN_SERIES: u32 = 24;
/// Evaluations of a step up to which the next may be twice as long: the climb is nearly straight.
const EASY: usize = 4;
/// Evaluations of a step from which the places on maps of the next are worth a look of their own: at
/// low speed they bend most.
const HARD: usize = 5;
/// How often a step that cannot be settled is halved before the climb counts as ended.
const HALVINGS: u32 = 4;
/// Looks at the limit where a balance lies near it.
const LIMIT_LOOKS: usize = 3;
/// Most looks for a turning point.
const TURNS: usize = 10;

/// One step of a climb.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    /// Value of the climb.
    pub at: f64,
    /// Turbine power less compressor power, W.
    pub excess: f64,
    /// Boost beyond its limit, relative; below 0 without gate.
    pub beyond: f64,
    /// All values there.
    pub trial: Trial,
}

/// Every change of sign of the excess.
pub(super) fn balances_of(steps: &[Step]) -> Vec<Crossing> {
    crossings(steps.iter().map(|step| (step.at, step.excess)))
}

/// Where the steps of a climb end, if they can be settled so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    /// One step beyond the boost limit.
    Limit,
    /// At the first fall of the excess through zero.
    FirstFall,
    /// At the end of the range.
    End,
}

/// Settles every step of the climb with the gate at a fixed share, as far as it can be settled.
/// Where the excess comes close to zero and turns, the turning point is looked at too.
pub(super) fn scan(
    solver: &mut Solver,
    turbine: usize,
    start: &Trial,
    share: f64,
    until: Until,
) -> Result<Vec<Step>, MatchError> {
    let (from, to) = range(&solver.setup, turbine);
    let in_series = solver.setup.driven.len() > 1;
    let count = if in_series { STEPS_IN_SERIES } else { STEPS };
    let width = (to - from) / f64::from(count);
    let mut steps: Vec<Step> = Vec::with_capacity(64);
    let mut trial = *start;
    if let Some(gate) = solver.setup.driven[turbine].gate {
        trial.x[gate] = share;
    }
    let (mut at, mut halved) = (from, 0);
    while at <= to + 0.5 * width {
        let is_hard = solver.work.evaluations > HARD;
        let mut ahead = extrapolated(&steps, at).unwrap_or(trial);
        foresee_ways(&solver.setup, &mut ahead);
        if is_hard && solver.setup.driven[turbine].has_map {
            ahead.x[solver.setup.driven[turbine].climb] = at;
            place(solver, &mut ahead);
        }
        match step_at(solver, turbine, at, &ahead) {
            Ok(step) => {
                trial = step.trial;
                steps.push(step);
            }
            Err(fault) if steps.is_empty() => return Err(fault),
            // The end of what can be settled is closed in on.
            Err(_) if halved < HALVINGS => {
                let last = steps[steps.len() - 1].at;
                halved += 1;
                at = last + 0.5 * (at - last);
                continue;
            }
            Err(_) => break,
        }
        turn(solver, turbine, &mut steps);
        let [.., before, last] = *steps.as_slice() else {
            at += width;
            continue;
        };
        if until == Until::FirstFall && before.excess > 0.0 && last.excess <= 0.0 {
            break;
        }
        if until == Until::Limit && last.beyond > STEP_AT_THE_LIMIT {
            near_the_limit(solver, turbine, &mut steps);
            break;
        }
        if halved >= HALVINGS {
            break;
        }
        // Once the end was met, it is closed in on from below too.
        halved += u32::from(halved > 0);
        let is_easy = halved == 0 && !in_series && solver.work.evaluations <= EASY;
        let stride = if is_easy {
            2.0
        } else {
            0.5_f64.powi(halved.cast_signed())
        };
        at += width * stride;
    }
    Ok(steps)
}

/// Equal steps from rest, each settled from the one before.
pub(in crate::matching) fn power_curve(
    solver: &mut Solver,
    count: u32,
) -> Result<Vec<PowerPoint>, MatchError> {
    let mut curve = Vec::new();
    if solver.setup.driven.is_empty() || count == 0 {
        return Ok(curve);
    }
    let (from, to) = range(&solver.setup, 0);
    let mut trial = rest(solver)?;
    for k in 0..=count {
        let at = from + (to - from) * f64::from(k) / f64::from(count);
        match step_at(solver, 0, at, &trial) {
            Ok(step) => {
                trial = step.trial;
                curve.push(PowerPoint {
                    climb: at,
                    excess: step.excess,
                    beyond_limit: step.beyond,
                });
            }
            Err(fault) if curve.is_empty() => return Err(fault),
            Err(_) => break,
        }
        if curve[curve.len() - 1].beyond_limit > STEP_AT_THE_LIMIT {
            break;
        }
    }
    Ok(curve)
}

/// The trial that the last steps point to: a parabola through three that are alike, a line through
/// two, else the last itself.
fn extrapolated(steps: &[Step], at: f64) -> Option<Trial> {
    match steps {
        [.., a, b, c] if a.trial.is_like(&c.trial) && b.trial.is_like(&c.trial) => {
            let (da, db, dc) = (at - a.at, at - b.at, at - c.at);
            let (ab, bc, ac) = (b.at - a.at, c.at - b.at, c.at - a.at);
            let (wa, wb, wc) = (
                db * dc / (ab * ac),
                -da * dc / (ab * bc),
                da * db / (ac * bc),
            );
            let mut ahead = c.trial;
            for (i, x) in ahead.x.iter_mut().enumerate() {
                *x = wa * a.trial.x[i] + wb * b.trial.x[i] + wc * c.trial.x[i];
            }
            Some(ahead)
        }
        [.., a, b] if a.trial.is_like(&b.trial) => {
            Some(a.trial.towards(&b.trial, (at - a.at) / (b.at - a.at)))
        }
        _ => None,
    }
}

/// Where both the limit and a balance lie between the last two steps, looks near the limit, so that
/// it is clear which comes first.
fn near_the_limit(solver: &mut Solver, turbine: usize, steps: &mut Vec<Step>) {
    for _ in 0..LIMIT_LOOKS {
        let Some(high) = steps.iter().position(|s| s.beyond > STEP_AT_THE_LIMIT) else {
            return;
        };
        if high == 0 || steps[high - 1].excess * steps[high].excess > 0.0 {
            return;
        }
        let (low, high_step) = (steps[high - 1], steps[high]);
        let share = (low.beyond / (low.beyond - high_step.beyond)).clamp(0.05, 0.95);
        let at = low.at + share * (high_step.at - low.at);
        let Ok(step) = step_at(solver, turbine, at, &low.trial) else {
            return;
        };
        steps.insert(high, step);
    }
}

/// Opens the bypass of a displacement machine whose pressure ratio is foreseen to fall below 1.
fn foresee_ways(setup: &Setup, ahead: &mut Trial) {
    for (belt, described) in setup.belts.iter().enumerate() {
        let can_open = setup.supercharger(described).is_some_and(|stage| {
            let is_displacement = matches!(stage.kind, SuperchargerKind::Displacement(_));
            is_displacement && stage.bypass.open_drop().is_some()
        });
        let is_below_one = ahead.x[described.variable] < 0.0;
        if can_open && is_below_one && ahead.ways[belt] == Way::Shut {
            ahead.ways[belt] = Way::Open;
        }
    }
}

/// Lets the places on maps follow from the flow.
fn place(solver: &mut Solver, ahead: &mut Trial) {
    let Work {
        record, balances, ..
    } = &mut solver.work;
    let mut placed = *ahead;
    let walked = walk(
        &solver.setup,
        &mut placed,
        balances,
        record,
        Manner::Placing,
    );
    solver.work.seen = None;
    if walked.is_ok() {
        *ahead = placed;
    }
}

/// Puts in the turning point near the last but one step, if the excess comes to zero or beyond it
/// there.
fn turn(solver: &mut Solver, turbine: usize, steps: &mut Vec<Step>) {
    if let [.., a, b, c] = *steps.as_slice()
        && let Some(turned) = turning_point(solver, turbine, &a, &b, &c)
    {
        let after = if turned.at < b.at { 2 } else { 1 };
        steps.insert(steps.len() - after, turned);
    }
}

/// A step of the other sign between three whose excess has one sign and is smallest at the middle
/// one: down the parabola through them, and where that leads nowhere by the larger half.
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
    let (mut low, mut best, mut high) = (*a, *b, *c);
    let enough = 1e-3 * (c.at - a.at);
    for _ in 0..TURNS {
        let (left, right) = (low.at - best.at, high.at - best.at);
        if right - left < enough {
            return None;
        }
        let halved = if -left > right {
            0.5 * left
        } else {
            0.5 * right
        };
        let (e0, e1) = (low.excess - best.excess, high.excess - best.excess);
        let bottom = 2.0 * (right * e0 - left * e1);
        let dip = (right * right * e0 - left * left * e1) / bottom;
        let usable = dip > 0.9 * left && dip < 0.9 * right && dip.abs() > 0.1 * enough;
        let at = best.at + if usable { dip } else { halved };
        let step = step_at(solver, turbine, at, &best.trial).ok()?;
        if step.excess * b.excess <= 0.0 {
            return Some(step);
        }
        let (nearer, farther) = if step.excess.abs() < best.excess.abs() {
            (step, best)
        } else {
            (best, step)
        };
        if farther.at < nearer.at {
            low = farther;
        } else {
            high = farther;
        }
        best = nearer;
    }
    None
}

/// Settles everything at one value of a climb.
pub(super) fn step_at(
    solver: &mut Solver,
    turbine: usize,
    at: f64,
    near: &Trial,
) -> Result<Step, MatchError> {
    let mut trial = *near;
    trial.x[solver.setup.driven[turbine].climb] = at;
    trial.held[turbine] = true;
    let later = turbine + 1..solver.setup.driven.len();
    for later in later.clone() {
        let driven = solver.setup.driven[later];
        trial.held[later] = true;
        trial.gates[later] = Gate::Fixed;
        trial.x[driven.climb] = range(&solver.setup, later).0;
        if let Some(gate) = driven.gate {
            trial.x[gate] = 0.0;
        }
    }
    let mut settled = settle(solver, &trial, LOOSE)?;
    if !later.is_empty() {
        settled = climb(solver, turbine + 1, &settled)?.trial;
    }
    Ok(Step {
        at,
        excess: excess(solver, turbine, &settled),
        beyond: beyond(solver, turbine, &settled).unwrap_or(-1.0),
        trial: settled,
    })
}
