//! What a small step of each input does to a match, the most important inputs first.
//!
//! The step is +1 standard uncertainty where the build states one, else +1 % of the value, and +1 K
//! for a temperature (1 % of one would hang on the scale's zero). The change is the central
//! difference of both sides; where a side is not permitted, has no match, or stands in another
//! regime, the change is that of the one step itself, and the row says so.

use rayon::prelude::*;

use super::answer::{ANSWERS, Answer, Answers, MatchAnswers, answers_near};
use super::regime::Change;
use crate::input::{By, Input, Shift};
use crate::matching::{Installation, MatchError};
use crate::quantity::Kind;

/// Reads the build with inputs moved; `None` where a moved value makes no sense.
pub type ReadShifted<'r> = dyn Fn(&[Shift]) -> Option<Installation> + 'r;

/// How many inputs are shown.
pub const MOST_ROWS: usize = 10;
/// Two sides that differ by a larger share of the larger one are said to bend.
const BENDS: f64 = 0.10;

/// The step of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InputStep {
    /// One standard uncertainty, as stated.
    Uncertainty,
    /// 1 % of the value.
    PerCent,
    /// 1 K.
    Kelvin,
}

impl InputStep {
    /// The step that an input is moved by; none where 1 % of it is nothing.
    fn of(input: &Input) -> Option<Self> {
        let temperature = matches!(input.kind, Kind::Temperature | Kind::TemperatureDifference);
        match (input.is_uncertain, temperature) {
            (true, _) => Some(Self::Uncertainty),
            (_, true) => Some(Self::Kelvin),
            _ if input.is_zero => None,
            _ => Some(Self::PerCent),
        }
    }

    const fn by(self, sign: f64) -> By {
        match self {
            Self::Uncertainty => By::Uncertainties(sign),
            Self::PerCent => By::Share(0.01 * sign),
            Self::Kelvin => By::Difference(sign),
        }
    }
}

/// What a row has to say beside its numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum RowRemark {
    /// This side leaves what the input permits.
    NotPermitted {
        /// Whether it is the side upward.
        up: bool,
    },
    /// This side has no match.
    NoMatch {
        /// Whether it is the side upward.
        up: bool,
        /// Why.
        fault: MatchError,
    },
    /// This side stands in another regime.
    Regime {
        /// Whether it is the side upward.
        up: bool,
        /// What changes.
        changes: Vec<Change>,
    },
    /// The two sides of an answer differ by more than 10 % of the larger.
    Bends(Answer),
}

/// One input.
#[derive(Debug, Clone, PartialEq)]
pub struct SensitivityRow {
    /// Which of the inputs.
    pub input: usize,
    /// Its step.
    pub step: InputStep,
    /// Whether the changes are those of a step upward.
    pub up: bool,
    /// Change of each answer, SI.
    pub changes: Answers,
    /// The largest change in the units of [`scale`]; none where the step has no match.
    pub importance: Option<f64>,
    /// What has to be said.
    pub remarks: Vec<RowRemark>,
}

/// What counts as one unit of importance: 1 % of a flow, power or absolute pressure, 10 K of exhaust
/// temperature, one point of surge margin. Common practice: about what a dynamometer run resolves.
pub fn scale(answer: Answer, value: f64) -> f64 {
    match answer {
        Answer::ExhaustTemperature => 10.0,
        Answer::SurgeMargin => 0.01,
        _ => 0.01 * value.abs(),
    }
}

/// Largest change of answers over their scale. Boost is the manifold pressure again.
fn importance(changes: &Answers, now: &Answers) -> f64 {
    let each = Answer::ALL.iter().zip(changes.iter().zip(now));
    each.filter(|(answer, _)| **answer != Answer::Boost)
        .filter_map(|(answer, (change, now))| {
            let size = scale(*answer, (*now)?);
            (size > 0.0).then_some(change.as_ref()?.abs() / size)
        })
        .fold(0.0, f64::max)
}

/// One side of a step.
enum Tried {
    NotPermitted,
    Solved(Box<Result<MatchAnswers, MatchError>>),
}

