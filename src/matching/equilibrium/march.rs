//! The march: steps along a shaft's climb with all other balances solved, on which its excess power
//! changes sign.

use super::shaft::Shaft;
use super::step::{MarchStep, STEP_AT_THE_LIMIT, step_at};
use super::turning_point::add_turning_point;
use crate::air_path::SuperchargerKind;
use crate::matching::equations::{Equations, Workspace};
use crate::matching::error::MatchError;
use crate::matching::evaluate::{GivenValues, evaluate};
use crate::matching::setup::Setup;
use crate::matching::variables::{BypassMode, Trial};

/// Steps over the range of a climb.
const STEPS: u32 = 32;
/// As many where several turbines stand in series and each step costs a march of the next.
const STEPS_IN_SERIES: u32 = 24;
/// Evaluations of a step up to which the next may be twice as long: the climb is nearly straight.
const EASY: usize = 4;
/// Evaluations of a step from which the places on maps of the next are worth a look of their own: at
/// low speed they bend most.
const HARD: usize = 5;
/// How often a step that cannot be solved is halved before the march ends.
const HALVINGS: u32 = 4;
/// Looks near the limit where an equilibrium lies near it.
const LIMIT_LOOKS: usize = 3;

/// Where a march ends, if it can be solved so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    /// One step beyond the boost limit.
    Limit,
    /// At the first fall of the excess through zero.
    FirstFall,
    /// At the end of the range.
    End,
}

/// Marches from rest with the gate at a fixed share, as far as the steps can be solved.
/// Where the excess comes close to zero and turns, the turning point is looked at too.
pub(super) fn march(
    shaft: &mut Shaft,
    start: &Trial,
    share: f64,
    until: Until,
) -> Result<Vec<MarchStep>, MatchError> {
    let (from, to) = shaft.range();
    let in_series = shaft.equations.setup.driven.len() > 1;
    let count = if in_series { STEPS_IN_SERIES } else { STEPS };
    let width = (to - from) / f64::from(count);
    let mut steps: Vec<MarchStep> = Vec::with_capacity(64);
    let mut trial = *start;
    if let Some(gate) = shaft.driven().gate {
        trial.x[gate] = share;
    }
    let (mut at, mut halved) = (from, 0);
    while at <= to + 0.5 * width {
        let is_hard = shaft.equations.work.evaluations > HARD;
        let mut ahead = extrapolated(&steps, at).unwrap_or(trial);
        foresee_bypasses(&shaft.equations.setup, &mut ahead);
        if is_hard && shaft.driven().has_map {
            ahead.x[shaft.driven().climb] = at;
            find_places(shaft.equations, &mut ahead);
        }
        match step_at(shaft, at, &ahead) {
            Ok(step) => {
                trial = step.trial;
                steps.push(step);
            }
            Err(fault) if steps.is_empty() => return Err(fault),
            // The end of what can be solved is closed in on.
            Err(_) if halved < HALVINGS => {
                let last = steps[steps.len() - 1].at;
                halved += 1;
                at = last + 0.5 * (at - last);
                continue;
            }
            Err(_) => break,
        }
        add_turning_point(shaft, &mut steps);
        let [.., before, last] = *steps.as_slice() else {
            at += width;
            continue;
        };
        if until == Until::FirstFall && before.excess > 0.0 && last.excess <= 0.0 {
            break;
        }
        if until == Until::Limit && last.beyond > STEP_AT_THE_LIMIT {
            look_near_limit(shaft, &mut steps);
            break;
        }
        if halved >= HALVINGS {
            break;
        }
        // Once the end was met, it is closed in on from below too.
        halved += u32::from(halved > 0);
        let is_easy = halved == 0 && !in_series && shaft.equations.work.evaluations <= EASY;
        let stride = if is_easy {
            2.0
        } else {
            0.5_f64.powi(halved.cast_signed())
        };
        at += width * stride;
    }
    Ok(steps)
}

/// The trial that the last steps point to: a parabola through three that are alike, a line through
/// two, else the last itself.
fn extrapolated(steps: &[MarchStep], at: f64) -> Option<Trial> {
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

/// Where both the limit and an equilibrium lie between the last two steps, looks near the limit, so that
/// it is clear which comes first.
fn look_near_limit(shaft: &mut Shaft, steps: &mut Vec<MarchStep>) {
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
        let Ok(step) = step_at(shaft, at, &low.trial) else {
            return;
        };
        steps.insert(high, step);
    }
}

/// Opens the bypass of a displacement machine whose pressure ratio is foreseen to fall below 1.
fn foresee_bypasses(setup: &Setup, ahead: &mut Trial) {
    for (belt, described) in setup.belts.iter().enumerate() {
        let can_open = setup.supercharger(described).is_some_and(|stage| {
            let is_displacement = matches!(stage.kind, SuperchargerKind::Displacement(_));
            is_displacement && stage.bypass.open_drop().is_some()
        });
        let is_below_one = ahead.x[described.variable] < 0.0;
        if can_open && is_below_one && ahead.bypasses[belt] == BypassMode::Shut {
            ahead.bypasses[belt] = BypassMode::Open;
        }
    }
}

/// Lets the places on maps follow from the flow.
fn find_places(equations: &mut Equations, ahead: &mut Trial) {
    let Workspace {
        record, balances, ..
    } = &mut equations.work;
    let mut placed = *ahead;
    let given = evaluate(
        &equations.setup,
        &mut placed,
        balances,
        record,
        GivenValues::AllButPlaces,
    );
    equations.work.evaluated = None;
    if given.is_ok() {
        *ahead = placed;
    }
}