/// The rows of the most important inputs at a speed in rpm where the match is known.
pub fn rows(
    read: &ReadShifted<'_>,
    inputs: &[Input],
    rpm: f64,
    now: &MatchAnswers,
) -> Vec<SensitivityRow> {
    let mut steps = Vec::new();
    for (place, input) in inputs.iter().enumerate() {
        let Some(step) = InputStep::of(input) else {
            continue;
        };
        let moved = [1.0, -1.0].map(|sign| {
            read(&[Shift {
                key: input.key.clone(),
                by: step.by(sign),
            }])
        });
        steps.push((place, step, moved));
    }
    let tried = |moved: Option<Installation>| match moved {
        None => Tried::NotPermitted,
        Some(installation) => Tried::Solved(Box::new(answers_near(&installation, rpm, &now.place))),
    };
    let mut rows: Vec<SensitivityRow> = steps
        .into_par_iter()
        .filter_map(|(input, step, moved)| row(input, step, &moved.map(tried), now))
        .collect();
    let rank = |row: &SensitivityRow| row.importance.unwrap_or(f64::INFINITY);
    rows.sort_by(|a, b| rank(b).total_cmp(&rank(a)).then(a.input.cmp(&b.input)));
    rows.truncate(MOST_ROWS);
    rows
}

/// A change below this importance is what the solver leaves (balances to 1e-9), no effect.
const NO_EFFECT: f64 = 1e-6;

/// The row of one input; none where the input moves nothing or neither side is permitted.
fn row(
    input: usize,
    step: InputStep,
    tried: &[Tried; 2],
    now: &MatchAnswers,
) -> Option<SensitivityRow> {
    let mut remarks = Vec::new();
    let mut same = [None, None];
    let mut any = [None, None];
    for (i, side) in tried.iter().enumerate() {
        let up = i == 0;
        let solved = match side {
            Tried::NotPermitted => {
                remarks.push(RowRemark::NotPermitted { up });
                continue;
            }
            Tried::Solved(solved) => solved.as_ref(),
        };
        match solved {
            Err(fault) => remarks.push(RowRemark::NoMatch { up, fault: *fault }),
            Ok(looked) => {
                any[i] = Some(&looked.answers);
                let changes = now.regime.changes_to(&looked.regime);
                if changes.is_empty() {
                    same[i] = Some(&looked.answers);
                } else {
                    remarks.push(RowRemark::Regime { up, changes });
                }
            }
        }
    }
    let (changes, up) = match (same, &tried[0], any) {
        ([Some(above), Some(below)], ..) => {
            remarks.extend(bends(above, below, &now.answers).map(RowRemark::Bends));
            (Some(apart(above, below, 0.5)), true)
        }
        (_, Tried::NotPermitted, [_, Some(below)]) => {
            (Some(apart(below, &now.answers, 1.0)), false)
        }
        (_, Tried::NotPermitted, _) => return None,
        (.., [Some(above), _]) => (Some(apart(above, &now.answers, 1.0)), true),
        _ => (None, true),
    };
    let importance = changes
        .as_ref()
        .map(|changes| importance(changes, &now.answers));
    let telling = |remark: &RowRemark| !matches!(remark, RowRemark::NotPermitted { .. });
    if importance.is_some_and(|size| size < NO_EFFECT) && !remarks.iter().any(telling) {
        return None;
    }
    Some(SensitivityRow {
        input,
        step,
        up,
        changes: changes.unwrap_or([None; ANSWERS]),
        importance,
        remarks,
    })
}

/// `factor` × (one − other) of every answer that both have.
fn apart(one: &Answers, other: &Answers, factor: f64) -> Answers {
    let mut changes = [None; ANSWERS];
    for (change, pair) in changes.iter_mut().zip(one.iter().zip(other)) {
        if let (Some(one), Some(other)) = pair {
            *change = Some(factor * (one - other));
        }
    }
    changes
}

/// Importance below which a bend is not worth a word.
const LITTLE: f64 = 0.05;

/// The first answer whose two sides differ.
fn bends(above: &Answers, below: &Answers, now: &Answers) -> Option<Answer> {
    let up = apart(above, now, 1.0);
    let down = apart(now, below, 1.0);
    Answer::ALL.into_iter().enumerate().find_map(|(i, answer)| {
        let (up, down) = (up[i]?, down[i]?);
        let larger = up.abs().max(down.abs());
        let counts = larger > LITTLE * scale(answer, now[i]?);
        (counts && (up - down).abs() > BENDS * larger).then_some(answer)
    })
}
